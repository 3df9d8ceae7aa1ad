//! One turn of the cam: forces on taper, flange and spring seat, and what they do.

use ringland_engine::valvetrain::TrainCycle;
use ringland_mechanics::counting::{Cycle, rainflow};
use ringland_mechanics::fatigue::SnLine;
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::taper::{EndCoil, Flange, MicroSlip, Ring};
use ringland_mechanics::valve_train::{MotionError, STATIONS};

use crate::constants as c;
use crate::joint::{Site, line};
use crate::spec::{GRIPPING, Spec};

/// How many values a turn has.
pub const WIDTH: usize = 9;

/// What one turn of the cam does.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Turn {
    /// Pressure times sliding on the taper \[Pa·m\]: mean, and where it is largest.
    pub taper_pa_m: [f64; 2],
    /// Sliding to and fro on the taper, mean \[m\].
    pub slid_m: f64,
    /// How often the retainer came off its keepers.
    pub came_off: f64,
    /// Lowest and highest axial force on the taper \[N\].
    pub force_n: [f64; 2],
    /// Pressure times sliding under the end coil \[Pa·m\].
    pub seat_pa_m: f64,
    /// Damage of the flange's fillet \[1\].
    pub flange: f64,
    /// Damage of the hub's bore \[1\].
    pub hub: f64,
}

impl Turn {
    /// As a row of the map.
    pub fn to_row(self) -> [f64; WIDTH] {
        let ([mean, worst], [low, high]) = (self.taper_pa_m, self.force_n);
        let Self {
            slid_m,
            came_off,
            seat_pa_m,
            flange,
            hub,
            ..
        } = self;
        [
            mean, worst, slid_m, came_off, low, high, seat_pa_m, flange, hub,
        ]
    }

    /// From a row of the map.
    pub fn from_row(row: [f64; WIDTH]) -> Self {
        let [
            mean,
            worst,
            slid_m,
            came_off,
            low,
            high,
            seat_pa_m,
            flange,
            hub,
        ] = row;
        Self {
            taper_pa_m: [mean, worst],
            slid_m,
            came_off,
            force_n: [low, high],
            seat_pa_m,
            flange,
            hub,
        }
    }
}

/// Why a turn has no solution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unsolved {
    /// The motion of the valve.
    Motion(MotionError),
    /// The spec.
    Range(OutOfRange),
    /// The friction of the taper, at a crank speed \[rad/s\].
    Taper(f64),
    /// A force that is not finite, at a crank speed \[rad/s\].
    Force(f64),
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Motion(error) => error.fmt(out),
            Self::Range(error) => error.fmt(out),
            Self::Taper(speed) => write!(out, "no balance of the taper at {speed:.0} rad/s"),
            Self::Force(speed) => write!(out, "no finite force at {speed:.0} rad/s"),
        }
    }
}

impl From<MotionError> for Unsolved {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}

impl From<OutOfRange> for Unsolved {
    fn from(error: OutOfRange) -> Self {
        Self::Range(error)
    }
}

/// Retainer, keepers and spring end, ready for turns.
pub struct Bodies<'a> {
    spec: &'a Spec,
    micro_slip: MicroSlip,
    hub: Ring,
    flange: Flange,
    fillet_factor: f64,
    coil: EndCoil,
    pitch_m: f64,
    sites: [Site; 2],
    line: SnLine,
}

impl<'a> Bodies<'a> {
    /// Of a spec.
    ///
    /// # Errors
    /// A fillet or roughness out of range.
    pub fn new(spec: &'a Spec) -> Result<Self, OutOfRange> {
        Ok(Self {
            spec,
            micro_slip: spec.micro_slip(),
            hub: spec.hub(),
            flange: spec.flange(),
            fillet_factor: spec.fillet_factor()?,
            coil: spec.end_coil(),
            pitch_m: spec.pitch_m(),
            sites: [Site::flange(spec)?, Site::hub(spec)?],
            line: line()?,
        })
    }

    /// With the taper's grid changed: cells, steps between reversals.
    #[must_use]
    pub fn with_grid(mut self, cells: usize, steps: usize) -> Self {
        self.micro_slip.stations = cells;
        self.micro_slip.steps = steps;
        self
    }

    /// What a turn does.
    ///
    /// # Errors
    /// No balance of the taper, or forces that are not finite.
    pub fn turn(&self, cycle: &TrainCycle) -> Result<Turn, Unsolved> {
        let forces: Vec<f64> = taper_forces(self.spec, cycle).collect();
        let taper = self.micro_slip.cycle(&reversals(&forces));
        let taper = taper.ok_or(Unsolved::Taper(cycle.crank_speed_rad_s))?;
        let moments = moments_n_m(self.spec, cycle);
        let loads: Vec<(f64, f64)> = forces.iter().copied().zip(moments).collect();
        let taper = self.micro_slip.with_edges(taper, &loads);
        let fold = |by: fn(f64, f64) -> f64| forces.iter().copied().fold(forces[0], by);
        let not_finite = |_| Unsolved::Force(cycle.crank_speed_rad_s);
        let on_flange =
            cycles(cycle.instants.iter().map(|at| at.point.retainer_n)).map_err(not_finite)?;
        let in_coil = cycles(
            cycle
                .instants
                .iter()
                .map(|at| at.point.coil_n[STATIONS - 1]),
        )
        .map_err(not_finite)?;
        let [low_pa, high_pa] = taper.pressure_pa;
        Ok(Turn {
            taper_pa_m: [taper.dose_pa_m, taper.worst_dose_pa_m],
            slid_m: taper.slid_m,
            came_off: f64::from(taper.came_off),
            force_n: [fold(f64::min), fold(f64::max)],
            seat_pa_m: in_coil.iter().map(|cycle| self.seat_pa_m(cycle)).sum(),
            flange: on_flange
                .iter()
                .map(|cycle| self.flange_damage(cycle))
                .sum(),
            hub: self.hub_damage(low_pa, high_pa),
        })
    }

