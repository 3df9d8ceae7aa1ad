//! Where a taper that holds as a whole slides under an alternating force.
//!
//! Hub and core are bars that share the axial force along the contact: `s″ = C b τ(s) − F (δ(z − z_load)/EA_hub + δ(z − z_reaction)/EA_core)` for the
//! axial displacement s of the hub on the core, with `C = 1/EA_hub + 1/EA_core`, circumference b and free ends. The force enters the hub outside of its bore, so the hub also
//! rolls, by `K θ = F a − ∫ p (z − z0) b dz`, and tightens its wide end. At each station the cone presses with
//! `p = k_n (s sin α + θ (z − z0) cos α)`, or not at all (the hub widens, the core shrinks: Lamé's rings side by side), and a spring in series with Coulomb's friction
//! holds along it: `t = k_t (s cos α − x)`, `|t| ≤ μ p`; x is what has slid. The traction along the axis is `τ = p sin α + t cos α`. Stations are the cells of a
//! finite-volume grid; each force is reached by Newton's method from the state before, so the history of the friction is kept. With one
//! bar rigid, even pressure and a stiff interface this is the bar on a friction foundation, whose closed form the tests hold it to.
//!
//! Where it sticks throughout, its two ends still slide: [`MicroSlip::with_edges`] adds that, also under a moment that bends the core.
//!
//! A hub that its force no longer holds on comes off: all of its elastic travel is undone by sliding. What it does in free flight is
//! not followed.
//!
//! Leaves out: a hub whose section does not keep its shape, roll of the core, tilting of the hub as a whole, wear that evens the pressure out, a difference of the two
//! cones' angles, creep of the contact.

mod edge;
mod march;

pub use edge::EndTraction;
use march::March;

use super::{Cone, Roll};

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
    /// Bending stiffness of the hub and of the core \[N·m²\].
    pub hub_bending_n_m2: f64,
    /// See `hub_bending_n_m2`.
    pub core_bending_n_m2: f64,
    /// Modulus of the two bodies about an end of the contact \[Pa\]: `1/E* = ½ ((1 − ν1²)/E1 + (1 − ν2²)/E2)`.
    pub edge_modulus_pa: f64,
    /// Where the force enters the hub: 0 at the narrow end of the cone, 1 at the wide end.
    pub load_at: f64,
    /// Where it leaves the core.
    pub reaction_at: f64,
    /// Roll of the hub; its centre is measured from the narrow end of the cone.
    pub roll: Roll,
    /// How far outside of the cone's mean radius the force enters the hub \[m\].
    pub roll_arm_m: f64,
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
    /// Mean of lowest and highest pressure at the narrow and at the wide end \[Pa\].
    pub ends_pa: [f64; 2],
    /// How often the hub came off its taper.
    pub came_off: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Station {
    shift_m: f64,
    slid_m: f64,
    pressure_pa: f64,
}

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

    /// Cells' coupling \[1/m²\].
    fn coupling(&self) -> f64 {
        let cell_m = self.cone.length_m / self.stations as f64;
        1.0 / (cell_m * cell_m)
    }

    /// How a traction strains the two bars: `C b` \[1/(Pa·m²)\].
    fn give(&self) -> f64 {
        let around_m = std::f64::consts::PI * self.cone.mean_m / self.cone.half_angle_rad.cos();
        (1.0 / self.hub_n + 1.0 / self.core_n) * around_m
    }

    /// Strain that a force of one brings into the two bars, over the cells about the places where it enters and leaves \[1/(N·m)\].
    fn source(&self) -> Vec<f64> {
        let count = self.stations;
        let cell_m = self.cone.length_m / count as f64;
        let mut source = vec![0.0; count];
        for (at, bar_n) in [(self.load_at, self.hub_n), (self.reaction_at, self.core_n)] {
            let place = (at * count as f64 - 0.5).clamp(0.0, (count - 1) as f64);
            let cell = (place as usize).min(count - 2);
            let share = place - cell as f64;
            source[cell] += (1.0 - share) / (bar_n * cell_m);
            source[cell + 1] += share / (bar_n * cell_m);
        }
        source
    }

    fn angle(&self) -> (f64, f64) {
        (
            self.cone.half_angle_rad.sin(),
            self.cone.half_angle_rad.cos(),
        )
    }

    /// What a station holds at a shift \[m\] and an approach by roll \[m\], from what had slid before \[m\].
    fn law(&self, shift_m: f64, rolled_m: f64, before_m: f64) -> Held {
        let (sin, cos) = self.angle();
        let along_m = shift_m * cos;
        let approach_m = shift_m * sin + rolled_m;
        let mut station = Station {
            shift_m,
            slid_m: along_m,
            pressure_pa: 0.0,
        };
        if approach_m <= 0.0 {
            return Held {
                station,
                ..Held::default()
            };
        }
        let pressure_pa = self.normal_pa_m * approach_m;
        station.pressure_pa = pressure_pa;
        let stuck_pa = self.shear_pa_m * (along_m - before_m);
        if stuck_pa.abs() <= self.cone.friction * pressure_pa {
            station.slid_m = before_m;
            return Held {
                traction_pa: pressure_pa * sin + stuck_pa * cos,
                by_shift: self.normal_pa_m * sin * sin + self.shear_pa_m * cos * cos,
                by_approach: self.normal_pa_m * sin,
                station,
            };
        }
        let friction = self.cone.friction.copysign(stuck_pa);
        station.slid_m = along_m - friction * pressure_pa / self.shear_pa_m;
        let wedge = sin + friction * cos;
        Held {
            traction_pa: pressure_pa * wedge,
            by_shift: self.normal_pa_m * sin * wedge,
            by_approach: self.normal_pa_m * wedge,
            station,
        }
    }
}

/// What a station holds.
#[derive(Debug, Clone, Copy, Default)]
struct Held {
    /// Traction along the axis \[Pa\].
    traction_pa: f64,
    /// Its slope over the shift, and over the approach by roll \[Pa/m\].
    by_shift: f64,
    by_approach: f64,
    /// The station there.
    station: Station,
}

#[cfg(test)]
mod tests;
