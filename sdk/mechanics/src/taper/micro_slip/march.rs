//! Force by force, with the history of the friction kept.

use std::f64::consts::PI;

use super::{Held, MicroSlip, SlipCycle, Station};

const MOST_ITERATIONS: usize = 60;
/// Change of the largest shift at which an iteration has met its answer.
const MET: f64 = 1.0e-9;
/// How often a step that does not meet its answer is halved.
const HALVINGS: u32 = 8;
/// Shift from which the first iteration of a hub that is off starts \[m\].
const START_M: f64 = 1.0e-12;

/// The joint at a force.
pub(super) struct March<'a> {
    joint: &'a MicroSlip,
    pub(super) stations: Vec<Station>,
    tally: Vec<Tally>,
    came_off: u32,
    force_n: f64,
    pub(super) roll_rad: f64,
    /// Approach by a roll of one, at each station \[m\].
    lever_m: Vec<f64>,
    /// Strain that a force of one brings in, at each station \[1/(N·m)\].
    source: Vec<f64>,
    trial: Trial,
}

/// Work space of the solver: what is tried, and the eliminated system.
struct Trial {
    shift: Vec<f64>,
    roll_rad: f64,
    upper: Vec<f64>,
    right: Vec<f64>,
    by_roll: Vec<f64>,
}

#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    dose_pa_m: f64,
    slid_m: f64,
    pressure_pa: Range,
}

/// Lowest and highest of a value \[Pa\].
#[derive(Debug, Clone, Copy, Default)]
struct Range {
    low: f64,
    high: f64,
}

impl Range {
    fn at(value: f64) -> Self {
        Self {
            low: value,
            high: value,
        }
    }

    fn with(self, value: f64) -> Self {
        Self {
            low: self.low.min(value),
            high: self.high.max(value),
        }
    }
}

impl<'a> March<'a> {
    pub(super) fn new(joint: &'a MicroSlip) -> Self {
        let count = joint.stations;
        let cell_m = joint.cone.length_m / count as f64;
        let cos = joint.cone.half_angle_rad.cos();
        let place_m = |k: usize| (k as f64 + 0.5) * cell_m;
        let lever_m = (0..count).map(|k| cos * (place_m(k) - joint.roll.centre_m));
        Self {
            joint,
            stations: vec![Station::default(); count],
            tally: vec![Tally::default(); count],
            came_off: 0,
            force_n: 0.0,
            roll_rad: 0.0,
            lever_m: lever_m.collect(),
            source: joint.source(),
            trial: Trial {
                shift: vec![0.0; count],
                roll_rad: 0.0,
                upper: vec![0.0; count],
                right: vec![0.0; count],
                by_roll: vec![0.0; count],
            },
        }
    }

    pub(super) fn start_tally(&mut self) {
        self.came_off = 0;
        for (tally, station) in self.tally.iter_mut().zip(&self.stations) {
            *tally = Tally {
                pressure_pa: Range::at(station.pressure_pa),
                ..Tally::default()
            };
        }
    }