    /// Pressure times sliding under the end coil over a cycle of its force \[N\], there and back.
    fn seat_pa_m(&self, cycle: &Cycle) -> f64 {
        let seat_load_n = self.spec.train.seat_load_n;
        let (low_n, high_n) = (
            cycle.mean - 0.5 * cycle.range,
            cycle.mean + 0.5 * cycle.range,
        );
        let pitch_m = self.pitch_m - (low_n - seat_load_n) * self.coil.pitch_m_n;
        let growth_m = self.coil.growth_m(pitch_m, low_n, high_n);
        2.0 * cycle.count * self.coil.dose_pa_m(growth_m, cycle.mean)
    }

    /// Damage of the flange's fillet by a cycle of the spring's force \[N\].
    pub fn flange_damage(&self, cycle: &Cycle) -> f64 {
        let stress = |force_n| {
            let nominal_pa = self.flange.root_stress_pa(force_n, self.coil.coil_m);
            self.fillet_factor * nominal_pa
        };
        let (amplitude_pa, mean_pa) = (stress(0.5 * cycle.range), stress(cycle.mean));
        let share = self.sites[0].utilisation(self.spec, amplitude_pa, mean_pa);
        self.line.damage(share, cycle.count)
    }

    /// Damage of the hub's bore by a cycle of the pressure on it \[Pa\]. Hoop tension and pressure add up (H. Tresca).
    pub fn hub_damage(&self, low_pa: f64, high_pa: f64) -> f64 {
        let factor = 1.0 + self.hub.bore_hoop();
        let (amplitude_pa, mean_pa) = (
            0.5 * factor * (high_pa - low_pa),
            0.5 * factor * (high_pa + low_pa),
        );
        let share = self.sites[1].utilisation(self.spec, amplitude_pa, mean_pa);
        self.line.damage(share, 1.0)
    }
}

/// Axial force on the taper over the turn \[N\]: the spring's, and what speeds the retainer up.
pub fn taper_forces<'a>(spec: &Spec, cycle: &'a TrainCycle) -> impl Iterator<Item = f64> + 'a {
    let mass_kg = spec.retainer_mass_kg;
    let points = cycle.instants.iter().map(|at| &at.point);
    points.map(move |point| point.retainer_n + mass_kg * point.acceleration_m_s2)
}

/// Moment that bends the stem within its keepers \[N·m\]: the rocker's scrub over the tip and its force off the stem's axis. A stem that turns freely
/// in its keepers does not take them along.
pub fn moments_n_m<'a>(spec: &Spec, cycle: &'a TrainCycle) -> impl Iterator<Item = f64> + 'a {
    let clamped = f64::from(u8::from(spec.locks == GRIPPING));
    let arm_m = spec.tip_height_m * clamped;
    cycle
        .instants
        .iter()
        .map(move |at| at.side_n * arm_m + at.point.train_n * at.tip_offset_m * clamped)
}

/// The reversals of a force that repeats, from its highest value on: ranges below a small share of that are passed over.
pub fn reversals(forces_n: &[f64]) -> Vec<f64> {
    let indexed = forces_n.iter().enumerate();
    let Some((start, &highest)) = indexed.max_by(|a, b| a.1.total_cmp(b.1)) else {
        return Vec::new();
    };
    let least = c::LEAST_RANGE * highest.abs();
    let mut found = vec![highest];
    let (mut tip, mut falling) = (highest, true);
    for index in 1..=forces_n.len() {
        let force = forces_n[(start + index) % forces_n.len()];
        let onward = if falling { force <= tip } else { force >= tip };
        if onward {
            tip = force;
        } else if (force - tip).abs() > least {
            found.push(tip);
            (tip, falling) = (force, !falling);
        }
    }
    // The last rise ends at the highest value, where the next turn starts.
    found
}

/// Rainflow-counted cycles of a force that repeats.
fn cycles(
    forces_n: impl Iterator<Item = f64>,
) -> Result<Vec<Cycle>, ringland_mechanics::counting::NotFinite> {
    let mut history = reversals(&forces_n.collect::<Vec<f64>>());
    history.extend(history.first().copied());
    rainflow(&history)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reversals_start_at_the_highest_and_pass_over_the_small() {
        let forces = [
            1.0, 5.0, 4.99, 5.0, 2.0, 100.0, 99.5, 40.0, 40.5, 30.0, 60.0, 59.5,
        ];
        assert_eq!(reversals(&forces), vec![100.0, 30.0, 60.0, 1.0, 5.0, 2.0]);
        assert!(reversals(&[]).is_empty());
        assert_eq!(reversals(&[3.0, 3.0]), [3.0]);
    }

    /// Two nested cycles, closed by the repetition.
    #[test]
    fn cycles_of_a_turn_are_whole() {
        let counted = cycles([100.0, 30.0, 60.0, 10.0].into_iter()).unwrap();
        let whole: f64 = counted.iter().map(|cycle| cycle.count).sum();
        assert!((whole - 2.0).abs() < 1e-12, "{counted:?}");
        assert!(
            counted
                .iter()
                .any(|cycle| (cycle.range - 90.0).abs() < 1e-12)
        );
    }

    #[test]
    fn rows_keep_their_order() {
        let row: [f64; WIDTH] = std::array::from_fn(|k| k as f64);
        let again = Turn::from_row(row).to_row();
        assert!(again.iter().zip(&row).all(|(a, b)| (a - b).abs() < 1e-15));
    }
}
