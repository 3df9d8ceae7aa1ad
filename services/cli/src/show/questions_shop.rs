//! Answers to questions about several units: a move, a spare.

use super::{
    bounds::{life, number, quantiles, signed},
    questions::{ending, sentences},
};
use crate::{
    names, numbers,
    out::{Look, alarm, heading},
    table::{item, paragraph, table},
    times,
};
use ringland_proto::v1::{EarliestLimit, PartMove, SpareAnswer, UnitOutlook};

/// Whether a part can move.
pub fn part_move(answer: &PartMove, look: &Look) -> String {
    let title = format!(
        "{} to {} {}",
        names::id(&answer.component),
        answer.to.as_ref().map_or("", |to| names::id(&to.unit)),
        answer.position
    );
    let verdict = paragraph(look, &answer.verdict);
    let verdict = if answer.refused {
        alarm(&verdict)
    } else {
        verdict
    };
    let mut parts = vec![heading(title.trim_end()), verdict];
    let obstacles = answer.obstacles.iter().map(|obstacle| {
        let word = if obstacle.refuses { "no" } else { "know" };
        item(look, &format!("{word}: {}", obstacle.text))
    });
    parts.extend(obstacles);
    let units = answer.to.iter().chain(&answer.from);
    let header = [
        "unit",
        ">risk now",
        ">with the move",
        ">earliest limit now, events",
        ">with the move",
        ">later by",
    ];
    parts.push(table(look, &header, units.map(unit_row).collect()));
    let set = format!(
        "the {} there together: risk {} now, {} with the move",
        answer.component_type.replace('_', " "),
        numbers::percent(answer.set_risk),
        numbers::percent(answer.set_risk_after)
    );
    parts.push(item(look, &set));
    parts.extend(sentences("Left behind", &answer.leaves_behind, look));
    parts.push(ending(&answer.notes, &answer.cautions, look));
    parts.join("\n")
}

fn unit_row(unit: &UnitOutlook) -> Vec<String> {
    let limit = |limit: Option<&EarliestLimit>| {
        life(limit.and_then(|limit| limit.life.as_ref()))[0].clone()
    };
    vec![
        names::id(&unit.unit).to_owned(),
        numbers::percent(unit.risk),
        numbers::percent(unit.risk_after),
        limit(unit.earliest.as_ref()),
        limit(unit.earliest_after.as_ref()),
        quantiles(unit.later_events.as_ref(), &signed),
    ]
}

/// Whether to buy a spare.
pub fn spare(answer: &SpareAnswer, look: &Look) -> String {
    let what = if answer.component_type.is_empty() {
        "unit".into()
    } else {
        answer.component_type.replace('_', " ")
    };
    let avoided = answer.avoided.unwrap_or_default();
    let mut parts = vec![
        heading(&format!("spare {what}")),
        paragraph(look, &answer.verdict),
        item(
            look,
            &format!(
                "loss avoided in one drawn season: {} (5 % {}, 95 % {})",
                number(avoided.p50),
                number(avoided.p05),
                number(avoided.p95)
            ),
        ),
        item(
            look,
            &format!(
                "break-even price {} +-{} ({} seasons drawn)",
                number(answer.break_even_price),
                number(answer.break_even_error),
                answer.samples
            ),
        ),
    ];
    let ids: Vec<&str> = answer.units.iter().map(|unit| names::id(unit)).collect();
    let mut header = vec!["event", "when", ">any down"];
    let titles: Vec<String> = ids.iter().map(|id| format!(">{id}")).collect();
    header.extend(titles.iter().map(String::as_str));
    header.push(">a spare from here avoids");
    let rows = answer.events.iter().map(|event| {
        let mut row = vec![
            event.event.to_string(),
            times::show(event.time.as_ref()),
            counted(event.down_probability, ids.len(), answer.samples),
        ];
        let by_unit = event.by_unit.iter();
        row.extend(by_unit.map(|share| counted(*share, 1, answer.samples)));
        row.push(number(event.avoided_from_here));
        row
    });
    parts.push(table(look, &header, rows.collect()));
    parts.extend(sentences("Why", &answer.why, look));
    parts.push(ending(&answer.notes, &answer.cautions, look));
    parts.join("\n")
}

/// A share counted over drawn lives of so many units, which resolve no less than one of them and no more than all but one.
fn counted(share: f64, units: usize, samples: i32) -> String {
    if share <= 0.0 {
        format!("below {units}/{samples}")
    } else if share >= 1.0 {
        format!("above {}/{samples}", samples.saturating_sub(1))
    } else {
        numbers::percent(share)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn none_of_the_drawn_lives_is_not_never() {
        assert_eq!(counted(0.0, 1, 512), "below 1/512");
        assert_eq!(counted(0.0, 2, 512), "below 2/512");
        assert_eq!(counted(1.0, 1, 512), "above 511/512");
        assert_eq!(counted(0.25, 1, 512), "25 %");
    }
}