    /// From the force before to another, in steps.
    pub(super) fn go_to(&mut self, force_n: f64) -> Option<()> {
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

    fn held(&self, k: usize) -> Held {
        let rolled_m = self.trial.roll_rad * self.lever_m[k];
        let before_m = self.stations[k].slid_m;
        self.joint.law(self.trial.shift[k], rolled_m, before_m)
    }

    /// Newton's method for shifts and roll at a force; whether it met its answer with the hub on its taper.
    fn solve(&mut self, force_n: f64) -> bool {
        for (shift, station) in self.trial.shift.iter_mut().zip(&self.stations) {
            // From nothing the first step needs a slope to start on.
            *shift = if station.pressure_pa > 0.0 {
                station.shift_m
            } else {
                station.shift_m.max(START_M)
            };
        }
        self.trial.roll_rad = self.roll_rad;
        for _ in 0..MOST_ITERATIONS {
            match self.iterate(force_n) {
                None => return false,
                Some(change) if change <= MET => {
                    return (0..self.stations.len())
                        .any(|k| self.held(k).station.pressure_pa > 0.0);
                }
                Some(_) => {}
            }
        }
        false
    }

    /// One iteration: the change of shifts over the largest of them. The system is tridiagonal but for the roll, which is
    /// eliminated last.
    fn iterate(&mut self, force_n: f64) -> Option<f64> {
        let joint = self.joint;
        let count = joint.stations;
        let cell_m = joint.cone.length_m / count as f64;
        let (coupling, give) = (joint.coupling(), joint.give());
        let ring_m2 = PI * joint.cone.mean_m * cell_m / joint.cone.half_angle_rad.cos();
        let sin = joint.cone.half_angle_rad.sin();
        let mut couple =
            force_n * joint.roll_arm_m - joint.roll.stiffness_n_m * self.trial.roll_rad;
        let mut couple_by_roll = -joint.roll.stiffness_n_m;
        for k in 0..count {
            let held = self.held(k);
            let in_contact = f64::from(u8::from(held.station.pressure_pa > 0.0));
            couple -= ring_m2 * held.station.pressure_pa * self.lever_m[k];
            couple_by_roll -=
                ring_m2 * joint.normal_pa_m * in_contact * self.lever_m[k] * self.lever_m[k];
            let mut residual = force_n * self.source[k] - give * held.traction_pa;
            let mut pivot = -give * held.by_shift;
            for neighbour in [k.wrapping_sub(1), k + 1]
                .into_iter()
                .filter(|n| *n < count)
            {
                residual += coupling * (self.trial.shift[neighbour] - self.trial.shift[k]);
                pivot -= coupling;
            }
            let mut value = -residual;
            let mut by_roll = -give * held.by_approach * self.lever_m[k];
            if k > 0 {
                pivot -= coupling * self.trial.upper[k - 1];
                value -= coupling * self.trial.right[k - 1];
                by_roll -= coupling * self.trial.by_roll[k - 1];
            }
            if pivot >= 0.0 || !pivot.is_finite() {
                return None;
            }
            self.trial.upper[k] = coupling / pivot;
            self.trial.right[k] = value / pivot;
            self.trial.by_roll[k] = by_roll / pivot;
        }
        for k in (0..count - 1).rev() {
            self.trial.right[k] -= self.trial.upper[k] * self.trial.right[k + 1];
            self.trial.by_roll[k] -= self.trial.upper[k] * self.trial.by_roll[k + 1];
        }
        for k in 0..count {
            let in_contact = f64::from(u8::from(self.held(k).station.pressure_pa > 0.0));
            let by_shift = -ring_m2 * joint.normal_pa_m * in_contact * sin * self.lever_m[k];
            couple += by_shift * self.trial.right[k];
            couple_by_roll -= by_shift * self.trial.by_roll[k];
        }
        if couple_by_roll >= 0.0 || !couple_by_roll.is_finite() {
            return None;
        }
        let turned_rad = -couple / couple_by_roll;
        self.trial.roll_rad += turned_rad;
        let (mut change_m, mut largest_m) = (0.0_f64, 0.0_f64);
        for k in 0..count {
            let step_m = self.trial.right[k] - self.trial.by_roll[k] * turned_rad;
            self.trial.shift[k] += step_m;
            change_m = change_m.max(step_m.abs());
            largest_m = largest_m.max(self.trial.shift[k]);
        }
        (largest_m > 0.0 && largest_m.is_finite()).then_some(change_m / largest_m)
    }

    fn accept(&mut self, force_n: f64) {
        for k in 0..self.stations.len() {
            let before = self.stations[k];
            let after = self.held(k).station;
            let slid_m = (after.slid_m - before.slid_m).abs();
            let tally = &mut self.tally[k];
            tally.slid_m += slid_m;
            tally.dose_pa_m += 0.5 * (before.pressure_pa + after.pressure_pa) * slid_m;
            tally.pressure_pa = tally.pressure_pa.with(after.pressure_pa);
            self.stations[k] = after;
        }
        self.roll_rad = self.trial.roll_rad;
        self.force_n = force_n;
    }

    fn come_off(&mut self, force_n: f64) {
        let on = self.stations.iter().any(|s| s.pressure_pa > 0.0);
        self.came_off += u32::from(on);
        self.trial.shift.fill(0.0);
        self.trial.roll_rad = 0.0;
        self.accept(force_n);
    }

    pub(super) fn told(&self) -> SlipCycle {
        let count = self.tally.len() as f64;
        let mut cycle = SlipCycle {
            came_off: self.came_off,
            ..SlipCycle::default()
        };
        for tally in &self.tally {
            cycle.dose_pa_m += tally.dose_pa_m / count;
            cycle.slid_m += tally.slid_m / count;
            cycle.worst_dose_pa_m = cycle.worst_dose_pa_m.max(tally.dose_pa_m);
            if tally.pressure_pa.high > cycle.pressure_pa[1] {
                cycle.pressure_pa = [tally.pressure_pa.low, tally.pressure_pa.high];
            }
        }
        if let [first, .., last] = self.tally.as_slice() {
            cycle.ends_pa =
                [first, last].map(|tally| 0.5 * (tally.pressure_pa.low + tally.pressure_pa.high));
        }
        cycle
    }
}
