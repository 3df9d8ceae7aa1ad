//! Duty against what the card asks for.

use crate::contract::{Duty, DutyNeed, Finding, LoadCycles};
use crate::{error, warning};

/// Least and most value that a model takes of a channel or a field of a shock.
pub type Bounds = (f64, f64);

/// Duty has one column for each channel that the card needs, each as long as `time_s`, every value within its bounds;
/// likewise the fields of shocks. Counted cycles have ranges and counts of 0 or more and means within the channel's bounds.
/// `bounds` gives the bounds of a name; a name without bounds must only be finite.
///
/// # Errors
/// Every entry that departs from it, by name and row.
pub fn check_duty(
    need: &DutyNeed,
    duty: &Duty,
    bounds: impl Fn(&str) -> Option<Bounds>,
) -> Result<(), Vec<Finding>> {
    let rows = duty.time_s.len();
    let (channels, shocks) = (need.channels.len(), need.shocks.len());
    if duty.points.len() != channels || duty.points.iter().any(|column| column.len() != rows) {
        return Err(vec![error(
            "duty.points",
            duty.points.len() as f64,
            &format!("{channels} columns of {rows} values"),
            "give one column for each channel of the card, one value for each operating point",
        )]);
    }
    if duty.shocks.len() != shocks || duty.mates.len() != need.mates.len() {
        let given = duty.shocks.len() as f64;
        let expected = format!("{shocks} tables of shocks, {} mates", need.mates.len());
        let remedy = "give one table for each kind of shock of the card, one value for each mate";
        return Err(vec![error("duty.shocks", given, &expected, remedy)]);
    }
    if duty.cycles.len() != need.cycles.len() {
        let given = duty.cycles.len() as f64;
        let expected = format!("{} tables of counted cycles", need.cycles.len());
        let remedy = "give one table for each counted channel of the card";
        return Err(vec![error("duty.cycles", given, &expected, remedy)]);
    }
    let mut findings = Vec::new();
    check_column(&mut findings, "duty.time_s", &duty.time_s, (0.0, 1e9));
    for (channel, column) in need.channels.iter().zip(&duty.points) {
        let within = bounds(&channel.name).unwrap_or((f64::MIN, f64::MAX));
        check_column(
            &mut findings,
            &format!("duty.{}", channel.name),
            column,
            within,
        );
    }
    for (index, shock) in need.shocks.iter().enumerate() {
        for (field, name) in shock.fields.iter().enumerate() {
            let within = bounds(name).unwrap_or((f64::MIN, f64::MAX));
            let column = duty.shock_field(index, field);
            if column.len() == duty.shock_count(index) {
                let name = format!("duty.{}.{name}", shock.kind);
                check_column(&mut findings, &name, column, within);
            } else {
                let given = column.len() as f64;
                let expected = format!("{} values", duty.shock_count(index));
                let name = format!("duty.{}.{name}", shock.kind);
                findings.push(error(
                    &name,
                    given,
                    &expected,
                    "give one value for each shock",
                ));
            }
        }
    }
    for (channel, cycles) in need.cycles.iter().zip(&duty.cycles) {
        check_cycles(&mut findings, channel, cycles, bounds(channel));
    }
    check_column(
        &mut findings,
        "duty.mates",
        &duty.mates,
        (f64::MIN, f64::MAX),
    );
    if findings.is_empty() {
        Ok(())
    } else {
        Err(findings)
    }
}

fn check_cycles(
    findings: &mut Vec<Finding>,
    channel: &str,
    cycles: &LoadCycles,
    bounds: Option<Bounds>,
) {
    let count = cycles.counts.len();
    if cycles.ranges.len() != count || cycles.means.len() != count {
        findings.push(error(
            &format!("duty.cycles.{channel}"),
            cycles.ranges.len() as f64,
            &format!("{count} ranges and means, as there are counts"),
            "give range, mean and count of each class",
        ));
        return;
    }
    let (least, most) = bounds.unwrap_or((f64::MIN, f64::MAX));
    let widest = (most - least).min(f64::MAX);
    let columns = [
        ("ranges", &cycles.ranges, (0.0, widest)),
        ("means", &cycles.means, (least, most)),
        ("counts", &cycles.counts, (0.0, MOST_CYCLES)),
    ];
    for (name, column, within) in columns {
        check_column(
            findings,
            &format!("duty.cycles.{channel}.{name}"),
            column,
            within,
        );
    }
}

/// More than any record holds.
const MOST_CYCLES: f64 = 1e12;

fn check_column(findings: &mut Vec<Finding>, name: &str, column: &[f64], (least, most): Bounds) {
    for (row, value) in column.iter().enumerate() {
        if !(least..=most).contains(value) {
            findings.push(error(
                &format!("{name}[{row}]"),
                *value,
                &format!("{least} to {most}"),
                "check the channel's unit and its sensor",
            ));
        }
    }
}

