//! Where a taper that holds as a whole slides under an alternating force.
//!
//! Hub and core are bars that share the axial force along the contact: `s″ = C b τ(s) − F (δ(z − z_load)/EA_hub + δ(z − z_reaction)/EA_core)` for the
//! axial displacement s of the hub on the core, with `C = 1/EA_hub + 1/EA_core`, circumference b and free ends. At each station the cone presses with
//! `p = k_n s sin α` (the hub widens, the core shrinks: Lamé's rings side by side) and a spring in series with Coulomb's friction
//! holds along it: `t = k_t (s cos α − x)`, `|t| ≤ μ p`; x is what has slid. The traction along the axis is `τ = p sin α + t cos α`. Stations are the cells of a
//! finite-volume grid; each force is reached by Newton's method from the state before, so the history of the friction is kept. With one
//! bar rigid, even pressure and a stiff interface this is the bar on a friction foundation, whose closed form the tests hold it to.
//!
//! A hub that its force no longer holds on comes off: all of its elastic travel is undone by sliding. What it does in free flight is
//! not followed.
//!
//! Leaves out: bending and roll of hub and flange, edges of the contact, wear that evens the pressure out, a difference of the two
//! cones' angles, creep of the contact.

use super::Cone;

/// A taper between two elastic bars.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MicroSlip {
    /// The cone.
    pub cone: Cone,
    /// Pressure over approach square to the cone \[Pa/m\].
    pub normal_pa_m: f64,
    /// Shear traction over shift along the cone before it slides \[Pa/m\].
    pub shear_pa_m: f64,
    /// Axial stiffness of the hub, modulus times section \[N\].
    pub hub_n: f64,
    /// Axial stiffness of the core \[N\].
    pub core_n: f64,
    /// Where the force enters the hub: 0 at the narrow end of the cone, 1 at the wide end.
    pub load_at: f64,
    /// Where it leaves the core.
    pub reaction_at: f64,
    /// Cells along the contact, at least 2.
    pub stations: usize,
    /// Steps from one force to the next, at least 1.
    pub steps: usize,
}

/// What one turn of an alternating force does, once it repeats.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SlipCycle {
    /// Pressure times sliding \[Pa·m\], mean over the contact.
    pub dose_pa_m: f64,
    /// The same at the place where it is largest.
    pub worst_dose_pa_m: f64,
    /// Sliding to and fro \[m\], mean over the contact.
    pub slid_m: f64,
    /// Lowest and highest pressure \[Pa\] at the place with the highest.
    pub pressure_pa: [f64; 2],
    /// How often the hub came off its taper.
    pub came_off: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Station {
    shift_m: f64,
    slid_m: f64,
    pressure_pa: f64,
}

#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    dose_pa_m: f64,
    slid_m: f64,
    lowest_pa: f64,
    highest_pa: f64,
}

struct March<'a> {
    joint: &'a MicroSlip,
    stations: Vec<Station>,
    tally: Vec<Tally>,
    came_off: u32,
    force_n: f64,
    // Work space of the solver.
    shift: Vec<f64>,
    upper: Vec<f64>,
    right: Vec<f64>,
    source: Vec<f64>,
}

const MOST_ITERATIONS: usize = 60;
/// Change of the largest shift at which an iteration has met its answer.
const MET: f64 = 1.0e-9;
/// How often a step that does not meet its answer is halved.
const HALVINGS: u32 = 8;
/// Turns run before one is told. After the first the friction has seen the highest force; the second repeats to a share of a thousand.
const TURNS_BEFORE: usize = 2;

impl MicroSlip {
    /// What one turn does, of an axial force \[N\] that goes through these reversals again and again. `None` when it cannot be solved: stiffnesses out
    /// of all proportion. Nothing happens without a force above 0.
    pub fn cycle(&self, reversals_n: &[f64]) -> Option<SlipCycle> {
        let highest = reversals_n
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .filter(|(_, force_n)| **force_n > 0.0);
        let Some((first, &highest_n)) = highest else {
            return Some(SlipCycle::default());
        };
        let mut march = March::new(self);
        march.go_to(highest_n)?;
        for _ in 0..=TURNS_BEFORE {
            march.start_tally();
            for index in 1..=reversals_n.len() {
                march.go_to(reversals_n[(first + index) % reversals_n.len()])?;
            }
        }
        Some(march.told())
    }

    fn angle(&self) -> (f64, f64) {
        (
            self.cone.half_angle_rad.sin(),
            self.cone.half_angle_rad.cos(),
        )
    }

