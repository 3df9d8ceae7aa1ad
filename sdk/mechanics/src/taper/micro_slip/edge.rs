//! What slides at the ends of a contact that sticks.
//!
//! While all of it sticks, the traction at an end follows the loads in proportion: the axial force by the bars' theory, and a bending moment that passes
//! through the core by the same theory for beams (`s″ = λ² s`, `λ² = π R³ k (1/EI_hub + 1/EI_core)`, `s′ = −M R/EI_core` at both ends, all times the cosine of
//! the angle around). Ends slide however small the load. With the range τ of that traction, the friction `τ_f = 2 μ p` of a load that turns round and
//! the energy release rate `G = τ²/(2 k)` of the interface, the end slides by `G/τ_f`. How far in, two theories say:
//!
//! * short against `1/λ`, a contact that sticks ends like a crack under shear (the crack analogue of A. E. Giannakopoulos, T. C. Lindley and S. Suresh, Acta
//!   Mater. 46 (1998) 2955, from memory), `K² = E* G`, and friction with an even limit is the strip of D. S. Dugdale (1960) and B. A. Bilby, A. H. Cottrell and
//!   K. H. Swinden (1963): `d = (π/8)(K/τ_f)²`;
//! * long against it, a beam on a friction foundation slides over `l = τ/(λ τ_f)`.
//!
//! The shorter holds; either slides by a third of the end's slip on the mean. Where the beam's lengths from both ends would meet, all of it slides, and the slip is
//! that of the bent core less what friction brings into the hub: never more than the free core's.
//!
//! Leaves out: sub-cycles within a turn, pressure that a moment shifts from one side to the other; the axial force is given the beams' λ, which is near that of
//! the bars.

use std::f64::consts::PI;

use super::{MicroSlip, SlipCycle};

/// Shear traction at the ends of a contact that sticks, over the load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndTraction {
    /// At the narrow and at the wide end, over the axial force \[1/m²\].
    pub per_n: [f64; 2],
    /// At both ends, where the bent core stretches most, over the moment that passes through it \[1/m³\].
    pub per_n_m: f64,
}

/// What slides at one end over one turn, there and back.
#[allow(clippy::struct_field_names, reason = "the postfix is a unit")]
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Edge {
    /// Pressure times sliding \[Pa·m\], spread over the whole contact.
    pub dose_pa_m: f64,
    /// The same at the very end.
    pub worst_dose_pa_m: f64,
    /// Sliding \[m\], spread over the whole contact.
    pub slid_m: f64,
}

/// Angles around at which the ends are worked out, from the plane of bending to the far side.
const ANGLES: u32 = 8;

impl MicroSlip {
    /// Traction at the ends while all of the contact sticks.
    pub fn end_traction(&self) -> EndTraction {
        let along = self.shear_pa_m * self.angle().1;
        EndTraction {
            per_n: self.stuck_ends_m_n().map(|shift| along * shift),
            per_n_m: along * self.stuck_bent_end_m(),
        }
    }

    /// Stiffness of an interface that sticks, along the axis \[Pa/m\].
    fn stuck_pa_m(&self) -> f64 {
        let (sin, cos) = self.angle();
        self.normal_pa_m * sin * sin + self.shear_pa_m * cos * cos
    }

    /// Shifts of the end cells over the axial force \[m/N\]: the bars' equation, linear, eliminated downwards and solved upwards.
    fn stuck_ends_m_n(&self) -> [f64; 2] {
        let count = self.stations;
        let coupling = self.coupling();
        let own = self.give() * self.stuck_pa_m();
        let source = self.source();
        let (mut upper, mut shift) = (vec![0.0; count], vec![0.0; count]);
        for k in 0..count {
            let (first, last) = (k == 0, k + 1 == count);
            let neighbours = 2.0 - f64::from(u8::from(first)) - f64::from(u8::from(last));
            let (above, before) = if first {
                (0.0, 0.0)
            } else {
                (upper[k - 1], shift[k - 1])
            };
            let pivot = own + coupling * (neighbours - above);
            upper[k] = coupling / pivot;
            shift[k] = (source[k] + coupling * before) / pivot;
        }
        for k in (0..count - 1).rev() {
            shift[k] += upper[k] * shift[k + 1];
        }
        [shift[0], shift[count - 1]]
    }

