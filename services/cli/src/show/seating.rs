//! How far rings are seated: the decision first, then reading by reading.

use super::{finding::findings, prediction::cautions};
use crate::{
    measures::Measure,
    names, numbers,
    out::{Look, heading},
    table::{item, pairs, table},
};
use ringland_proto::v1::{Quantiles, SeatingAssessment, SeatingDecision, SeatingPull};

/// An assessment as text, blow-by in a unit.
pub fn seating(found: &SeatingAssessment, unit: &'static Measure, look: &Look) -> String {
    let mut parts = vec![head(found, unit, look), readings(found, unit, look)];
    let assumed = found
        .assumptions
        .iter()
        .map(|line| item(look, line))
        .collect::<Vec<_>>();
    parts.push(format!(
        "{}\n{}",
        heading("Taken for granted"),
        assumed.join("\n")
    ));
    if !found.findings.is_empty() {
        parts.push(format!(
            "{}\n{}",
            heading("Notes"),
            findings(&found.findings, look)
        ));
    }
    parts.push(cautions(&found.cautions, look));
    parts.join("\n")
}

/// The decision in words.
fn decision(decision: SeatingDecision) -> &'static str {
    match decision {
        SeatingDecision::Unspecified => "",
        SeatingDecision::Stop => "STOP",
        SeatingDecision::OneMorePull => "ONE MORE PULL",
        SeatingDecision::NotSeating => "NOT SEATING",
    }
}

fn head(found: &SeatingAssessment, unit: &'static Measure, look: &Look) -> String {
    let title = if found.component.is_empty() {
        "seating".to_owned()
    } else {
        format!(
            "{}  {}",
            names::id(&found.component),
            found.component_type.replace('_', " ")
        )
    };
    let mut lines = vec![
        (
            "do next",
            format!("{}: {}", decision(found.decision()), found.reason),
        ),
        ("seated", percent(found.seated_share)),
        (
            "to 95 %",
            format!("{} more pulls", plain(found.pulls_to_seated)),
        ),
    ];
    if let Some(end) = found.end_blow_by_m3_s {
        let mut text = flow(&end, unit);
        if let Some(predicted) = found.predicted_end_blow_by_m3_s {
            text += "; the model says ";
            text += &flow(&predicted, unit);
        }
        lines.push(("ends at", text));
    }
    if let Some(end) = found.end_leak_down_fraction {
        lines.push(("ends at", format!("{} leak-down", percent(Some(end)))));
    }
    if let Some(fall) = found.next_fall {
        let (shown, error) = if found.fall_unit == "1" {
            (
                percent(Some(fall)),
                format!("{:.1} %", 100.0 * found.resolution),
            )
        } else {
            let error = numbers::significant(unit.shown_difference(found.resolution), 2);
            (flow(&fall, unit), format!("{error} {}", unit.symbol))
        };
        lines.push((
            "next pull",
            format!("takes off {shown}; two readings differ by {error} by chance"),
        ));
    }
    if let Some(fit) = &found.least_squares {
        let text = format!(
            "from {} to {} (standard error {}) {}, to 1/e in {} pulls",
            numbers::significant(unit.shown(fit.start_m3_s), 3),
            numbers::significant(unit.shown(fit.end_m3_s), 3),
            numbers::significant(unit.shown_difference(fit.end_se_m3_s), 2),
            unit.symbol,
            numbers::significant(fit.scale_pulls, 2)
        );
        lines.push(("least squares", text));
    }
    if let Some(cost) = &found.cost {
        let text = format!(
            "{} events of life so far ({} for each pull; {} events by time)",
            numbers::significant(cost.life_events, 2),
            numbers::significant(cost.life_events_per_pull, 2),
            numbers::significant(cost.events_by_time, 2)
        );
        lines.push(("cost", text));
    }
    format!("{}\n{}", heading(&title), pairs(look, &lines))
}

