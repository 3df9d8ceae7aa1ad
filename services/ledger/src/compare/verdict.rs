//! Comparisons in a sentence or two. The spread is part of every one, and what it rests on.

use crate::{
    AlternativeForecast, BoundedQuantiles, Bounds, Difference, EarliestLimit, Grade, Odds, Payback,
    Quantiles, TreatmentEvidence, UnitEffect,
};
use std::collections::BTreeSet;

/// A chance that is no better than this either way is called open. Assumed, no source.
const CLEAR: f64 = 0.9;

/// One alternative against the first.
pub(super) fn of_component(
    difference: &Difference,
    first: &AlternativeForecast,
    other: &AlternativeForecast,
    treated: bool,
) -> String {
    let Difference { label, against, .. } = difference;
    if difference.longer.equal >= 1.0 {
        return format!(
            "{label}: every drawn life is that of {against}; the model reads nothing of what differs."
        );
    }
    let mut sentences = vec![format!(
        "{label} against {against}: life {}; {}.",
        times(&difference.life_ratio),
        odds_text(&difference.longer, "longer", "shorter")
    )];
    sentences.push(limit_instead(first, other));
    sentences.extend(difference.payback.as_ref().map(payback_text));
    sentences.push(rests_on(
        &other.evidence,
        treated,
        first.model_prior_only && other.model_prior_only,
    ));
    sentences.join(" ")
}

/// What limits now, and instead.
fn limit_instead(first: &AlternativeForecast, other: &AlternativeForecast) -> String {
    let limit = |forecast: &AlternativeForecast| {
        let found = forecast
            .mechanisms
            .iter()
            .find(|mechanism| mechanism.mechanism == forecast.limiting_mechanism);
        found.map(|mechanism| {
            (
                mechanism.label.clone(),
                percent(forecast.limiting_probability),
            )
        })
    };
    match (limit(first), limit(other)) {
        (Some((one, before)), Some((two, after))) if one == two => {
            format!("{one} stays the first limit ({after}, {before} before).")
        }
        (Some((one, before)), Some((two, after))) => {
            format!("{two} becomes the first limit ({after}) instead of {one} ({before}).")
        }
        (None, Some((two, after))) => format!("{two} becomes the first limit ({after})."),
        (Some((one, before)), None) => {
            format!("Nothing limits it within the horizon any more; {one} did ({before}).")
        }
        (None, None) => "Nothing limits either within the horizon.".into(),
    }
}

fn payback_text(payback: &Payback) -> String {
    let open = payback.probability_open;
    let chance = if open > 0.0 {
        let most = payback.probability_pays + open;
        format!("{} to {}", percent(payback.probability_pays), percent(most))
    } else {
        percent(payback.probability_pays)
    };
    let worth = between(&payback.break_even_drawn, &|price| number(price));
    format!("It pays with {chance}; its treatments are worth {worth} for each renewal.")
}

/// What the numbers rest on.
fn rests_on(evidence: &[TreatmentEvidence], treated: bool, prior_only: bool) -> String {
    let grades: BTreeSet<Grade> = evidence.iter().map(|each| each.grade).collect();
    let grades: Vec<&str> = grades.into_iter().map(grade_text).collect();
    let spread = match (treated, grades.is_empty()) {
        (true, false) => format!("the treatment's spread ({})", grades.join(", ")),
        (true, true) => "the treatment's assumed spread".into(),
        (false, _) => "the spread that the surfaces were given".into(),
    };
    if prior_only {
        format!("By the model and {spread}; nothing of this shop proves it yet.")
    } else {
        format!(
            "By the model as this shop's inspections have corrected it and {spread}; that the difference is real only \
             parts of both kinds in this shop can prove."
        )
    }
}

fn grade_text(grade: Grade) -> &'static str {
    match grade {
        Grade::Published => "published",
        Grade::CommonPractice => "common practice, no source",
        Grade::Shop => "the shop's word",
        Grade::Weak => "weak evidence",
    }
}

/// A unit and the best that can be done to it.
pub(super) fn of_unit(
    now: &EarliestLimit,
    best: Option<(&str, &UnitEffect)>,
    candidates: usize,
    prior_only: bool,
) -> String {
    let mut sentences = vec![format!(
        "The earliest limit comes after {}: {}.",
        events(&now.life.events, now.life.horizon_events),
        limits_text(now)
    )];
    match best {
        Some((label, effect)) => sentences.push(format!(
            "{label} moves its median most: by {} events, to {} (of drawn units {} events; {}). Then it is {}.",
            bounds_text(effect.median_change_events, &signed_number),
            bounds_text(median_of(&effect.earliest), &number),
            signed(&effect.change_events),
            odds_text(&effect.later, "later", "earlier"),
            limits_text(&effect.earliest)
        )),
        None if candidates == 0 => sentences.push("Nothing was tried on it.".into()),
        None => sentences.push("Nothing that was tried moves its median.".into()),
    }
    let evidence = best.map(|(_, effect)| effect.evidence.as_slice());
    let evidence = evidence.unwrap_or_default();
    sentences.push(rests_on(evidence, !evidence.is_empty(), prior_only));
    sentences.join(" ")
}

fn median_of(limit: &EarliestLimit) -> Bounds {
    let (median, horizon) = (limit.life.events.p50, limit.life.horizon_events);
    Bounds {
        at_least: Some(median),
        at_most: Some(median).filter(|median| *median < horizon),
    }
}

