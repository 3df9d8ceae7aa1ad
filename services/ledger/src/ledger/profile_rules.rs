//! The duty of one event from the duty of several.

use crate::{LedgerError, LedgerOptions};
use ringland_host::contract::{DutyCycles, DutyShocks, DutyTable};
use std::collections::BTreeMap;

/// Mean duty of one event from records that make `events` events together.
///
/// Times and cycle counts are divided by `events`; channels that some record lacks are left out,
/// since nobody knows what they were. Shocks come whole: of a kind seen n times, `n / events`
/// rounded, but at least one, evenly spread over the shocks in the order of their severity (the
/// last field of each kind), so that one event has mild and hard ones in proportion and a rare one is
/// counted too often rather than not at all.
pub(crate) fn mean_event(
    tables: &[DutyTable],
    events: f64,
    options: &LedgerOptions,
) -> Result<DutyTable, LedgerError> {
    let values: usize = tables
        .iter()
        .map(|t| t.time_s.len() * (1 + t.points.len()))
        .sum();
    if values > options.max_duty_values {
        return Err(LedgerError::ResourceExhausted {
            what: "numbers in the operating points of a profile".into(),
            value: values as u64,
            limit: options.max_duty_values as u64,
            remedy: "make it from fewer records".into(),
        });
    }
    let channels: Vec<String> = tables.first().map_or_else(Vec::new, |first| {
        let common = |c: &&String| tables.iter().all(|table| table.column(c).is_some());
        first.channels.iter().filter(common).cloned().collect()
    });
    let points = channels.iter().map(|channel| {
        tables
            .iter()
            .flat_map(|table| table.column(channel).unwrap_or_default())
            .copied()
            .collect()
    });
    let points = points.collect();
    let time_s: Vec<f64> = tables
        .iter()
        .flat_map(|t| &t.time_s)
        .map(|s| s / events)
        .collect();
    Ok(DutyTable {
        // The sum itself, so that the times add up to it.
        duration_s: time_s.iter().sum(),
        channels,
        time_s,
        points,
        cycles: mean_cycles(tables, events),
        shocks: typical_shocks(tables, events, options),
    })
}

fn mean_cycles(tables: &[DutyTable], events: f64) -> Vec<DutyCycles> {
    let mut merged: BTreeMap<&str, DutyCycles> = BTreeMap::new();
    for counted in tables.iter().flat_map(|table| &table.cycles) {
        let all = merged.entry(&counted.channel).or_default();
        all.channel.clone_from(&counted.channel);
        all.cycles.ranges.extend(&counted.cycles.ranges);
        all.cycles.means.extend(&counted.cycles.means);
        all.cycles
            .counts
            .extend(counted.cycles.counts.iter().map(|count| count / events));
    }
    merged.into_values().collect()
}

fn typical_shocks(tables: &[DutyTable], events: f64, options: &LedgerOptions) -> Vec<DutyShocks> {
    let mut merged: BTreeMap<&str, (Vec<String>, Vec<Vec<f64>>)> = BTreeMap::new();
    for shocks in tables.iter().flat_map(|table| &table.shocks) {
        let (fields, rows) = merged.entry(&shocks.kind).or_default();
        fields.clone_from(&shocks.fields);
        let count = shocks.columns.first().map_or(0, Vec::len);
        rows.extend((0..count).map(|i| {
            shocks
                .columns
                .iter()
                .filter_map(|c| c.get(i))
                .copied()
                .collect()
        }));
    }
    let kinds = merged.into_iter().map(|(kind, (fields, rows))| {
        let rows = spread(rows, events, options.max_duty_rows);
        let column = |i: usize| rows.iter().filter_map(|row| row.get(i)).copied().collect();
        DutyShocks {
            kind: kind.into(),
            columns: (0..fields.len()).map(column).collect(),
            fields,
        }
    });
    kinds.collect()
}

/// As many rows as one event has, evenly spread over severity, in the order of their start.
fn spread(mut rows: Vec<Vec<f64>>, events: f64, most: usize) -> Vec<Vec<f64>> {
    if rows.is_empty() {
        return rows;
    }
    rows.sort_by(|a, b| {
        let severity = |row: &[f64]| row.iter().rev().copied().collect::<Vec<f64>>();
        let (a, b) = (severity(a), severity(b));
        let unequal = a
            .iter()
            .zip(&b)
            .map(|(a, b)| a.total_cmp(b))
            .find(|order| order.is_ne());
        unequal.unwrap_or(std::cmp::Ordering::Equal)
    });
    let wanted = ((rows.len() as f64 / events).round() as usize).clamp(1, most);
    let middle = |k: usize| (2 * k + 1) * rows.len() / (2 * wanted);
    let mut picked: Vec<Vec<f64>> = (0..wanted)
        .filter_map(|k| rows.get(middle(k)).cloned())
        .collect();
    picked.sort_by(|a, b| {
        a.first()
            .unwrap_or(&0.0)
            .total_cmp(b.first().unwrap_or(&0.0))
    });
    picked
}

#[cfg(test)]
mod tests {
    use super::*;

    fn starts(temperatures: &[f64]) -> DutyTable {
        let rows = temperatures.len();
        DutyTable {
            duration_s: 60.0,
            channels: vec!["engine_speed_rad_s".into()],
            time_s: vec![60.0],
            points: vec![vec![500.0]],
            cycles: Vec::new(),
            shocks: vec![DutyShocks {
                kind: "start".into(),
                fields: vec!["start_s".into(), "duration_s".into(), "oil_temp_k".into()],
                columns: vec![vec![0.0; rows], vec![1.0; rows], temperatures.to_vec()],
            }],
        }
    }

    #[test]
    fn an_event_is_the_mean_of_the_records() {
        let options = LedgerOptions::default();
        let tables = [
            starts(&[300.0, 310.0, 320.0]),
            starts(&[330.0, 340.0, 350.0]),
        ];
        let event = mean_event(&tables, 3.0, &options).unwrap();
        assert!((event.duration_s - 40.0).abs() < 1e-12);
        // Six starts in three events: two, one from the cold half and one from the warm half.
        assert_eq!(event.shocks[0].columns[2], [310.0, 340.0]);
    }

    #[test]
    fn a_rare_shock_is_kept() {
        let event = mean_event(&[starts(&[300.0])], 5.0, &LedgerOptions::default()).unwrap();
        assert_eq!(event.shocks[0].columns[2], [300.0]);
    }

    #[test]
    fn part_of_an_event_is_scaled_up() {
        let event = mean_event(&[starts(&[300.0, 340.0])], 0.5, &LedgerOptions::default()).unwrap();
        assert!((event.duration_s - 120.0).abs() < 1e-12);
        assert_eq!(event.shocks[0].columns[2].len(), 4);
    }
}
