//! A duty record of a driveline, taken apart.

use ringland_plugin::{Duty, DutyNeed, Finding, check_duty, time_mean};

use crate::needs::{AXLE_TORQUE_CYCLES, bounds};
use crate::{Block, Engagement, Impact, Shift, shocks};

/// Counted cycles of the axle torque.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TorqueCycle {
    /// Largest less least \[N·m\], both wheels together.
    pub range_n_m: f64,
    /// Their mean \[N·m\].
    pub mean_n_m: f64,
    /// How often; halves are residual half cycles.
    pub count: f64,
}

/// What a record says of a driveline.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Use {
    /// Time at operating points.
    pub points: Vec<Block>,
    /// Launches and other engagements of the clutch, in the order of their start.
    pub engagements: Vec<Engagement>,
    /// Gear shifts.
    pub shifts: Vec<Shift>,
    /// Impacts.
    pub impacts: Vec<Impact>,
    /// Counted cycles of the axle torque.
    pub cycles: Vec<TorqueCycle>,
    /// Time-weighted mean of the operating points; its time is theirs together.
    pub mean: Block,
    /// Length of the record \[s\].
    pub duration_s: f64,
}

/// Checks a record against the card's need and reads it by name. Kinds of shock and cycles that the card does not ask for are empty.
///
/// # Errors
/// Every entry out of bounds.
pub fn read(need: &DutyNeed, duty: &Duty) -> Result<Use, Vec<Finding>> {
    check_duty(need, duty, bounds)?;
    let mut points = vec![Block::default(); duty.time_s.len()];
    for (block, time_s) in points.iter_mut().zip(&duty.time_s) {
        block.time_s = *time_s;
    }
    let mut mean = Block {
        time_s: duty.time_s.iter().sum(),
        ..Block::default()
    };
    for (need, column) in need.channels.iter().zip(&duty.points) {
        for (block, value) in points.iter_mut().zip(column) {
            block.set(&need.name, *value);
        }
        mean.set(&need.name, time_mean(duty, column, need.default_value));
    }
    let engagements =
        |kind: &str, launch| shocks::of(need, duty, kind, |field| Engagement::read(launch, field));
    let mut all = engagements("launch", true);
    all.extend(engagements("clutch_engagement", false));
    all.sort_by(|a, b| a.start_s.total_cmp(&b.start_s)); // stable: launches first
    Ok(Use {
        points,
        engagements: all,
        shifts: shocks::of(need, duty, "shift", Shift::read),
        impacts: shocks::of(need, duty, "impact", Impact::read),
        cycles: torque_cycles(need, duty),
        mean,
        duration_s: duty.duration_s,
    })
}

fn torque_cycles(need: &DutyNeed, duty: &Duty) -> Vec<TorqueCycle> {
    let index = need
        .cycles
        .iter()
        .position(|name| name == AXLE_TORQUE_CYCLES);
    let Some(cycles) = index.and_then(|index| duty.cycles.get(index)) else {
        return Vec::new();
    };
    let ranges = cycles.ranges.iter().zip(&cycles.means).zip(&cycles.counts);
    ranges
        .map(|((range_n_m, mean_n_m), count)| TorqueCycle {
            range_n_m: *range_n_m,
            mean_n_m: *mean_n_m,
            count: *count,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{clutch_engagement, impact, launch, optional, required};
    use ringland_plugin::{LoadCycles, Table};

    fn need() -> DutyNeed {
        let mut channels = required(&["axle_torque_n_m"]);
        channels.extend(optional(&["axle_oil_temp_k"]));
        DutyNeed {
            channels,
            cycles: vec![AXLE_TORQUE_CYCLES.into()],
            shocks: vec![impact(), clutch_engagement(), launch()],
            mates: Vec::new(),
        }
    }

    fn duty() -> Duty {
        let rows = |columns: &[&[f64]]| Table {
            columns: columns.iter().map(|column| column.to_vec()).collect(),
        };
        Duty {
            duration_s: 40.0,
            time_s: vec![10.0, 30.0],
            points: vec![vec![500.0, -80.0], vec![370.0, 390.0]],
            cycles: vec![LoadCycles {
                ranges: vec![900.0],
                means: vec![450.0],
                counts: vec![2.5],
            }],
            shocks: vec![
                rows(&[&[0.01], &[-60.0]]),
                rows(&[&[9.0], &[0.5], &[4e4], &[8e4], &[150.0]]),
                rows(&[
                    &[20.0, 1.0],
                    &[1.5, 1.6],
                    &[2e5, 3e5],
                    &[3e5, 4e5],
                    &[500.0, 600.0],
                ]),
            ],
            mates: Vec::new(),
        }
    }

    #[test]
    fn a_record_is_read_by_the_names_of_the_card() {
        let read = read(&need(), &duty()).unwrap();
        assert!((read.points[1].axle_torque_n_m + 80.0).abs() < 1e-12);
        assert!((read.points[1].gearbox_oil_k - 368.15).abs() < 1e-12);
        assert!((read.mean.axle_oil_k - 385.0).abs() < 1e-9);
        assert!((read.mean.time_s - 40.0).abs() < 1e-12);
        let starts: Vec<(f64, bool)> = read
            .engagements
            .iter()
            .map(|e| (e.start_s, e.launch))
            .collect();
        assert_eq!(starts, [(1.0, true), (9.0, false), (20.0, true)]);
        assert!((read.engagements[0].energy_j - 3e5).abs() < 1e-9);
        assert!((read.impacts[0].peak_vertical_m_s2 - 60.0).abs() < 1e-12);
        assert!(read.shifts.is_empty());
        let [cycle] = read.cycles[..] else {
            panic!("{:?}", read.cycles)
        };
        assert!((cycle.count - 2.5).abs() < 1e-12 && (cycle.range_n_m - 900.0).abs() < 1e-12);
    }

    #[test]
    fn a_broken_value_is_named() {
        let mut broken = duty();
        broken.cycles[0].counts[0] = f64::NAN;
        broken.shocks[1].columns[2][0] = -1.0;
        let findings = read(&need(), &broken).unwrap_err();
        let fields: Vec<&str> = findings.iter().map(|found| found.field.as_str()).collect();
        let expected = [
            "duty.clutch_engagement.energy_j[0]",
            "duty.cycles.axle_torque_n_m.counts[0]",
        ];
        assert_eq!(fields, expected);
    }
}
