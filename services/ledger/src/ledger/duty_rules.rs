//! What a duty table must be before it is recorded.

use crate::{LedgerError, LedgerOptions, violations::Violations};
use ringland_host::contract::{
    DutyCycles, DutyShocks, DutyTable,
    vocabulary::{CHANNELS, Channel, SHOCKS},
};
use std::collections::BTreeSet;

/// The times at the operating points add up to the duration within this part of it ...
const SUM_RELATIVE: f64 = 1e-6;
/// ... or within this, whichever is more.
const SUM_ABSOLUTE_S: f64 = 1e-3;

/// Checks a duty table; every violation at once.
pub(crate) fn check_duty(duty: &DutyTable, options: &LedgerOptions) -> Result<(), LedgerError> {
    check_size(duty, options)?;
    let mut violations = Violations::default();
    check_times(&mut violations, duty);
    check_points(&mut violations, duty);
    let mut seen = BTreeSet::new();
    for (i, cycles) in duty.cycles.iter().enumerate() {
        check_cycles(&mut violations, i, cycles);
        once(
            &mut violations,
            &mut seen,
            format!("duty.cycles[{i}].channel"),
            &cycles.channel,
        );
    }
    let mut seen = BTreeSet::new();
    for (i, shocks) in duty.shocks.iter().enumerate() {
        check_shocks(&mut violations, i, shocks);
        once(
            &mut violations,
            &mut seen,
            format!("duty.shocks[{i}].kind"),
            &shocks.kind,
        );
    }
    violations.into_result()
}

/// Turns of the crank in a duty; 0 without engine speed.
pub(crate) fn crank_revolutions(duty: &DutyTable) -> f64 {
    let speed = duty.column("engine_speed_rad_s").unwrap_or_default();
    let radians: f64 = speed
        .iter()
        .zip(&duty.time_s)
        .map(|(speed, time)| speed * time)
        .sum();
    radians / std::f64::consts::TAU
}

fn check_size(duty: &DutyTable, options: &LedgerOptions) -> Result<(), LedgerError> {
    let points: usize = duty.time_s.len() + duty.points.iter().map(Vec::len).sum::<usize>();
    let cycles: usize = duty.cycles.iter().map(|c| c.cycles.counts.len()).sum();
    let shocks: usize = duty
        .shocks
        .iter()
        .filter_map(|s| s.columns.first())
        .map(Vec::len)
        .sum();
    let names = duty.channels.len() + duty.cycles.len() + duty.shocks.len();
    for (what, value, limit) in [
        (
            "numbers in the operating points of one duty record",
            points,
            options.max_duty_values,
        ),
        (
            "cycles and shocks in one duty record",
            cycles + shocks,
            options.max_duty_rows,
        ),
        (
            "channels and kinds in one duty record",
            names,
            3 * (CHANNELS.len() + SHOCKS.len()),
        ),
    ] {
        if value > limit {
            return Err(LedgerError::ResourceExhausted {
                what: what.into(),
                value: value as u64,
                limit: limit as u64,
                remedy: "split the log into shorter records".into(),
            });
        }
    }
    Ok(())
}

fn check_times(violations: &mut Violations, duty: &DutyTable) {
    let duration = duty.duration_s;
    if !(duration.is_finite() && duration > 0.0 && duration <= 366.0 * 86_400.0) {
        let expected = "more than 0 s, at most a year";
        violations.add(
            "duty.duration_s",
            duration,
            expected,
            "give the time counted in seconds",
        );
        return;
    }
    for (i, time) in duty.time_s.iter().enumerate() {
        if !(time.is_finite() && *time >= 0.0) {
            let field = format!("duty.time_s[{i}]");
            violations.add(field, time, "a finite time, 0 s or more", "correct it");
        }
    }
    let sum: f64 = duty.time_s.iter().sum();
    let tolerance = SUM_ABSOLUTE_S.max(SUM_RELATIVE * duration);
    if sum.is_finite() && (sum - duration).abs() > tolerance {
        let expected = format!("duration_s = {duration} in sum, within {tolerance} s");
        let value = format!("{sum} in sum");
        violations.add("duty.time_s", value, &expected, "give every point its time");
    }
}