/// A step of a unit.
pub(super) fn of_step(label: &str, change: Bounds, after: &EarliestLimit) -> String {
    let text = format!(
        "{label}: the median moves by {}, to {}; after that the limit is {}.",
        bounds_text(change, &signed_number),
        events(&after.life.events, after.life.horizon_events),
        limits_text(after)
    );
    text
}

/// The first two limits with their shares.
pub(crate) fn limits_text(limit: &EarliestLimit) -> String {
    let mut parts: Vec<String> = limit
        .limits
        .iter()
        .take(2)
        .map(|each| {
            let part = each.component.component();
            format!("{} of {part} ({})", each.label, percent(each.probability))
        })
        .collect();
    if parts.is_empty() {
        parts.push("nothing within the horizon".into());
    }
    parts.join(", ")
}

fn odds_text(odds: &Odds, more: &str, less: &str) -> String {
    let mut parts = Vec::new();
    if odds.more > 0.0 || odds.less <= 0.0 {
        parts.push(format!("{more} with {}", percent(odds.more)));
    }
    if odds.less > 0.0 {
        parts.push(format!("{less} with {}", percent(odds.less)));
    }
    if odds.equal > 0.0 {
        parts.push(format!("no change in {}", percent(odds.equal)));
    }
    if odds.open > 0.0 {
        parts.push(format!("hidden by the horizon in {}", percent(odds.open)));
    }
    // Of the draws in which it makes a difference, or may make one.
    let differ = odds.more + odds.less + odds.open;
    let clear = odds.more.max(odds.less) >= CLEAR * differ;
    let doubt = if clear { "" } else { " (not clear)" };
    format!("{}{doubt}", parts.join(", "))
}

/// `x1.9 (1.3 to 2.7)`
fn times(ratio: &BoundedQuantiles) -> String {
    format!("x{}", between(ratio, &number))
}

/// `+0.8 (0 to +2.2)`
fn signed(change: &BoundedQuantiles) -> String {
    between(change, &signed_number)
}

pub(crate) fn between(quantiles: &BoundedQuantiles, text: &dyn Fn(f64) -> String) -> String {
    let [low, middle, high] =
        [quantiles.p05, quantiles.p50, quantiles.p95].map(|bounds| bounds_text(bounds, text));
    format!("{middle} ({low} to {high})")
}

#[allow(clippy::float_cmp)] // exact: known where both ends are the same number
pub(crate) fn bounds_text(bounds: Bounds, text: &dyn Fn(f64) -> String) -> String {
    match (bounds.at_least, bounds.at_most) {
        (Some(low), Some(high)) if low == high => text(low),
        (Some(low), Some(high)) => format!("{}..{}", text(low), text(high)),
        (Some(low), None) => format!("at least {}", text(low)),
        (None, Some(high)) => format!("at most {}", text(high)),
        (None, None) => "open".into(),
    }
}

pub(crate) fn events(quantiles: &Quantiles, horizon: f64) -> String {
    let text = |value: f64| {
        if value >= horizon {
            format!("at least {}", number(value))
        } else {
            number(value)
        }
    };
    let Quantiles { p05, p50, p95 } = *quantiles;
    format!("{} events ({} to {})", text(p50), text(p05), text(p95))
}

fn signed_number(value: f64) -> String {
    let sign = if value > 0.0 { "+" } else { "" };
    format!("{sign}{}", number(value))
}

/// Two digits, or three from 100 on: spreads here are never so narrow that more would mean something.
pub(crate) fn number(value: f64) -> String {
    let size = value.abs();
    if size >= 100.0 {
        let step = libm::exp10(libm::floor(libm::log10(size)) - 2.0);
        return format!("{:.0}", (value / step).round() * step);
    }
    if size >= 10.0 {
        format!("{value:.0}")
    } else if size >= 0.995 {
        format!("{value:.1}")
    } else if size < 0.005 {
        "0".into()
    } else {
        format!("{value:.2}")
    }
}

fn percent(probability: f64) -> String {
    // Draws are counted: none of them, or all, is not never or always.
    match probability {
        p if p < 0.01 => "< 1 %".into(),
        p if p > 0.99 => "> 99 %".into(),
        p => format!("{:.0} %", 100.0 * p),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_as_many_digits_as_mean_something() {
        let shown = [0.0, 0.0012, 0.734, 1.86, 12.34, 148.6, 12_345.0, -1.26].map(number);
        assert_eq!(
            shown,
            ["0", "0", "0.73", "1.9", "12", "149", "12300", "-1.3"]
        );
        assert_eq!(
            [0.0, 0.004, 0.883, 0.998, 1.0].map(percent),
            ["< 1 %", "< 1 %", "88 %", "> 99 %", "> 99 %"]
        );
    }

    #[test]
    fn what_is_open_is_said() {
        let bounds = |at_least, at_most| Bounds { at_least, at_most };
        let text = |bounds| bounds_text(bounds, &number);
        assert_eq!(text(bounds(Some(2.0), Some(2.0))), "2.0");
        assert_eq!(text(bounds(Some(2.0), None)), "at least 2.0");
        assert_eq!(text(bounds(None, Some(0.5))), "at most 0.50");
        assert_eq!(text(bounds(None, None)), "open");
    }

    #[test]
    fn odds_never_hide_the_other_side() {
        let odds = Odds {
            more: 0.6,
            equal: 0.0,
            less: 0.3,
            open: 0.1,
        };
        let text = odds_text(&odds, "longer", "shorter");
        assert_eq!(
            text,
            "longer with 60 %, shorter with 30 %, hidden by the horizon in 10 % (not clear)"
        );
    }
}
