//! What a record says of this shaft: its torque cycles, its extreme torques, what slides in its spline.

use std::f64::consts::TAU;

use ringland_driveline::{Block, TorqueCycle, Use, read};
use ringland_plugin::{Duty, DutyNeed, Finding};

use crate::site::Cycle;
use crate::spec::Spec;

/// A record, in torques of this shaft.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShaftUse {
    /// Counted cycles.
    pub counted: Vec<Cycle>,
    /// Launches by the clutch's torque, where the counted cycles do not hold them.
    pub launched: Vec<Cycle>,
    /// Launches of the record.
    pub launches: f64,
    /// Highest torque in drive, and against it, both 0 or more \[N·m\].
    pub highest_n_m: f64,
    /// See `highest_n_m`.
    pub reverse_n_m: f64,
    /// Highest torque of a launch by the clutch's torque \[N·m\], whether it counts or not.
    pub launch_n_m: f64,
    /// Time \[s\] and torque \[N·m\] of each operating point.
    pub points: Vec<(f64, f64)>,
    /// Pressure times sliding of the flanks \[Pa·m\] at each operating point, by the tilt of the shaft.
    pub tilt_pa_m: Vec<f64>,
    /// The same by all changes of torque.
    pub torque_pa_m: f64,
}

/// Reads a record.
///
/// # Errors
/// Every entry out of bounds.
pub fn shaft_use(spec: &Spec, need: &DutyNeed, record: &Duty) -> Result<ShaftUse, Vec<Finding>> {
    let used = read(need, record)?;
    let share = spec.torque_share;
    let cycle = |cycle: &TorqueCycle| Cycle {
        amplitude_n_m: 0.5 * share * cycle.range_n_m,
        mean_n_m: share * cycle.mean_n_m,
        count: cycle.count,
    };
    let points = used.points.iter();
    let mut shaft = ShaftUse {
        counted: used
            .cycles
            .iter()
            .filter(|cycle| cycle.count > 0.0)
            .map(cycle)
            .collect(),
        points: points
            .map(|block| (block.time_s, share * block.axle_torque_n_m))
            .collect(),
        tilt_pa_m: used
            .points
            .iter()
            .map(|block| tilt_pa_m(spec, block))
            .collect(),
        ..ShaftUse::default()
    };
    launches(spec, &used, &mut shaft);
    let cycles = shaft.counted.iter().chain(&shaft.launched);
    shaft.torque_pa_m = cycles.map(|cycle| torque_pa_m(spec, cycle)).sum();
    extremes(&mut shaft);
    Ok(shaft)
}

fn launches(spec: &Spec, used: &Use, shaft: &mut ShaftUse) {
    for launch in used.engagements.iter().filter(|at| at.launch) {
        let peak_n_m = spec.launch_torque_n_m(launch.peak_torque_n_m);
        shaft.launches += 1.0;
        shaft.launch_n_m = shaft.launch_n_m.max(peak_n_m);
        if spec.launches_by_clutch {
            shaft.launched.push(Cycle {
                amplitude_n_m: 0.5 * peak_n_m,
                mean_n_m: 0.5 * peak_n_m,
                count: 1.0,
            });
        }
    }
}

fn extremes(shaft: &mut ShaftUse) {
    let cycles = shaft.counted.iter().chain(&shaft.launched);
    let ends = cycles.flat_map(|cycle| {
        [
            cycle.mean_n_m + cycle.amplitude_n_m,
            cycle.mean_n_m - cycle.amplitude_n_m,
        ]
    });
    let held = shaft.points.iter().filter(|(time_s, _)| *time_s > 0.0);
    let (mut highest_n_m, mut reverse_n_m): (f64, f64) = (0.0, 0.0);
    for torque_n_m in ends.chain(held.map(|(_, torque_n_m)| *torque_n_m)) {
        highest_n_m = highest_n_m.max(torque_n_m);
        reverse_n_m = reverse_n_m.max(-torque_n_m);
    }
    shaft.highest_n_m = highest_n_m;
    shaft.reverse_n_m = reverse_n_m;
}

/// Pressure times sliding \[Pa·m\] by the turns of a shaft that the joint's couple, `M tan(β/2)`, tilts in its spline.
fn tilt_pa_m(spec: &Spec, block: &Block) -> f64 {
    let torque_n_m = (spec.torque_share * block.axle_torque_n_m).abs();
    let couple_n_m = torque_n_m * libm::tan(0.5 * block.joint_angle_rad.abs());
    let turns = block.wheel_speed_rad_s().abs() * block.time_s / TAU;
    let slides_m = spec.spline.tilt_slip_m(spec.spline.tilt_rad(couple_n_m));
    spec.spline.flank_pressure_pa(torque_n_m) * slides_m * turns
}

/// Pressure times sliding \[Pa·m\] of the drive flanks, to and fro, by cycles of the torque: the pressure in the mean of what it slides at.
fn torque_pa_m(spec: &Spec, cycle: &Cycle) -> f64 {
    let high_n_m = (cycle.mean_n_m + cycle.amplitude_n_m).max(0.0);
    let low_n_m = (cycle.mean_n_m - cycle.amplitude_n_m).max(0.0);
    let mean_pa = spec.spline.flank_pressure_pa(0.5 * (high_n_m + low_n_m));
    2.0 * spec.spline.flank_slip_m(high_n_m - low_n_m) * mean_pa * cycle.count
}