fn check_points(violations: &mut Violations, duty: &DutyTable) {
    if duty.channels.len() != duty.points.len() {
        let expected = format!("one column for each of {} channels", duty.channels.len());
        let value = format!("{} columns", duty.points.len());
        violations.add(
            "duty.points",
            value,
            &expected,
            "give each channel its column",
        );
    }
    let mut seen = BTreeSet::new();
    for (i, (name, column)) in duty.channels.iter().zip(&duty.points).enumerate() {
        let field = format!("duty.channels[{i}]");
        let Some(channel) = known_channel(violations, &field, name) else {
            continue;
        };
        once(violations, &mut seen, field, name);
        if column.len() != duty.time_s.len() {
            let expected = format!("{} values, as many as time_s", duty.time_s.len());
            let field = format!("duty.points[{i}]");
            violations.add(field, column.len(), &expected, "give each point its value");
        }
        let range = channel.minimum..=channel.maximum;
        // The first bad value of a column is enough to find what is wrong with it.
        if let Some((row, value)) = column.iter().enumerate().find(|(_, v)| !range.contains(v)) {
            let expected = format!(
                "{} to {} {}",
                channel.minimum, channel.maximum, channel.unit
            );
            let field = format!("duty.points[{i}][{row}] ({name})");
            violations.add(
                field,
                value,
                &expected,
                "check the sensor and the unit: it is SI",
            );
        }
    }
}

fn known_channel(violations: &mut Violations, field: &str, name: &str) -> Option<&'static Channel> {
    let channel = CHANNELS.iter().find(|channel| channel.name == name);
    if channel.is_none() {
        let remedy = "use a name that ListChannels gives, or leave the channel out";
        violations.add(field, format!("{name:?}"), "a standard channel", remedy);
    }
    channel
}

fn once(violations: &mut Violations, seen: &mut BTreeSet<String>, field: String, name: &str) {
    if !seen.insert(name.into()) {
        violations.add(
            field,
            format!("{name:?} again"),
            "each name once",
            "merge the two",
        );
    }
}

fn check_cycles(violations: &mut Violations, i: usize, cycles: &DutyCycles) {
    let field = format!("duty.cycles[{i}].channel");
    if let Some(channel) = known_channel(violations, &field, &cycles.channel)
        && !channel.counted
    {
        let counted: Vec<&str> = CHANNELS
            .iter()
            .filter(|c| c.counted)
            .map(|c| c.name)
            .collect();
        let expected = format!("one of {}", counted.join(", "));
        violations.add(field, &cycles.channel, &expected, "leave its cycles out");
    }
    let c = &cycles.cycles;
    let (ranges, means, counts) = (c.ranges.len(), c.means.len(), c.counts.len());
    if ranges != counts || means != counts {
        let value = format!("{ranges} ranges, {means} means, {counts} counts");
        let expected = "columns of equal length";
        violations.add(
            format!("duty.cycles[{i}]"),
            value,
            expected,
            "give each cycle all three",
        );
        return;
    }
    let bad = |column: &[f64], low: f64| {
        column
            .iter()
            .position(|value| !(value.is_finite() && *value >= low))
    };
    for (name, column, low, expected) in [
        ("ranges", &c.ranges, 0.0, "a finite range, 0 or more"),
        ("means", &c.means, f64::MIN, "a finite mean"),
        (
            "counts",
            &c.counts,
            0.0,
            "a finite count, 0 or more; halves occur",
        ),
    ] {
        if let Some(row) = bad(column, low) {
            let field = format!("duty.cycles[{i}].{name}[{row}]");
            let value = column.get(row).copied().unwrap_or(f64::NAN);
            violations.add(field, value, expected, "correct it");
        }
    }
}