/// Time-weighted mean of a column of operating points; `otherwise` when no time was spent.
pub fn time_mean(duty: &Duty, column: &[f64], otherwise: f64) -> f64 {
    let total_s: f64 = duty.time_s.iter().sum();
    let weighted = duty.time_s.iter().zip(column);
    let sum: f64 = weighted.map(|(time_s, value)| time_s * value).sum();
    if total_s > 0.0 && !column.is_empty() {
        sum / total_s
    } else {
        otherwise
    }
}

/// A warning for each channel for which the card's default stands in throughout an event.
pub fn standing_in(need: &DutyNeed, event: &Duty) -> Vec<Finding> {
    let mut notes = Vec::new();
    for (index, channel) in need.channels.iter().enumerate() {
        let column = event.channel(index);
        let stands_in = column
            .iter()
            .all(|value| value.to_bits() == channel.default_value.to_bits());
        if !channel.required && !column.is_empty() && stands_in {
            notes.push(warning(
                &format!("event.{}", channel.name),
                channel.default_value,
                "a logged channel",
                "the card's default stands in: log the channel",
            ));
        }
    }
    notes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contract::Table;
    use crate::{channel, channel_or, shock};

    fn need() -> DutyNeed {
        DutyNeed {
            channels: vec![
                channel("engine_speed_rad_s", ""),
                channel_or("oil_temp_k", 380.0, ""),
            ],
            cycles: Vec::new(),
            shocks: vec![shock("over_rev", &["duration_s"])],
            mates: Vec::new(),
        }
    }

    fn duty(speed: f64, oil_k: f64, shock_s: f64) -> Duty {
        Duty {
            duration_s: 3.0,
            time_s: vec![1.0, 2.0],
            points: vec![vec![speed, 300.0], vec![oil_k, 380.0]],
            cycles: Vec::new(),
            shocks: vec![Table {
                columns: vec![vec![shock_s]],
            }],
            mates: Vec::new(),
        }
    }

    fn bounds(name: &str) -> Option<Bounds> {
        match name {
            "engine_speed_rad_s" => Some((0.0, 2500.0)),
            "duration_s" => Some((0.0, 3600.0)),
            _ => None,
        }
    }

    #[test]
    fn every_value_out_of_bounds_is_named_by_row() {
        assert!(check_duty(&need(), &duty(100.0, 380.0, 1.0), bounds).is_ok());
        let wrong = check_duty(&need(), &duty(-1.0, f64::NAN, 4000.0), bounds).unwrap_err();
        let fields: Vec<&str> = wrong.iter().map(|finding| finding.field.as_str()).collect();
        let expected = [
            "duty.engine_speed_rad_s[0]",
            "duty.oil_temp_k[0]",
            "duty.over_rev.duration_s[0]",
        ];
        assert_eq!(fields, expected);
    }

    #[test]
    fn counted_cycles_are_checked_as_columns_are() {
        let mut need = need();
        need.cycles = vec!["engine_speed_rad_s".into()];
        let mut counted = duty(100.0, 380.0, 1.0);
        let refused = check_duty(&need, &counted, bounds).unwrap_err();
        assert_eq!(refused[0].field, "duty.cycles");
        counted.cycles = vec![LoadCycles {
            ranges: vec![f64::NAN, 3.0e3],
            means: vec![-1.0, 100.0],
            counts: vec![1.0, -1.0],
        }];
        let refused = check_duty(&need, &counted, bounds).unwrap_err();
        let fields: Vec<&str> = refused.iter().map(|found| found.field.as_str()).collect();
        let named = |column: &str| format!("duty.cycles.engine_speed_rad_s.{column}");
        let expected = ["ranges[0]", "ranges[1]", "means[0]", "counts[1]"].map(named);
        assert_eq!(fields, expected);
        counted.cycles[0].means.pop();
        let refused = check_duty(&need, &counted, bounds).unwrap_err();
        assert_eq!(refused[0].field, "duty.cycles.engine_speed_rad_s");
    }

    #[test]
    fn columns_must_be_there_and_as_long_as_the_time() {
        let mut short = duty(100.0, 380.0, 1.0);
        short.points[1].pop();
        assert!(check_duty(&need(), &short, bounds).is_err());
        let mut without = duty(100.0, 380.0, 1.0);
        without.shocks.clear();
        assert!(check_duty(&need(), &without, bounds).is_err());
    }

    #[test]
    fn a_default_throughout_is_told_and_means_weigh_time() {
        assert_eq!(standing_in(&need(), &duty(100.0, 380.0, 1.0)).len(), 1);
        let logged = duty(100.0, 350.0, 1.0);
        assert!(standing_in(&need(), &logged).is_empty());
        assert!((time_mean(&logged, &logged.points[1], 0.0) - 370.0).abs() < 1e-12);
        assert!((time_mean(&logged, &[], 5.0) - 5.0).abs() < 1e-12);
    }
}
