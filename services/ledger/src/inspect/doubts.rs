//! What the prediction makes doubtful in an inspection.

use super::{
    beside::{Compared, Observed, line_sd},
    findings::{error, figure, warning},
    slips::{is_absurd, slip},
};
use crate::{Explanation, Inspection, ReadingComparison};
use ringland_host::contract::{Card, Finding};

/// Slips of units, growth backwards, growth below the error.
pub(super) fn beside_prediction(
    card: &Card,
    inspection: &Inspection,
    observed: &Observed,
    comparisons: &[ReadingComparison],
    findings: &mut Vec<Finding>,
) {
    if !observed.failure.is_empty() {
        findings.push(warning(
            "inspection",
            &observed.failure,
            "a model that can be compared with it",
            "it is kept; it moves nothing until the model can",
        ));
    }
    for (i, line) in inspection.readings.iter().enumerate() {
        let field = card.readings.iter().find(|r| r.name == line.reading);
        let compared = observed.compared.iter().find(|c| c.reading == line.reading);
        let Some((field, compared)) = field.zip(compared) else {
            continue;
        };
        let sd = line_sd(field, line);
        let far = libm::fabs(line.corrected_value - compared.predicted) > 5.0 * sd;
        let ratio = line.corrected_value / compared.predicted;
        if !far || libm::fabs(compared.predicted) < 3.0 * sd {
            continue;
        }
        let place = format!("inspection.readings[{i}].value");
        let expected = format!("about {} {}", figure(compared.predicted), field.unit);
        // What comes with an explanation is no slip: ruined parts read far off.
        let explained = line.explanation.moves_condition();
        let (far_off, remedy) = match slip(ratio) {
            Some(slip) => (
                slip.absurd,
                format!(
                    "{} times what is expected: {}?",
                    figure(slip.factor),
                    slip.words
                ),
            ),
            None if ratio > 1.0 && is_absurd(ratio) => (
                true,
                "no wear is that far off: check value and unit, or say what happened to the part"
                    .into(),
            ),
            None => continue,
        };
        findings.push(if far_off && !explained {
            error(place, line.value, &expected, &remedy)
        } else {
            warning(place, line.value, &expected, &remedy)
        });
    }
    for comparison in comparisons {
        doubts(comparison, observed, findings);
    }
}

fn doubts(comparison: &ReadingComparison, observed: &Observed, findings: &mut Vec<Finding>) {
    let place = format!("inspection.{}", comparison.reading);
    let compared = observed
        .compared
        .iter()
        .find(|c| c.reading == comparison.reading && c.explanation == comparison.explanation);
    let untold = |c: &&Compared| {
        !c.unfit.is_empty() && c.comparable && c.explanation != Explanation::Unexplained
    };
    if let Some(compared) = compared.filter(untold) {
        findings.push(warning(
            &place,
            comparison.measured,
            "a reading that tells of the rate",
            &compared.unfit,
        ));
    }
    if comparison.explanation == Explanation::Unexplained {
        findings.push(warning(
            &place,
            format!("{} standard deviations off", figure(comparison.surprise.unwrap_or_default())),
            "within 3 of everything else that is known",
            "explain it (wear, casting shift, abuse, assembly error, instrument bias): it is not learnt before",
        ));
    }
    if comparison.learnt && comparison.weight.is_some_and(|weight| weight < 0.2) {
        findings.push(warning(
            &place,
            format!("weight {}", figure(comparison.weight.unwrap_or_default())),
            "growth beyond the instrument's error",
            "it moves little: the error is large beside the growth",
        ));
    }
}