    /// Traction along the axis \[Pa\], its slope over the shift \[Pa/m\], and the station, at a shift from what had slid before.
    fn law(&self, shift_m: f64, before_m: f64) -> (f64, f64, Station) {
        let (sin, cos) = self.angle();
        let along_m = shift_m * cos;
        let mut station = Station {
            shift_m,
            slid_m: along_m,
            pressure_pa: 0.0,
        };
        if shift_m <= 0.0 {
            return (0.0, 0.0, station);
        }
        let normal = self.normal_pa_m * sin;
        station.pressure_pa = normal * shift_m;
        let limit_pa = self.cone.friction * station.pressure_pa;
        let stuck_pa = self.shear_pa_m * (along_m - before_m);
        if stuck_pa.abs() <= limit_pa {
            station.slid_m = before_m;
            let slope = normal * sin + self.shear_pa_m * cos * cos;
            return (station.pressure_pa * sin + stuck_pa * cos, slope, station);
        }
        let friction = self.cone.friction.copysign(stuck_pa);
        station.slid_m = along_m - friction * station.pressure_pa / self.shear_pa_m;
        let wedge = sin + friction * cos;
        (station.pressure_pa * wedge, normal * wedge, station)
    }
}

impl<'a> March<'a> {
    fn new(joint: &'a MicroSlip) -> Self {
        let count = joint.stations;
        let cell_m = joint.cone.length_m / count as f64;
        let mut source = vec![0.0; count];
        for (at, bar_n) in [
            (joint.load_at, joint.hub_n),
            (joint.reaction_at, joint.core_n),
        ] {
            // Shared between the two cells about the place.
            let place = (at * count as f64 - 0.5).clamp(0.0, (count - 1) as f64);
            let cell = (place as usize).min(count - 2);
            let share = place - cell as f64;
            source[cell] += (1.0 - share) / (bar_n * cell_m);
            source[cell + 1] += share / (bar_n * cell_m);
        }
        Self {
            joint,
            stations: vec![Station::default(); count],
            tally: vec![Tally::default(); count],
            came_off: 0,
            force_n: 0.0,
            shift: vec![0.0; count],
            upper: vec![0.0; count],
            right: vec![0.0; count],
            source,
        }
    }

    fn start_tally(&mut self) {
        self.came_off = 0;
        for (tally, station) in self.tally.iter_mut().zip(&self.stations) {
            *tally = Tally {
                lowest_pa: station.pressure_pa,
                highest_pa: station.pressure_pa,
                ..Tally::default()
            };
        }
    }

    /// From the force before to another, in steps.
    fn go_to(&mut self, force_n: f64) -> Option<()> {
        let from_n = self.force_n;
        let steps = self.joint.steps;
        for step in 1..=steps {
            let share = step as f64 / steps as f64;
            self.step_to(from_n + (force_n - from_n) * share, HALVINGS)?;
        }
        Some(())
    }

    fn step_to(&mut self, force_n: f64, halvings: u32) -> Option<()> {
        let loose = self.stations.iter().all(|s| s.pressure_pa <= 0.0);
        let holds_below_zero = self.joint.cone.self_locking() && !loose;
        if force_n <= 0.0 && !holds_below_zero {
            self.come_off(force_n);
            return Some(());
        }
        if self.solve(force_n) {
            self.accept(force_n);
            return Some(());
        }
        if halvings > 0 {
            self.step_to(0.5 * (self.force_n + force_n), halvings - 1)?;
            return self.step_to(force_n, halvings - 1);
        }
        // Pulled by more than friction holds, there is no balance to be found.
        (force_n < 0.0).then(|| self.come_off(force_n))
    }

    /// Newton's method for the shifts at a force; whether it met its answer with the hub on its taper.
    fn solve(&mut self, force_n: f64) -> bool {
        let joint = self.joint;
        let count = joint.stations;
        let cell_m = joint.cone.length_m / count as f64;
        let coupling = 1.0 / (cell_m * cell_m);
        let give =
            (1.0 / joint.hub_n + 1.0 / joint.core_n) * std::f64::consts::PI * joint.cone.mean_m
                / joint.cone.half_angle_rad.cos();
        for (shift, station) in self.shift.iter_mut().zip(&self.stations) {
            // From nothing the first step needs a slope to start on.
            *shift = station.shift_m.max(1.0e-12);
        }
        for _ in 0..MOST_ITERATIONS {
            // The tridiagonal system is eliminated downwards as it is written.
            for k in 0..count {
                let (traction_pa, slope, _) = joint.law(self.shift[k], self.stations[k].slid_m);
                let mut residual = force_n * self.source[k] - give * traction_pa;
                let mut diagonal = -give * slope;
                if k > 0 {
                    residual += coupling * (self.shift[k - 1] - self.shift[k]);
                    diagonal -= coupling;
                }
                if k + 1 < count {
                    residual += coupling * (self.shift[k + 1] - self.shift[k]);
                    diagonal -= coupling;
                }
                let (mut pivot, mut value) = (diagonal, -residual);
                if k > 0 {
                    pivot -= coupling * self.upper[k - 1];
                    value -= coupling * self.right[k - 1];
                }
                if pivot >= 0.0 || !pivot.is_finite() {
                    return false;
                }
                self.upper[k] = coupling / pivot;
                self.right[k] = value / pivot;
            }
            let (mut below, mut change_m, mut largest_m) = (0.0, 0.0_f64, 0.0_f64);
            for k in (0..count).rev() {
                let step = self.right[k]
                    - if k + 1 < count {
                        self.upper[k] * below
                    } else {
                        0.0
                    };
                below = step;
                self.shift[k] += step;
                change_m = change_m.max(step.abs());
                largest_m = largest_m.max(self.shift[k]);
            }
            if largest_m <= 0.0 || !largest_m.is_finite() {
                return false;
            }
            if change_m <= MET * largest_m {
                return true;
            }
        }
        false
    }

