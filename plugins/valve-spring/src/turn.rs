//! What one turn of the cam does to the spring.

use ringland_engine::valvetrain::TrainCycle;
use ringland_mechanics::counting::NotFinite;
use ringland_mechanics::spring::heat::{loop_work_j, rise_k, stroke_work_j};
use ringland_mechanics::valve_train::STATIONS;

use crate::spec::Spec;
use crate::wire::ZONES;

/// A turn of the cam, as the spring has felt it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// Utilisation of the zones where the spring is worst.
    pub utilisation: [f64; ZONES],
    /// The steady stress by which the wire would relax as fast \[Pa\].
    pub relaxing_pa: f64,
    /// By how much the spring is hotter than the oil \[K\].
    pub rise_k: f64,
    /// Largest local closure of the coils from the closed valve, as a deflection of the whole spring \[m\].
    pub closure_m: f64,
    /// Highest shear stress \[Pa\].
    pub highest_pa: f64,
    /// Largest gap between valve and cam while the cam holds the valve open \[m\].
    pub loft_m: f64,
}

/// Values of a [`Turn`] in a map.
pub const WIDTH: usize = ZONES + 5;

impl Turn {
    /// From a cycle of the train.
    ///
    /// # Errors
    /// A stress that is not finite.
    pub fn of(spec: &Spec, cycle: &TrainCycle) -> Result<Self, NotFinite> {
        let spring = &spec.train.spring;
        let per_newton_pa = spring.shear_stress_pa(1.0);
        let (mut utilisation, mut relaxing_pa) = ([0.0_f64; ZONES], 0.0_f64);
        let (mut highest_n, mut closure_n) = (0.0_f64, 0.0_f64);
        for station in 0..STATIONS {
            let trace_pa = stress_trace_pa(spec, cycle, station);
            for (most, here) in utilisation
                .iter_mut()
                .zip(spec.wire.utilisation(&trace_pa)?)
            {
                *most = most.max(here);
            }
            relaxing_pa = relaxing_pa.max(power_mean_pa(spec, &trace_pa));
            for &stress_pa in &trace_pa {
                highest_n = highest_n.max(stress_pa / per_newton_pa);
                closure_n = closure_n.max(stress_pa / per_newton_pa - cycle.seat_load_n);
            }
        }
        Ok(Self {
            utilisation,
            relaxing_pa,
            rise_k: rise_k(spring, heat_w(spec, cycle), spec.heat_transfer_w_m2_k),
            closure_m: closure_n / spring.rate_n_m(),
            highest_pa: highest_n * per_newton_pa,
            loft_m: cycle.loft_m(),
        })
    }

    /// As a row of a map.
    pub fn row(&self) -> Vec<f64> {
        let [surface, core] = self.utilisation;
        vec![
            surface,
            core,
            self.relaxing_pa,
            self.rise_k,
            self.closure_m,
            self.highest_pa,
            self.loft_m,
        ]
    }

    /// From a row of a map.
    pub fn from_row(
        [
            surface,
            core,
            relaxing_pa,
            rise_k,
            closure_m,
            highest_pa,
            loft_m,
        ]: [f64; WIDTH],
    ) -> Self {
        Self {
            utilisation: [surface, core],
            relaxing_pa,
            rise_k,
            closure_m,
            highest_pa,
            loft_m,
        }
    }
}

/// Shear stress at a station over a turn \[Pa\].
pub fn stress_trace_pa(spec: &Spec, cycle: &TrainCycle, station: usize) -> Vec<f64> {
    let per_newton_pa = spec.train.spring.shear_stress_pa(1.0);
    let force = |at: &ringland_engine::valvetrain::Instant| at.point.coil_n[station];
    cycle
        .instants
        .iter()
        .map(|at| per_newton_pa * force(at))
        .collect()
}

/// Mean over the turn by the power in which stress hastens relaxation.
fn power_mean_pa(spec: &Spec, trace_pa: &[f64]) -> f64 {
    // A mean of a smooth history needs no more than every second degree.
    let told = trace_pa.iter().step_by(4);
    let count = told.len() as f64;
    let factors = told.map(|pa| spec.relaxation.stress_factor(*pa));
    let mean = factors.sum::<f64>() / count;
    let exponent = spec.relaxation.stress_exponent;
    spec.relaxation.stress_pa * libm::pow(mean, 1.0 / exponent)
}

/// Power that the spring turns into heat \[W\]: what surge takes out of the retainer's motion, and a share of the work of the stroke.
fn heat_w(spec: &Spec, cycle: &TrainCycle) -> f64 {
    let force_n: Vec<f64> = cycle
        .instants
        .iter()
        .map(|at| at.point.retainer_n)
        .collect();
    let lift_m: Vec<f64> = cycle.instants.iter().map(|at| at.point.lift_m).collect();
    let rate_n_m = spec.train.spring.rate_n_m();
    let open_n = cycle.seat_load_n + rate_n_m * spec.train.lift.largest_m();
    let stroke_j = stroke_work_j(rate_n_m, cycle.seat_load_n, open_n);
    let turn_j = loop_work_j(&force_n, &lift_m).max(0.0) + spec.hysteresis_fraction * stroke_j;
    turn_j * cycle.motion.cam_speed_rad_s / std::f64::consts::TAU
}
