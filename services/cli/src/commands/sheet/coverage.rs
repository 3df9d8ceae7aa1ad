//! Whether predictions held: what was predicted before each inspection beside what was measured, and how many values lay inside.

use super::{
    teardown_lines::prediction_before,
    words::{self, Units},
};
use crate::{names, numbers, out::Look};
use ringland_proto::v1::{
    Correction, DutyRecord, Inspection, Prediction, Quantiles, ReadingComparison,
};
use ringland_sheets::{Block, Cell, Column, Range, Table};
use std::collections::BTreeMap;

/// What lies between the 5 % and the 95 % quantile.
const IN_BAND: f64 = 0.9;
/// From the middle of a normal error to its 5 % and 95 % quantiles, in standard deviations.
const ERROR_TO_BAND: f64 = 1.645;
/// Of fewer values nothing is said.
const LEAST: u64 = 10;
/// So unlikely a count would be told from a band that holds.
const UNLIKELY: f64 = 0.05;

/// What was measured of one part, with what had been predicted.
pub(super) struct Measured {
    pub(super) component: String,
    pub(super) component_type: String,
    pub(super) taught: Correction,
    pub(super) inspections: Vec<Inspection>,
    pub(super) stored: Vec<Prediction>,
}

/// Where a value lay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lay {
    Inside,
    Below,
    Above,
    /// The last prediction did not know all logs up to the inspection.
    OfEarlier,
    /// There was no prediction of the reading.
    NotPredicted,
}

impl Lay {
    fn words(self) -> &'static str {
        match self {
            Self::Inside => "inside",
            Self::Below => "BELOW",
            Self::Above => "ABOVE",
            Self::OfEarlier => "predicted before the last logs: not counted",
            Self::NotPredicted => "no prediction before: not counted",
        }
    }
}

/// How many values lay inside, by component type.
pub(super) type Counts = BTreeMap<String, Count>;

/// How many values lay inside, of how many.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Count {
    inside: u64,
    all: u64,
}

/// The table of one unit's readings; those that lay inside are added to the counts.
pub(super) fn blocks<'a>(
    parts: impl Iterator<Item = &'a Measured>,
    records: &[DutyRecord],
    counts: &mut Counts,
    look: &Look,
) -> Vec<Block> {
    let mut rows = Vec::new();
    for part in parts {
        for one in &part.taught.comparisons {
            let band = band(part, one, records);
            let lay = lay(band, one);
            if matches!(lay, Lay::Inside | Lay::Below | Lay::Above) {
                let count = counts.entry(part.component_type.clone()).or_default();
                count.all += 1;
                count.inside += u64::from(lay == Lay::Inside);
            }
            rows.push(row(part, one, band, lay, look));
        }
    }
    if rows.is_empty() {
        return vec![Block::Text("Nothing was measured.".into())];
    }
    vec![Block::Table(table(rows))]
}

/// The band of the last prediction made before a value was entered, and whether it knew all logs up to the inspection.
fn band(
    part: &Measured,
    one: &ReadingComparison,
    records: &[DutyRecord],
) -> Option<(Quantiles, bool)> {
    let inspection = part
        .inspections
        .iter()
        .find(|each| each.name == one.inspection)?;
    let prediction = prediction_before(&part.stored, inspection)?;
    let mut readings = prediction.readings.iter();
    let now = readings.find(|each| each.reading == one.reading)?.now?;
    let seconds = |time: Option<prost_types::Timestamp>| time.map(|time| time.seconds);
    let as_of = seconds(prediction.as_of_time).unwrap_or(i64::MIN);
    let measured = seconds(inspection.inspection_time).unwrap_or(i64::MAX);
    let missed = records.iter().any(|record| {
        let start = seconds(record.start_time);
        start.is_some_and(|start| (as_of..measured).contains(&start))
    });
    Some((now, !missed))
}