    fn accept(&mut self, force_n: f64) {
        for k in 0..self.stations.len() {
            let before = self.stations[k];
            let (_, _, after) = self.joint.law(self.shift[k], before.slid_m);
            let slid_m = (after.slid_m - before.slid_m).abs();
            let tally = &mut self.tally[k];
            tally.slid_m += slid_m;
            tally.dose_pa_m += 0.5 * (before.pressure_pa + after.pressure_pa) * slid_m;
            tally.lowest_pa = tally.lowest_pa.min(after.pressure_pa);
            tally.highest_pa = tally.highest_pa.max(after.pressure_pa);
            self.stations[k] = after;
        }
        self.force_n = force_n;
    }

    fn come_off(&mut self, force_n: f64) {
        let on = self.stations.iter().any(|s| s.pressure_pa > 0.0);
        self.came_off += u32::from(on);
        self.shift.fill(0.0);
        self.accept(force_n);
    }

    fn told(&self) -> SlipCycle {
        let count = self.tally.len() as f64;
        let mut cycle = SlipCycle {
            came_off: self.came_off,
            ..SlipCycle::default()
        };
        for tally in &self.tally {
            cycle.dose_pa_m += tally.dose_pa_m / count;
            cycle.slid_m += tally.slid_m / count;
            cycle.worst_dose_pa_m = cycle.worst_dose_pa_m.max(tally.dose_pa_m);
            if tally.highest_pa > cycle.pressure_pa[1] {
                cycle.pressure_pa = [tally.lowest_pa, tally.highest_pa];
            }
        }
        cycle
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn joint(friction: f64) -> MicroSlip {
        MicroSlip {
            cone: Cone {
                half_angle_rad: 7.0_f64.to_radians(),
                mean_m: 8.5e-3,
                length_m: 10.0e-3,
                friction,
            },
            normal_pa_m: 1.0e13,
            shear_pa_m: 3.4e13,
            hub_n: 1.1e7,
            core_n: 1.16e7,
            load_at: 0.8,
            reaction_at: 0.5,
            stations: 24,
            steps: 4,
        }
    }

    /// Driven on, the pressures carry the force as a rigid wedge's do: `∫ p b dz (sin α + μ cos α) = F`.
    #[test]
    fn driven_on_it_is_the_wedge() {
        let joint = joint(0.12);
        let mut march = March::new(&joint);
        march.go_to(926.0).unwrap();
        let mean = march.stations.iter().map(|s| s.pressure_pa).sum::<f64>() / 24.0;
        assert!(
            (mean / joint.cone.pressure_pa(926.0) - 1.0).abs() < 1e-6,
            "{mean}"
        );
    }

    /// Bar on a friction foundation (closed form by hand): a force that falls by ΔF at the end of a bar held by even friction makes a length
    /// `l = ΔF/(2 f)` slide, by `ΔF²/(4 EA f)` at the end and a third of that on the mean over l, with f the friction over length; there and back alike.
    #[test]
    fn the_bar_on_friction() {
        let fine = MicroSlip {
            cone: Cone {
                length_m: 20.0e-3,
                ..joint(0.12).cone
            },
            normal_pa_m: 1.0e11,
            shear_pa_m: 2.0e16,
            core_n: 1.0e12,
            load_at: 1.0,
            reaction_at: 0.0,
            stations: 400,
            steps: 8,
            ..joint(0.12)
        };
        let (high_n, fall_n) = (926.0, 200.0);
        let cycle = fine.cycle(&[high_n, high_n - fall_n]).unwrap();
        let pressure = fine.cone.pressure_pa(high_n);
        let friction_n_m = 0.12 * pressure * std::f64::consts::PI * fine.cone.mean_m;
        let slides_m = fall_n / (2.0 * friction_n_m);
        assert!(slides_m < 0.5 * fine.cone.length_m, "{slides_m}");
        let end_m = fall_n * fall_n / (4.0 * fine.hub_n * friction_n_m);
        let mean_m = 2.0 * end_m / 3.0 * slides_m / fine.cone.length_m;
        assert!(
            (cycle.slid_m / mean_m - 1.0).abs() < 0.02,
            "{} {mean_m}",
            cycle.slid_m
        );
        assert!((cycle.dose_pa_m / (pressure * mean_m) - 1.0).abs() < 0.02);
        assert!(cycle.came_off == 0);
    }

    /// Forces, and with them every pressure and shift, scale together: the dose goes with the square.
    #[test]
    fn the_dose_goes_with_the_square_of_the_forces() {
        let joint = joint(0.12);
        let one = joint.cycle(&[900.0, 350.0, 600.0, 420.0]).unwrap();
        let two = joint.cycle(&[1800.0, 700.0, 1200.0, 840.0]).unwrap();
        assert!((two.dose_pa_m / one.dose_pa_m - 4.0).abs() < 1e-5);
        assert!((two.slid_m / one.slid_m - 2.0).abs() < 1e-5);
    }

    /// A rigid wedge slides back below `(tan α − μ)/(tan α + μ)` of its highest force: with 0.04 at half of it. Beyond that sliding is of
    /// the size of the whole elastic travel, before it micro-slip.
    #[test]
    fn below_the_share_at_which_a_wedge_slides_back_all_of_it_slides() {
        let slippery = joint(0.04);
        let share = slippery.cone.slides_back_share();
        let (above, below) = (share + 0.05, share - 0.2);
        let held = slippery.cycle(&[1000.0, 1000.0 * above]).unwrap();
        let back = slippery.cycle(&[1000.0, 1000.0 * below]).unwrap();
        assert!(
            back.slid_m > 5.0 * held.slid_m,
            "{} {}",
            held.slid_m,
            back.slid_m
        );
    }

    /// A cone that locks itself holds without a force and against some pull; one that does not lets go.
    #[test]
    fn a_force_that_turns_round_takes_the_hub_off() {
        let locking = joint(0.16);
        assert_eq!(locking.cycle(&[1000.0, 0.0]).unwrap().came_off, 0);
        assert_eq!(locking.cycle(&[1000.0, -50.0]).unwrap().came_off, 0);
        let off = locking.cycle(&[1000.0, -400.0]).unwrap();
        assert_eq!(off.came_off, 1);
        assert_eq!(joint(0.10).cycle(&[1000.0, -1.0]).unwrap().came_off, 1);
        let on = locking.cycle(&[1000.0, 0.0]).unwrap();
        assert!(
            off.dose_pa_m > 5.0 * on.dose_pa_m,
            "{} {}",
            off.dose_pa_m,
            on.dose_pa_m
        );
        assert_eq!(
            joint(0.1).cycle(&[-1.0, -5.0]).unwrap(),
            SlipCycle::default()
        );
    }

    /// Twice the cells and twice the steps change the dose by less than 3 %.
    #[test]
    fn cells_and_steps_halved() {
        let forces = [1300.0, 420.0, 900.0, 500.0];
        let coarse = joint(0.12).cycle(&forces).unwrap();
        let fine = MicroSlip {
            stations: 96,
            steps: 16,
            ..joint(0.12)
        };
        let fine = fine.cycle(&forces).unwrap();
        let off = coarse.dose_pa_m / fine.dose_pa_m - 1.0;
        assert!(off.abs() < 0.03, "{off}");
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

        /// Any joint within reason is solved for any forces, and a deeper fall never slides less.
        #[test]
        fn any_joint_is_solved(
            friction in 0.03..0.35_f64, angle in 0.07..0.2_f64, shear in 0.3..8.0_f64, bars in 0.2..5.0_f64,
            load_at in 0.0..1.0_f64, low in -800.0..1900.0_f64, deeper in 0.0..300.0_f64,
        ) {
            let base = joint(friction);
            let joint = MicroSlip {
                cone: Cone { half_angle_rad: angle, ..base.cone },
                shear_pa_m: base.shear_pa_m * shear,
                hub_n: base.hub_n * bars,
                load_at,
                ..base
            };
            let one = joint.cycle(&[2000.0, low]).unwrap();
            let more = joint.cycle(&[2000.0, low - deeper]).unwrap();
            prop_assert!(one.dose_pa_m.is_finite() && one.dose_pa_m >= 0.0);
            prop_assert!(more.dose_pa_m >= one.dose_pa_m * (1.0 - 1e-3) - 1e-6, "{one:?} {more:?}");
            prop_assert!(one.worst_dose_pa_m >= one.dose_pa_m);
        }
    }
}
