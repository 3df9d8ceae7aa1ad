//! Readings now and ahead, against their limits.

use super::{prediction::Detail, quantity::Shown};
use crate::{
    numbers,
    out::{Look, heading},
    table::table,
};
use ringland_proto::v1::{LimitSide, Quantiles, ReadingAhead, ReadingPrediction};

/// A table of readings; nothing when there are none. Those without a limit are for `Detail::Full`.
pub(super) fn readings(
    readings: &[ReadingPrediction],
    look: &Look,
    detail: Detail,
) -> Option<String> {
    let shown: Vec<&ReadingPrediction> = readings
        .iter()
        .filter(|reading| detail == Detail::Full || reading.limit.is_some())
        .collect();
    // All readings are predicted for the same numbers of events ahead: a middle one is shown.
    let ahead = shown.first()?.ahead.as_slice();
    let ahead = ahead.get(ahead.len() / 2).map(|ahead| ahead.events);
    let mut header = vec!["reading".to_owned(), "=now, P50 (P05 to P95)".to_owned()];
    header.extend(ahead.map(|events| format!("={}", in_events(events))));
    header.extend(["limit", "unit", ">past now"].map(str::to_owned));
    let header: Vec<&str> = header.iter().map(String::as_str).collect();
    let rows = shown
        .into_iter()
        .map(|reading| row(reading, ahead, look))
        .collect();
    Some(format!(
        "{}\n{}",
        heading("Readings"),
        table(look, &header, rows)
    ))
}

fn in_events(events: f64) -> String {
    let text = events.to_string();
    if text == "1" {
        "in 1 event".into()
    } else {
        format!("in {text} events")
    }
}

fn row(reading: &ReadingPrediction, ahead: Option<f64>, look: &Look) -> Vec<String> {
    let now = reading.now.unwrap_or_default();
    let largest = largest_of(reading);
    let units = Shown::choose(&reading.unit, largest, look.system);
    let each =
        |text: &dyn Fn(&Shown) -> String| units.iter().map(text).collect::<Vec<_>>().join("\n");
    let mut cells = vec![reading.label.clone()];
    cells.push(each(&|unit| unit.spread(&now).median_first()));
    if let Some(events) = ahead {
        let found = reading
            .ahead
            .iter()
            .find(|a| a.events.total_cmp(&events).is_eq());
        let value = found.and_then(|ahead: &ReadingAhead| ahead.value);
        cells.push(match value {
            Some(value) => each(&|unit| unit.spread(&value).median_first()),
            None => "-".into(),
        });
    }
    let side = match reading.limit_side() {
        LimitSide::Above => "≤ ",
        LimitSide::Below => "≥ ",
        LimitSide::Unlimited | LimitSide::Unspecified => "",
    };
    cells.push(match reading.limit {
        Some(limit) => {
            each(&|unit| format!("{side}{}", numbers::significant(unit.value(limit), 3)))
        }
        None => "-".into(),
    });
    cells.push(each(&|unit| unit.symbol().to_owned()));
    cells.push(
        reading
            .probability_past_limit
            .map_or("-".into(), numbers::percent),
    );
    cells
}

/// The largest magnitude among what is shown in one row.
pub(crate) fn largest_of(reading: &ReadingPrediction) -> f64 {
    let values = |q: &Quantiles| [q.p05, q.p50, q.p95];
    let now = reading.now.as_ref().map(values).into_iter().flatten();
    let ahead = reading
        .ahead
        .iter()
        .filter_map(|ahead| ahead.value.as_ref())
        .flat_map(values);
    now.chain(ahead)
        .chain(reading.limit)
        .fold(0.0, |largest: f64, value| largest.max(value.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::System;

    #[test]
    fn a_reading_stands_beside_its_limit_in_both_units() {
        let value = |p50: f64| Quantiles {
            p05: 0.95 * p50,
            p50,
            p95: 1.05 * p50,
        };
        let ahead = [1.0, 2.0, 4.0].map(|events| ReadingAhead {
            events,
            value: Some(value(4.572e-4 + 1e-5 * events)),
        });
        let gap = ReadingPrediction {
            reading: "top_end_gap_m".into(),
            label: "top ring end gap".into(),
            unit: "m".into(),
            now: Some(value(4.572e-4)),
            limit: Some(7.62e-4),
            limit_side: LimitSide::Above.into(),
            probability_past_limit: Some(0.0002),
            ahead: ahead.into(),
            ..Default::default()
        };
        let look = Look {
            system: System::Shop,
            width: 120,
        };
        let text = readings(std::slice::from_ref(&gap), &look, Detail::Usual).unwrap();
        for part in [
            "18.0 (17.1 to 18.9)",
            "≤ 30.0",
            "≤ 0.762",
            "< 0.1 %",
            "in 2 events",
        ] {
            assert!(text.contains(part), "{part} is missing from\n{text}");
        }
        assert!(readings(&[], &look, Detail::Full).is_none());
    }
}
