//! What is advised, in the units of the sheet. The ledger's own sentence is in SI; where it holds a quantity with a unit and the
//! prediction has that quantity in structured form, the sheet writes the sentence anew, with the spread.

use super::words::{self, Units};
use crate::{numbers, out::Look};
use ringland_proto::v1::{Action, Advice, Prediction, ReadingPrediction};

/// From this probability on a reading counts as past its limit, as in the ledger's advice.
const PAST_LIMIT: f64 = 0.5;

/// The advice of a prediction as a sentence; empty when there is none.
pub(super) fn sentence(part: &Prediction, look: &Look) -> String {
    let Some(advice) = part.advice.as_ref() else {
        return String::new();
    };
    match past_limit(part, advice) {
        Some((reading, probability)) => past(reading, probability, advice.action(), look),
        None => advice.text.clone(),
    }
}

/// The advised reading with its probability, when it is past its limit by prediction. A finding at the part speaks for itself.
fn past_limit<'a>(part: &'a Prediction, advice: &Advice) -> Option<(&'a ReadingPrediction, f64)> {
    let decides = matches!(advice.action(), Action::Stop | Action::Replace);
    if !decides || advice.reading.is_empty() || !part.overruled_by.is_empty() {
        return None;
    }
    let reading = part
        .readings
        .iter()
        .find(|each| each.reading == advice.reading)?;
    let probability = reading.probability_past_limit?;
    let known = reading.limit.is_some() && reading.now.is_some();
    (known && probability > PAST_LIMIT).then_some((reading, probability))
}

fn past(reading: &ReadingPrediction, probability: f64, action: Action, look: &Look) -> String {
    let now = reading.now.unwrap_or_default();
    let what = match action {
        Action::Stop => "do not run before it has been measured or replaced",
        _ => "replace it",
    };
    format!(
        "{}: {} by prediction, past its limit ({}) with {}: {what}.",
        reading.label,
        in_line(&Units::of_reading(reading, look).spread(&now, reading.instrument_sd)),
        in_line(&words::limit(reading, look)),
        numbers::percent(probability),
    )
}

/// Shop units and SI one after the other instead of one above the other.
fn in_line(text: &str) -> String {
    text.replace('\n', " = ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::System;
    use ringland_proto::v1::{LimitSide, OverrulingFinding, Quantiles};

    fn prediction(action: Action, probability: f64) -> Prediction {
        let gap = ReadingPrediction {
            reading: "end_gap_m".into(),
            label: "end gap".into(),
            unit: "m".into(),
            now: Some(Quantiles {
                p05: 5.4e-4,
                p50: 5.8e-4,
                p95: 6.3e-4,
            }),
            limit: Some(5.5e-4),
            limit_side: LimitSide::Above.into(),
            probability_past_limit: Some(probability),
            ..Default::default()
        };
        Prediction {
            readings: vec![gap],
            advice: Some(Advice {
                action: action.into(),
                reading: "end_gap_m".into(),
                text: "end gap is 0.000580 m by prediction".into(),
                ..Default::default()
            }),
            ..Default::default()
        }
    }

    fn look(system: System) -> Look {
        Look { system, width: 100 }
    }

    #[test]
    fn a_reading_past_its_limit_stands_in_the_units_of_the_sheet_with_its_spread() {
        let part = prediction(Action::Replace, 0.93);
        assert_eq!(
            sentence(&part, &look(System::Shop)),
            "end gap: 22.8 (21.3 to 24.8) thou = 0.580 (0.540 to 0.630) mm by prediction, \
             past its limit (at most 21.7 thou = 0.550 mm) with 93 %: replace it."
        );
        assert_eq!(
            sentence(&part, &look(System::Si)),
            "end gap: 0.580 (0.540 to 0.630) mm by prediction, past its limit (at most 0.550 mm) with 93 %: replace it."
        );
        let stop = prediction(Action::Stop, 0.93);
        assert!(sentence(&stop, &look(System::Si)).contains("do not run before"));
    }

    /// What is not about that reading, and what was found at the part, stays in the ledger's words.
    #[test]
    fn every_other_advice_is_the_ledgers() {
        let shop = look(System::Shop);
        let told = "end gap is 0.000580 m by prediction";
        assert_eq!(sentence(&prediction(Action::Measure, 0.93), &shop), told);
        assert_eq!(sentence(&prediction(Action::Replace, 0.4), &shop), told);
        let overruled = Prediction {
            overruled_by: vec![OverrulingFinding::default()],
            ..prediction(Action::Stop, 0.93)
        };
        assert_eq!(sentence(&overruled, &shop), told);
        assert_eq!(sentence(&Prediction::default(), &shop), "");
    }
}