fn lay(band: Option<(Quantiles, bool)>, one: &ReadingComparison) -> Lay {
    let Some((band, knew_all)) = band else {
        return Lay::NotPredicted;
    };
    let error = ERROR_TO_BAND * one.measured_sd;
    let low = band.p50 - (band.p50 - band.p05).hypot(error);
    let high = band.p50 + (band.p95 - band.p50).hypot(error);
    match one.measured {
        _ if !knew_all => Lay::OfEarlier,
        measured if measured < low => Lay::Below,
        measured if measured > high => Lay::Above,
        _ => Lay::Inside,
    }
}

fn row(
    part: &Measured,
    one: &ReadingComparison,
    band: Option<(Quantiles, bool)>,
    lay: Lay,
    look: &Look,
) -> Vec<Cell> {
    let band = band.map(|(band, _)| band);
    let largest = one.predicted.abs().max(one.measured.abs());
    let units = Units::choose(&one.reading, &one.unit, largest, look);
    let drawn = band.map_or(Cell::Text(String::new()), |band| {
        Cell::Range(Range {
            low: band.p05,
            middle: band.p50,
            high: band.p95,
            limit: one.limit,
            measured: Some(one.measured),
        })
    });
    vec![
        Cell::Strong(names::id(&part.component).to_owned()),
        one.label.clone().into(),
        band.map_or("-".to_owned(), |band| units.spread(&band, one.measured_sd))
            .into(),
        drawn,
        format!(
            "{}\n(1 sd {})",
            units.value(one.measured, Some(one.measured_sd)),
            units.error(one.measured_sd)
        )
        .into(),
        lay.words().into(),
        one.surprise
            .map_or("-".to_owned(), |far| format!("{far:+.1}"))
            .into(),
        if one.learnt { "learnt" } else { "not learnt" }.into(),
    ]
}

fn table(rows: Vec<Vec<Cell>>) -> Table {
    Table {
        columns: vec![
            Column::left("part", 1.4),
            Column::left("reading", 1.7),
            Column::right("predicted before, median (5 % to 95 %)", 1.6),
            Column::left("box: measured, dashed: limit", 1.0),
            Column::right("measured", 1.2),
            Column::left("lay", 0.9),
            Column::right("off from all else, sd", 0.7),
            Column::left("", 0.7),
        ],
        rows,
    }
}

/// How many values of all units lay inside, by type and together, and what that tells.
pub(super) fn said(counts: &Counts) -> Vec<String> {
    let mut all = Count::default();
    let mut lines = Vec::new();
    for (component_type, count) in counts {
        all.inside += count.inside;
        all.all += count.all;
        lines.push(format!(
            "{}: {} of {} inside",
            words::type_words(component_type),
            numbers::count(count.inside),
            numbers::count(count.all)
        ));
    }
    lines.push(format!("together: {}", together(all)));
    lines.push(
        "A value counts as inside when it lies in the band widened by its own error (in squares). Whatever was measured counts, \
         also what was found to be abuse or a slip. Readings of one part or unit go together, so there is less evidence than \
         their number."
            .into(),
    );
    lines
}

fn together(count: Count) -> String {
    let Count { inside, all } = count;
    let counted = format!(
        "{} of {} inside the 90 % band",
        numbers::count(inside),
        numbers::count(all)
    );
    if all < LEAST {
        return format!("{counted}: too few to say how often bands hold");
    }
    let at_most = at_most(inside, all);
    let at_least = inside
        .checked_sub(1)
        .map_or(1.0, |less| 1.0 - self::at_most(less, all));
    if at_most < UNLIKELY {
        format!(
            "{counted}, fewer than bands that hold would give (so few with {}): the bands were too narrow, or what was measured \
             is off",
            numbers::percent(at_most)
        )
    } else if at_least < UNLIKELY {
        format!(
            "{counted}, more than 90 % would give (so many with {}): the bands were wide",
            numbers::percent(at_least)
        )
    } else {
        format!("{counted}, which bands that hold may well give; so few values tell no more")
    }
}

