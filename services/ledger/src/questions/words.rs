//! Words that the answers share.

use crate::{BoundedQuantiles, Bounds, ComponentName, EarliestLimit, compare, predict::figure};
use ringland_host::contract::{Finding, Severity};

/// A risk: three figures, since caps are as small as one in a thousand.
pub(super) fn risk(probability: f64) -> String {
    match probability {
        p if p > 0.9995 => "> 99.9 %".into(),
        p if p < 1e-6 => "< 0.0001 %".into(),
        p => format!("{} %", figure(100.0 * p)),
    }
}

/// A share counted over drawn lives of so many units. None of them is not never, and all are not always: both are told by
/// what the draws resolve.
pub(super) fn counted(share: f64, units: usize, draws: usize) -> String {
    if share <= 0.0 {
        format!("below {units}/{draws}")
    } else if share >= 1.0 {
        format!("above {}/{draws}", draws.saturating_sub(1))
    } else {
        risk(share)
    }
}

/// An amount of money.
pub(super) fn amount(value: f64) -> String {
    format!("{value:.0}")
}

/// An amount that the horizon may leave open.
pub(super) fn amounts(bounds: Bounds) -> String {
    compare::bounds_text(bounds, &amount)
}

/// `1.3 (0.4 to 3.1)`. What is little is not shown as nothing.
pub(super) fn spread(quantiles: &BoundedQuantiles) -> String {
    compare::between(quantiles, &|value| {
        if value.abs() < 0.005 {
            figure(value)
        } else {
            compare::number(value)
        }
    })
}

/// `5.4 events (3.6 to 8.0): wear of rings (51 %), ...`
pub(super) fn limit(earliest: &EarliestLimit) -> String {
    let life = compare::events(&earliest.life.events, earliest.life.horizon_events);
    format!("{life}: {}", compare::limits_text(earliest))
}

/// `a, b and c`
pub(super) fn names<'a>(components: impl IntoIterator<Item = &'a ComponentName>) -> String {
    let names: Vec<&str> = components
        .into_iter()
        .map(ComponentName::component)
        .collect();
    match names.split_last() {
        None => String::new(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

/// A part that has no figures.
pub(super) fn has_none(component: &ComponentName, error: &crate::LedgerError) -> Finding {
    Finding {
        severity: Severity::Warning,
        field: component.to_string(),
        value: "has no life".into(),
        expected: "a life of every component".into(),
        remedy: format!("the answer leaves it out: {error}"),
    }
}

/// Parts of a unit are drawn independently of each other.
pub(super) fn independent() -> Finding {
    Finding {
        severity: Severity::Warning,
        field: "parts".into(),
        value: "drawn independently of each other".into(),
        expected: "parts of one unit, which share oil, heat and duty".into(),
        remedy: "where they are long-lived or short-lived together, the risk of the unit is lower than told".into(),
    }
}

/// Said with every answer.
const FIRST: &str = "An answer advises: limits of the part's maker, rules of the sanctioning body, findings at the part and \
                     the judgement of a qualified builder come first. No figure here says that a part will not fail.";

/// The cards' cautions, and what is said with every answer.
pub(super) fn cautions<'a>(
    cards: impl Iterator<Item = &'a ringland_host::contract::Card>,
) -> Vec<String> {
    let mut cautions = vec![FIRST.to_owned()];
    cautions.extend(compare::cautions_of(cards));
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_draw_shows_is_told_by_what_the_draws_resolve() {
        assert_eq!(counted(0.0, 1, 512), "below 1/512");
        assert_eq!(counted(0.0, 3, 512), "below 3/512");
        assert_eq!(counted(1.0, 1, 512), "above 511/512");
        assert_eq!(counted(1.0 / 512.0, 1, 512), "0.195 %");
    }
}
