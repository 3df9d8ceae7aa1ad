//! What a reading says, in words.

use super::{
    beside::{Compared, Observed},
    findings::figure,
};
use crate::{Explanation, ReadingComparison};
use ringland_host::contract::Card;

/// A surprise beyond so many standard deviations is not learnt before it is explained.
pub(super) const SURPRISE: f64 = 3.0;

/// One reading beside the prediction.
pub(super) fn comparison(
    card: &Card,
    observed: &Observed,
    compared: &Compared,
    surprise: Option<f64>,
) -> ReadingComparison {
    let field = card.readings.iter().find(|r| r.name == compared.reading);
    let (label, unit) = field.map_or_else(
        || (compared.reading.clone(), String::new()),
        |field| (field.label.clone(), field.unit.clone()),
    );
    let prior = compared
        .mechanism
        .as_ref()
        .and_then(|name| card.mechanisms.iter().find(|m| m.name == *name))
        .map(|m| m.rate_ln_sd);
    let weight = prior
        .zip(compared.ln_sd)
        .map(|(prior, sd)| weight(prior, sd));
    let text = text(&label, &unit, compared, weight, surprise);
    ReadingComparison {
        inspection: observed.inspection.clone(),
        reading: compared.reading.clone(),
        label,
        unit,
        lines: i32::try_from(compared.lines).unwrap_or(i32::MAX),
        measured: compared.measured,
        measured_sd: compared.measured_sd,
        worst: compared.worst,
        predicted: compared.predicted,
        limit: compared.limit,
        probability_past_limit: compared.probability_past,
        mechanism: compared.mechanism.clone().unwrap_or_default(),
        ln_rate: compared.ln_rate,
        ln_rate_sd: compared.ln_sd,
        weight,
        surprise,
        explanation: compared.explanation,
        learnt: compared.fit(),
        text,
    }
}

/// Weight of one observation against a prior, both normal in the logarithm of the rate.
pub(super) fn weight(prior_ln_sd: f64, ln_sd: f64) -> f64 {
    let prior = prior_ln_sd * prior_ln_sd;
    let all = prior + ln_sd * ln_sd;
    if all > 0.0 { prior / all } else { 0.0 }
}

fn text(
    label: &str,
    unit: &str,
    compared: &Compared,
    weight: Option<f64>,
    surprise: Option<f64>,
) -> String {
    let lines = if compared.lines > 1 {
        format!("mean of {} lines ", compared.lines)
    } else {
        String::new()
    };
    let found = format!(
        "{label}: {lines}{} {unit} with an error of {}, {} expected at the model's own rate",
        figure(compared.measured),
        figure(compared.measured_sd),
        figure(compared.predicted),
    );
    if compared.off_sd.is_some() && compared.explanation == Explanation::Unexplained {
        let far = surprise.unwrap_or_default();
        return format!("{found}; {}", follows(compared, 0.0, far));
    }
    let Some((ln_rate, weight)) = compared.ln_rate.zip(weight) else {
        let why = match &compared.mechanism {
            Some(_) if !compared.unfit.is_empty() => "; not learnt: ",
            Some(_) => "; not learnt",
            None => "; it informs no rate",
        };
        return format!("{found}{why}{}", compared.unfit);
    };
    let far = surprise.unwrap_or_default();
    let rate = figure(libm::exp(ln_rate));
    format!(
        "{found}, so {rate} times that rate; {}",
        follows(compared, weight, far)
    )
}

/// What follows from a reading that tells of a rate.
fn follows(compared: &Compared, weight: f64, far: f64) -> String {
    match compared.explanation {
        Explanation::Wear if !compared.unfit.is_empty() => {
            format!("not learnt: {}", compared.unfit)
        }
        Explanation::Wear => {
            let small = if weight < 0.2 {
                ", small since its error is large beside the growth"
            } else {
                ""
            };
            let explain = if libm::fabs(far) > SURPRISE {
                format!(
                    "; {} standard deviations from everything else: explain it",
                    figure(far)
                )
            } else {
                String::new()
            };
            format!(
                "weight {} against the model's prior{small}{explain}",
                figure(weight)
            )
        }
        Explanation::Unexplained => format!(
            "{} standard deviations from everything else: not learnt before it is explained (wear, casting shift, \
             abuse, assembly error or instrument bias)",
            figure(far)
        ),
        Explanation::InstrumentBias => {
            "told to be the instrument's bias: no wear is learnt from it".into()
        }
        other => format!(
            "told to be {}: the part is taken as it was measured, at the normal rate from there",
            other.words()
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked example of the trade, computed by hand: predicted 16 um, measured 22 with an error of 3 um, prior spread 0.45:
    /// weight 0.83, multiplier 1.30, new spread 0.185.
    #[test]
    fn a_teardown_weighs_as_worked_by_hand() {
        let (y, prior) = (libm::log(22.0 / 16.0), 0.45);
        let sd = (3.0_f64 / 22.0).hypot(0.15);
        let weight = weight(prior, sd);
        assert!((weight - 0.83).abs() < 0.005, "{weight}");
        assert!((libm::exp(weight * y) - 1.30).abs() < 0.005);
        assert!((prior * (1.0 - weight).sqrt() - 0.185).abs() < 0.0005);
    }

    /// An error of 3 um on a growth of 2 um.
    #[test]
    fn a_reading_below_its_error_weighs_little() {
        let weight = weight(0.45, (3.0_f64 / 2.0).hypot(0.15));
        assert!(weight < 0.09, "{weight}");
    }
}