    /// λ of the beams \[1/m\].
    fn bent_rate_per_m(&self) -> f64 {
        let radius_m = 0.5 * self.cone.mean_m;
        let beams = 1.0 / self.hub_bending_n_m2 + 1.0 / self.core_bending_n_m2;
        (PI * radius_m * radius_m * radius_m * self.stuck_pa_m() * beams).sqrt()
    }

    /// Shift at an end over the moment that bends the core \[1/N\].
    fn stuck_bent_end_m(&self) -> f64 {
        let rate_per_m = self.bent_rate_per_m();
        let spread = libm::tanh(0.5 * rate_per_m * self.cone.length_m);
        0.5 * self.cone.mean_m / self.core_bending_n_m2 / rate_per_m * spread
    }

    /// A turn with what its ends slide under axial forces \[N\] and moments through the core \[N·m\], instant by instant.
    #[must_use]
    pub fn with_edges(&self, cycle: SlipCycle, loads: &[(f64, f64)]) -> SlipCycle {
        let traction = self.end_traction();
        let mut whole = cycle;
        for (per_n, pressure_pa) in traction.per_n.into_iter().zip(cycle.ends_pa) {
            let mut worst_pa_m = 0.0_f64;
            for k in 0..ANGLES {
                let around = libm::cos(PI * (f64::from(k) + 0.5) / f64::from(ANGLES));
                let shear = |load: &(f64, f64)| per_n * load.0 + traction.per_n_m * around * load.1;
                let [low, high] = loads
                    .iter()
                    .map(shear)
                    .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], value| {
                        [low.min(value), high.max(value)]
                    });
                let edge = self.edge(high - low, pressure_pa);
                whole.dose_pa_m += edge.dose_pa_m / f64::from(ANGLES);
                whole.slid_m += edge.slid_m / f64::from(ANGLES);
                worst_pa_m = worst_pa_m.max(edge.worst_dose_pa_m);
            }
            whole.worst_dose_pa_m = whole.worst_dose_pa_m.max(worst_pa_m);
        }
        whole
    }

    /// An end with a range of shear traction \[Pa\] under a pressure \[Pa\].
    pub(super) fn edge(&self, range_pa: f64, pressure_pa: f64) -> Edge {
        let limit_pa = 2.0 * self.cone.friction * pressure_pa;
        if range_pa <= 0.0 || limit_pa <= 0.0 {
            return Edge::default();
        }
        let half_m = 0.5 * self.cone.length_m;
        let (rate_per_m, stuck) = (self.bent_rate_per_m(), self.stuck_pa_m());
        let shift_m = range_pa / (self.shear_pa_m * self.angle().1);
        // Strain by which hub and core differ at an end, and what friction takes of it over length.
        let strain = shift_m * rate_per_m / libm::tanh(rate_per_m * half_m);
        let eased_per_m = rate_per_m * rate_per_m * limit_pa / stuck;
        let released_j_m2 = 0.5 * stuck * shift_m * shift_m;
        let strip_m = PI / 8.0 * self.edge_modulus_pa * released_j_m2 / (limit_pa * limit_pa);
        let beam_m = strain / eased_per_m;
        let (end_m, mean_m) = if beam_m < half_m {
            let end_m = 0.5 * strain * beam_m;
            (end_m, end_m / 3.0)
        } else {
            (
                half_m * (strain - 0.5 * eased_per_m * half_m),
                half_m * (0.5 * strain - eased_per_m * half_m / 3.0),
            )
        };
        let share = strip_m.min(beam_m).min(half_m) / self.cone.length_m;
        // There and back.
        let slid_m = 2.0 * mean_m * share;
        Edge {
            dose_pa_m: pressure_pa * slid_m,
            worst_dose_pa_m: pressure_pa * 2.0 * end_m,
            slid_m,
        }
    }
}