fn check_shocks(violations: &mut Violations, i: usize, shocks: &DutyShocks) {
    let Some(kind) = SHOCKS.iter().find(|shock| shock.kind == shocks.kind) else {
        let kinds: Vec<&str> = SHOCKS.iter().map(|shock| shock.kind).collect();
        let expected = format!("one of {}", kinds.join(", "));
        let field = format!("duty.shocks[{i}].kind");
        violations.add(
            field,
            format!("{:?}", shocks.kind),
            &expected,
            "correct the kind",
        );
        return;
    };
    // Every field of the kind, so that a model that reads it never finds it missing.
    if shocks.fields != kind.fields || shocks.columns.len() != kind.fields.len() {
        let value = format!(
            "{} in {} columns",
            shocks.fields.join(", "),
            shocks.columns.len()
        );
        let expected = format!("a column for each of {}", kind.fields.join(", "));
        let field = format!("duty.shocks[{i}].fields");
        violations.add(field, value, &expected, "give every field, in this order");
        return;
    }
    let rows = shocks.columns.first().map_or(0, Vec::len);
    for (name, column) in shocks.fields.iter().zip(&shocks.columns) {
        let field = |row: usize| format!("duty.shocks[{i}].{name}[{row}]");
        if column.len() != rows {
            let expected = format!("{rows} values, as the first column has");
            violations.add(
                field(column.len()),
                column.len(),
                &expected,
                "complete each shock",
            );
        }
        let low = if matches!(name.as_str(), "start_s" | "duration_s") {
            0.0
        } else {
            f64::MIN
        };
        let bad = column
            .iter()
            .enumerate()
            .find(|(_, v)| !(v.is_finite() && **v >= low));
        if let Some((row, value)) = bad {
            let expected = if low == 0.0 {
                "a finite time, 0 s or more"
            } else {
                "a finite number"
            };
            violations.add(field(row), value, expected, "correct it");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_host::contract::LoadCycles;

    fn good() -> DutyTable {
        DutyTable {
            duration_s: 3.0,
            channels: vec!["engine_speed_rad_s".into()],
            time_s: vec![1.0, 2.0],
            points: vec![vec![100.0, 200.0]],
            cycles: vec![DutyCycles {
                channel: "engine_torque_n_m".into(),
                cycles: LoadCycles {
                    ranges: vec![100.0],
                    means: vec![-20.0],
                    counts: vec![0.5],
                },
            }],
            shocks: vec![DutyShocks {
                kind: "start".into(),
                fields: vec!["start_s".into(), "duration_s".into(), "oil_temp_k".into()],
                columns: vec![vec![0.0], vec![1.0], vec![300.0]],
            }],
        }
    }

    #[test]
    fn a_sound_table_passes() {
        let options = LedgerOptions::default();
        check_duty(&good(), &options).unwrap();
        let turns = 500.0 / std::f64::consts::TAU;
        assert!((crank_revolutions(&good()) - turns).abs() < 1e-12);
    }

    #[test]
    fn each_flaw_is_refused_by_its_field() {
        type Spoil = fn(&mut DutyTable);
        let cases: &[(&str, Spoil)] = &[
            ("duty.duration_s", |d| d.duration_s = 0.0),
            ("duty.duration_s", |d| d.duration_s = f64::NAN),
            ("duty.time_s", |d| d.duration_s = 3.01),
            ("duty.time_s[0]", |d| d.time_s[0] = -1.0),
            ("duty.channels[0]", |d| d.channels[0] = "rpm".into()),
            ("duty.points", |d| d.points.clear()),
            ("duty.points[0]", |d| d.points[0].truncate(1)),
            ("duty.points[0][1]", |d| d.points[0][1] = f64::INFINITY),
            ("duty.points[0][0]", |d| d.points[0][0] = -1.0),
            ("duty.channels[1]", |d| {
                d.channels.push(d.channels[0].clone());
                d.points.push(d.points[0].clone());
            }),
            ("duty.cycles[0].channel", |d| {
                d.cycles[0].channel = "oil_temp_k".into();
            }),
            ("duty.cycles[0]", |d| d.cycles[0].cycles.means.clear()),
            ("duty.cycles[0].counts[0]", |d| {
                d.cycles[0].cycles.counts[0] = -0.5;
            }),
            ("duty.shocks[0].kind", |d| d.shocks[0].kind = "bump".into()),
            ("duty.shocks[0].fields", |d| d.shocks[0].fields.truncate(2)),
            ("duty.shocks[0].oil_temp_k[0]", |d| {
                d.shocks[0].columns[2][0] = f64::NAN;
            }),
            ("duty.shocks[0].start_s[0]", |d| {
                d.shocks[0].columns[0][0] = -1.0;
            }),
        ];
        for (field, spoil) in cases {
            let mut duty = good();
            spoil(&mut duty);
            let error = check_duty(&duty, &LedgerOptions::default()).unwrap_err();
            let fields: Vec<&str> = error
                .violations()
                .iter()
                .map(|v| v.field.as_str())
                .collect();
            assert!(
                fields.iter().any(|f| f.starts_with(field)),
                "{field}: {fields:?}"
            );
        }
    }

    #[test]
    fn size_is_bounded() {
        let options = LedgerOptions {
            max_duty_values: 3,
            ..LedgerOptions::default()
        };
        let error = check_duty(&good(), &options).unwrap_err();
        assert_eq!(error.kind(), crate::ErrorKind::ResourceExhausted);
    }
}