/// Probability of at most `inside` of `all` values inside bands that hold (binomial).
fn at_most(inside: u64, all: u64) -> f64 {
    let mut term = (1.0 - IN_BAND).powf(all as f64);
    let mut sum = term;
    for k in 0..inside.min(all) {
        term *= (all - k) as f64 / (k + 1) as f64 * IN_BAND / (1.0 - IN_BAND);
        sum += term;
    }
    sum.min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use prost_types::Timestamp;
    use ringland_proto::v1::ReadingPrediction;

    /// Tables of the binomial distribution, n = 10 and 20, p = 0.9 (1 less those of p = 0.1; from memory): P(X <= 7) = 0.0702,
    /// P(X <= 15) = 0.0432; P(X = 20) = 0.1216.
    #[test]
    fn binomial_tails_are_those_of_the_tables() {
        for (inside, all, table) in [(7, 10, 0.0702), (15, 20, 0.0432), (19, 20, 1.0 - 0.1216)] {
            let found = at_most(inside, all);
            assert!((found - table).abs() < 5e-5, "{inside} of {all}: {found}");
        }
    }

    #[test]
    fn few_values_are_no_claim_and_many_outside_are() {
        let of = |inside, all| together(Count { inside, all });
        assert!(of(9, 9).contains("too few"), "{}", of(9, 9));
        assert!(of(1, 9).contains("too few"));
        assert!(of(18, 20).contains("tell no more"));
        assert!(of(15, 20).contains("too narrow"));
        assert!(of(20, 20).contains("tell no more"));
        assert!(of(40, 40).contains("were wide"));
    }

    fn time(seconds: i64) -> Timestamp {
        Timestamp { seconds, nanos: 0 }
    }

    #[test]
    fn only_a_band_that_knew_every_log_counts() {
        let band = Quantiles {
            p05: 1.0,
            p50: 2.0,
            p95: 3.0,
        };
        let one = ReadingComparison {
            inspection: "i".into(),
            reading: "gap".into(),
            measured: 3.5,
            ..Default::default()
        };
        let part = Measured {
            component: "components/a".into(),
            component_type: "ring_pack".into(),
            taught: Correction {
                comparisons: vec![one.clone()],
                ..Default::default()
            },
            inspections: vec![Inspection {
                name: "i".into(),
                inspection_time: Some(time(100)),
                create_time: Some(time(1000)),
                ..Default::default()
            }],
            stored: vec![Prediction {
                create_time: Some(time(900)),
                as_of_time: Some(time(50)),
                readings: vec![ReadingPrediction {
                    reading: "gap".into(),
                    now: Some(band),
                    ..Default::default()
                }],
                ..Default::default()
            }],
        };
        let record = |start| DutyRecord {
            start_time: Some(time(start)),
            ..Default::default()
        };
        let found = |records: &[DutyRecord]| lay(self::band(&part, &one, records), &one);
        assert_eq!(found(&[record(40), record(120)]), Lay::Above);
        assert_eq!(found(&[record(60)]), Lay::OfEarlier);
        let of = |band, measured, measured_sd| {
            let one = ReadingComparison {
                measured,
                measured_sd,
                ..Default::default()
            };
            lay(band, &one)
        };
        assert_eq!(of(Some((band, true)), 2.9, 0.0), Lay::Inside);
        assert_eq!(of(Some((band, true)), 0.9, 0.0), Lay::Below);
        assert_eq!(of(None, 2.0, 0.0), Lay::NotPredicted);
        // By hand: 1 and 1.645 x 1.0 in squares are 1.925, so the band ends at 3.925.
        assert_eq!(of(Some((band, true)), 3.92, 1.0), Lay::Inside);
        assert_eq!(of(Some((band, true)), 3.93, 1.0), Lay::Above);
    }
}
