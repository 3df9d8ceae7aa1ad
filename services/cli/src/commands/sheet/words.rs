//! What several sheets say in the same words.

use super::digits;
use crate::{
    numbers,
    out::Look,
    show::{Shown, largest_of},
    times,
};
use ringland_proto::v1::{LimitSide, Prediction, Quantiles, ReadingPrediction};
use ringland_sheets::Range;

/// Stands on every sheet, before what the models add.
const FIRST: [&str; 5] = [
    "Limits of the part's maker and rules of the sanctioning body come first, and findings at the part before any computed life.",
    "What is computed advises; who is licensed or qualified for the work decides. Cracks are looked for by certified inspectors.",
    "A part of unknown history counts as one at the end of its life.",
    "After overheating, low oil pressure, detonation or chips: stop, and look before it runs again, whatever is computed.",
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

/// How values of one quantity stand on paper, all in the same units: those of people, with SI below where they differ.
pub(super) struct Units<'a> {
    shown: Vec<Shown<'a>>,
    /// A share of 1, shown in percent.
    share: bool,
}

impl<'a> Units<'a> {
    /// For values up to `largest`. `name` tells shares from other plain numbers: `leak_down_fraction`.
    pub(super) fn choose(name: &str, si_unit: &'a str, largest: f64, look: &Look) -> Self {
        Self {
            shown: Shown::choose(si_unit, largest.abs(), look.system),
            share: si_unit == "1" && name.ends_with("_fraction"),
        }
    }

    /// Those of a reading, the same for all its values.
    pub(super) fn of_reading(reading: &'a ReadingPrediction, look: &Look) -> Self {
        Self::choose(&reading.reading, &reading.unit, largest_of(reading), look)
    }

    fn each(&self, number: &dyn Fn(&Shown, f64) -> String) -> String {
        let factor = if self.share { 100.0 } else { 1.0 };
        let lines = self.shown.iter().map(|unit| {
            let text = number(unit, factor);
            if self.share {
                format!("{text} %")
            } else {
                unit.with_symbol(&text)
            }
        });
        lines.collect::<Vec<_>>().join("\n")
    }

    /// A value, in steps that are small beside its error where that is known.
    pub(super) fn value(&self, si: f64, sd: Option<f64>) -> String {
        self.each(&|unit, factor| match sd {
            Some(sd) => {
                numbers::to_resolution(factor * unit.value(si), factor * unit.difference(sd))
            }
            None => numbers::significant(factor * unit.value(si), 3),
        })
    }

    /// A difference: an instrument's error.
    pub(super) fn error(&self, si: f64) -> String {
        self.each(&|unit, factor| numbers::significant(factor * unit.difference(si), 2))
    }

    /// The middle, and what it lies between, no finer than an instrument's error of `error` (0: none) allows.
    pub(super) fn spread(&self, si: &Quantiles, error: f64) -> String {
        self.each(&|unit, factor| {
            let [p05, p50, p95] = [si.p05, si.p50, si.p95].map(|value| factor * unit.value(value));
            let error = factor * unit.difference(error);
            digits::spread(&Quantiles { p05, p50, p95 }, error, [false; 3])
        })
    }
}

/// What is left of a part in events: the middle, and what it lies between.
pub(super) fn events_left(prediction: &Prediction) -> String {
    let life = prediction.life.unwrap_or_default();
    let events = life.events.unwrap_or_default();
    digits::spread(&events, 0.0, numbers::at_horizon(&life))
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
    let text = Units::of_reading(reading, look).value(limit, None);
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