fn readings(found: &SeatingAssessment, unit: &'static Measure, look: &Look) -> String {
    let leak_down = found
        .pulls
        .iter()
        .any(|pull| pull.leak_down_fraction.is_some());
    let blow_by = found.pulls.iter().any(|pull| pull.blow_by_m3_s.is_some());
    let predicted = found
        .pulls
        .iter()
        .any(|pull| pull.predicted_seated_share.is_some());
    let in_unit = format!(">{}", unit.symbol);
    let mut header = vec![">pull"];
    if blow_by {
        header.extend([in_unit.as_str(), "=fitted, P50 (P05 to P95)"]);
        header.extend(predicted.then_some("=predicted"));
    }
    if leak_down {
        header.extend([">leak-down", "=fitted"]);
        header.extend(predicted.then_some("=predicted"));
    }
    header.push("=seated");
    header.extend(predicted.then_some("=predicted"));
    let row = |pull: &SeatingPull| {
        let flows = |q: &Option<Quantiles>| q.as_ref().map_or("-".into(), |q| flow_number(q, unit));
        let mut cells = vec![numbers::significant(pull.number, 3)];
        if blow_by {
            let read = pull
                .blow_by_m3_s
                .map_or("-".into(), |si| numbers::significant(unit.shown(si), 3));
            cells.extend([read, flows(&pull.fitted_blow_by_m3_s)]);
            cells.extend(predicted.then(|| flows(&pull.predicted_blow_by_m3_s)));
        }
        if leak_down {
            let read = pull
                .leak_down_fraction
                .map_or("-".into(), |share| format!("{:.1} %", 100.0 * share));
            cells.extend([read, percent(pull.fitted_leak_down_fraction)]);
            cells.extend(predicted.then(|| percent(pull.predicted_leak_down_fraction)));
        }
        cells.push(percent(pull.seated_share));
        cells.extend(predicted.then(|| percent(pull.predicted_seated_share)));
        cells
    };
    format!(
        "{}\n{}",
        heading("Readings"),
        table(look, &header, found.pulls.iter().map(row).collect())
    )
}

fn flow(q: &Quantiles, unit: &'static Measure) -> String {
    format!("{} {}", flow_number(q, unit), unit.symbol)
}

fn flow_number(q: &Quantiles, unit: &'static Measure) -> String {
    let [p05, p50, p95] = [q.p05, q.p50, q.p95].map(|si| unit.shown(si));
    numbers::spread(&Quantiles { p05, p50, p95 }, [false; 3]).median_first()
}

fn plain(q: Option<Quantiles>) -> String {
    numbers::spread(&q.unwrap_or_default(), [false; 3]).median_first()
}

/// A share in percent.
pub(super) fn percent(q: Option<Quantiles>) -> String {
    let Some(q) = q else { return "-".into() };
    let [p05, p50, p95] = [q.p05, q.p50, q.p95].map(|share| 100.0 * share);
    format!(
        "{} %",
        numbers::spread(&Quantiles { p05, p50, p95 }, [false; 3]).median_first()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::{System, find};

    #[test]
    fn the_decision_comes_first_and_every_reading_has_a_row() {
        let q = |p50: f64| {
            Some(Quantiles {
                p05: 0.9 * p50,
                p50,
                p95: 1.1 * p50,
            })
        };
        let flow = 1.5e-3;
        let found = SeatingAssessment {
            decision: SeatingDecision::OneMorePull.into(),
            reason: "half seated".into(),
            seated_share: q(0.5),
            pulls_to_seated: q(2.0),
            end_blow_by_m3_s: q(flow),
            next_fall: q(1e-4),
            resolution: 4e-5,
            fall_unit: "m3/s".into(),
            pulls: vec![
                SeatingPull {
                    blow_by_m3_s: Some(2.0 * flow),
                    fitted_blow_by_m3_s: q(2.0 * flow),
                    seated_share: q(0.1),
                    ..Default::default()
                },
                SeatingPull {
                    number: 1.0,
                    blow_by_m3_s: Some(flow),
                    seated_share: q(0.5),
                    ..Default::default()
                },
            ],
            ..Default::default()
        };
        let look = Look {
            system: System::Shop,
            width: 120,
        };
        let text = seating(&found, find("L/min").unwrap(), &look);
        for part in [
            "ONE MORE PULL: half seated",
            "180",
            "90.0",
            "2.4 L/min by chance",
            "Cautions",
        ] {
            assert!(text.contains(part), "{part} is missing from\n{text}");
        }
        assert!(
            !text.contains("leak-down") && !text.contains("predicted"),
            "{text}"
        );
    }
}
