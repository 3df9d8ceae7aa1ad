//! The guide solved over engine speed: what one turn of the cam slides and presses at both ends.

use ringland_engine::valvetrain::{self, SpeedGrid, SpeedMap, TrainCycle};
use ringland_mechanics::guide::{EndForces, SlideDose, press};
use ringland_mechanics::valve_train::MotionError;
use ringland_plugin::Finding;

use crate::spec::{Own, Spec};

const WIDTH: usize = 8;

/// Grid of the map.
pub const GRID: SpeedGrid = SpeedGrid::as_built(WIDTH, 2);

/// One turn of the cam.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GuideCycle {
    /// Force times sliding at both ends \[N·m\].
    pub dose: SlideDose,
    /// Highest force times sliding speed at the top and at the bottom \[W\].
    pub power_w: [f64; 2],
    /// Path of the stem \[m\].
    pub path_m: f64,
    /// Mean speed of the moving stem over that of the crank \[m\].
    pub speed_radius_m: f64,
}

impl GuideCycle {
    /// Solves a turn. While the seat holds the valve nothing slides.
    pub fn of(own: &Own, cycle: &TrainCycle) -> Self {
        let mut found = Self::default();
        let step_s = cycle.instant_s();
        let mut moving_s = 0.0;
        for instant in &cycle.instants {
            let point = &instant.point;
            if point.lift_m <= 0.0 {
                continue;
            }
            let moment_n_m = point.train_n * instant.tip_offset_m;
            let forces = end_forces(own, point.lift_m, instant.side_n, moment_n_m);
            let slid_m = point.velocity_m_s.abs() * step_s;
            found.dose.add(forces, slid_m);
            for (power_w, force_n) in found
                .power_w
                .iter_mut()
                .zip([forces.top_n, forces.bottom_n])
            {
                *power_w = power_w.max((force_n * point.velocity_m_s).abs());
            }
            found.path_m += slid_m;
            moving_s += step_s;
        }
        if moving_s > 0.0 {
            found.speed_radius_m = found.path_m / (moving_s * cycle.crank_speed_rad_s);
        }
        found
    }

    fn values(&self) -> [f64; WIDTH] {
        [
            self.dose.top_plus_n_m,
            self.dose.top_minus_n_m,
            self.dose.bottom_plus_n_m,
            self.dose.bottom_minus_n_m,
            self.power_w[0],
            self.power_w[1],
            self.path_m,
            self.speed_radius_m,
        ]
    }

    fn from_values(values: [f64; WIDTH]) -> Self {
        let [
            top_plus_n_m,
            top_minus_n_m,
            bottom_plus_n_m,
            bottom_minus_n_m,
            top_w,
            bottom_w,
            path_m,
            speed_radius_m,
        ] = values;
        Self {
            dose: SlideDose {
                top_plus_n_m,
                top_minus_n_m,
                bottom_plus_n_m,
                bottom_minus_n_m,
            },
            power_w: [top_w, bottom_w],
            path_m,
            speed_radius_m,
        }
    }
}

/// Forces at the ends at a lift \[m\], from the side force on the tip \[N\] and the moment of the force on it \[N·m\].
pub fn end_forces(own: &Own, lift_m: f64, side_n: f64, moment_n_m: f64) -> EndForces {
    let overhang_m = own.tip_overhang_m - lift_m;
    press(own.guide_length_m, overhang_m, side_n, moment_n_m)
}

/// Solves the map.
///
/// # Errors
/// A speed without a solution.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    valvetrain::prepare(&spec.train, &GRID, |cycle| {
        Ok::<_, MotionError>(GuideCycle::of(&spec.own, cycle).values().to_vec())
    })
}

/// Looks a crank speed \[rad/s\] up, for the spring as built. Says whether it lies beyond the map.
pub fn look_up(map: &SpeedMap<'_>, spec: &Spec, speed_rad_s: f64) -> (GuideCycle, bool) {
    let mut values = [0.0; WIDTH];
    let outside = map.look_up(speed_rad_s, spec.train.seat_load_n, &mut values);
    (GuideCycle::from_values(values), outside)
}
