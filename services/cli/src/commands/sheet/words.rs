//! What several sheets say in the same words.

use crate::{numbers, out::Look, show::Shown, times};
use ringland_proto::v1::{LimitSide, Prediction, Quantiles, ReadingPrediction};
use ringland_sheets::Range;

/// Stands on every sheet, before what the models add.
const FIRST: [&str; 3] = [
    "Limits of the part's maker and rules of the sanctioning body come first, and findings at the part before any computed life.",
    "What is computed advises; who is licensed or qualified for the work decides. Cracks are looked for by certified inspectors.",
    "Ranges are 5 % to 95 %: one part in twenty is expected to be worse than the worse end. No part is free of risk.",
];

/// The usual cautions and those of the models, each once.
pub(super) fn cautions<'a>(predictions: impl IntoIterator<Item = &'a Prediction>) -> Vec<String> {
    let mut all: Vec<String> = FIRST.map(str::to_owned).to_vec();
    for line in predictions.into_iter().flat_map(|each| &each.cautions) {
        if !all.contains(line) {
            all.push(line.clone());
        }
    }
    all
}

/// A number in the wanted units, one under the other: shop units with SI below, or SI alone.
pub(super) fn value(si_unit: &str, si: f64, sd: Option<f64>, look: &Look) -> String {
    let units = Shown::choose(si_unit, si.abs(), look.system);
    let text = |unit: &Shown| {
        let number = match sd {
            Some(sd) => numbers::to_resolution(unit.value(si), unit.difference(sd)),
            None => numbers::significant(unit.value(si), 3),
        };
        unit.with_symbol(&number)
    };
    units.iter().map(text).collect::<Vec<_>>().join("\n")
}

/// A difference (an instrument's error) in the units of the value that it belongs to.
pub(super) fn difference(si_unit: &str, si: f64, of: f64, look: &Look) -> String {
    let units = Shown::choose(si_unit, of.abs(), look.system);
    let text = |unit: &Shown| unit.with_symbol(&numbers::significant(unit.difference(si), 2));
    units.iter().map(text).collect::<Vec<_>>().join("\n")
}

/// A spread in the wanted units.
pub(super) fn spread(si_unit: &str, si: &Quantiles, look: &Look) -> String {
    let largest = si.p05.abs().max(si.p95.abs());
    let units = Shown::choose(si_unit, largest, look.system);
    let text = |unit: &Shown| unit.with_symbol(&unit.spread(si).median_first());
    units.iter().map(text).collect::<Vec<_>>().join("\n")
}

/// Whether somebody can measure it against a limit; the rest of what models say is computed.
pub(super) fn is_measured(reading: &ReadingPrediction) -> bool {
    reading.limit.is_some() && !reading.instrument.starts_with("computed")
}

/// A reading's limit with its side.
pub(super) fn limit(reading: &ReadingPrediction, look: &Look) -> String {
    let Some(limit) = reading.limit else {
        return String::new();
    };
    let side = match reading.limit_side() {
        LimitSide::Above => "at most",
        LimitSide::Below => "at least",
        LimitSide::Unlimited | LimitSide::Unspecified => "",
    };
    let text = value(&reading.unit, limit, None, look);
    format!("{side} {text}").trim_start().to_owned()
}

/// A reading's spread against its limit and, when it was measured, that.
pub(super) fn range(reading: &ReadingPrediction, measured: Option<f64>) -> Range {
    let now = reading.now.unwrap_or_default();
    Range {
        low: now.p05,
        middle: now.p50,
        high: now.p95,
        limit: reading.limit,
        measured,
    }
}

/// `2026-04-18`
pub(super) fn date(time: Option<&prost_types::Timestamp>) -> String {
    let text = times::show(time);
    text.split(' ').next().unwrap_or("-").to_owned()
}

/// `valve spring`
pub(super) fn type_words(component_type: &str) -> String {
    component_type.replace('_', " ")
}
