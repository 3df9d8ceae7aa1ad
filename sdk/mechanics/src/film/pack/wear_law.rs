//! The wear law of a surface between the states of the contact that are solved.
//!
//! Per stretch of duty, wear w of a surface obeys `dw/dt = (1 + (R − 1) u) (A(u) (1 − e) + B(u) e)`: u = exp(−s) is what is left of
//! the fresh hone, s grows in proportion to duty; e is what is left of the crown of the face; A and B are polynomials
//! through the solved states. For the face itself `e = exp(−w/L)`; with y = exp(w/L) that is linear, `L dy/dt = P(u) y + Q(u)`, P
//! and Q polynomials in u. Once seated the solution is elementary; before, P is integrated in closed form and Q/y by
//! Gauss-Legendre. So a stretch gives the same wear however it is cut, and the order of operating points within it does not matter.

use super::Running;
use crate::wear::RunningIn;

/// Surface states that are solved: crown (new, half) by unseated (0, 1/2, 1).
pub const STATES: usize = 6;

/// Unseated share and crown of each state.
pub const STATE_OF: [Running; STATES] = {
    const fn state(unseated: f64, crown: f64) -> Running {
        Running { unseated, crown }
    }
    [
        state(0.0, 1.0),
        state(0.5, 1.0),
        state(1.0, 1.0),
        state(0.0, 0.5),
        state(0.5, 0.5),
        state(1.0, 0.5),
    ]
};

/// Coefficients of a rate: the polynomial through the states, times the line of running-in.
pub const POWERS: usize = 6;

/// Wear rate of one surface over a stretch of duty \[m\], as polynomials in u: of a worn face, and the excess of a new
/// crown over it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StateRate {
    /// P: coefficients of 1, u, u² ...
    pub worn_m: [f64; POWERS],
    /// Q.
    pub excess_m: [f64; POWERS],
}

impl StateRate {
    /// Rate of `wear_per_dose` \[m/(Pa·m)\] times the doses of the six states \[Pa·m\], with running-in multiplier R.
    pub fn new(dose_pa_m: &[f64; STATES], wear_per_dose: f64, multiplier: f64) -> Self {
        let [new_0, new_half, new_1, half_0, half_half, half_1] = *dose_pa_m;
        let new = through(new_0, new_half, new_1);
        // Straight on from the new crown through half of it: no life leads much further.
        let flat = |new: f64, half: f64| (2.0 * half - new).max(LEAST_FLAT * half);
        let worn = through(
            flat(new_0, half_0),
            flat(new_half, half_half),
            flat(new_1, half_1),
        );
        let mut rate = Self::default();
        for k in 0..POWERS - 1 {
            for (place, factor) in [(k, 1.0), (k + 1, multiplier - 1.0)] {
                let scaled = wear_per_dose * factor;
                rate.worn_m[place] += scaled * worn[k];
                rate.excess_m[place] += scaled * (new[k] - worn[k]);
            }
        }
        rate
    }

    /// Adds another rate.
    pub fn add(&mut self, other: &Self) {
        for k in 0..POWERS {
            self.worn_m[k] += other.worn_m[k];
            self.excess_m[k] += other.excess_m[k];
        }
    }

    /// Wear that `share` of the stretch adds \[m\] while the crown of the face stays as it is: closed form.
    pub fn held_crown_m(&self, crown: f64, seating: &RunningIn, share: f64) -> f64 {
        let integrals = seating.integrals::<POWERS>(share);
        let rates = self.worn_m.iter().zip(&self.excess_m);
        let terms = rates.zip(integrals);
        let wear_m: f64 = terms
            .map(|((worn, excess), integral)| (worn + crown * excess) * integral)
            .sum();
        wear_m.max(0.0)
    }

    /// Rate now \[m\] for a whole stretch.
    pub fn at(&self, unseated: f64, crown: f64) -> f64 {
        polynomial(&self.worn_m, unseated) + crown * polynomial(&self.excess_m, unseated)
    }

    /// Wear that `share` of the stretch adds \[m\] to a face already worn by `wear_m`, whose crown goes with length `crown_length_m`.
    pub fn wear_m(&self, wear_m: f64, crown_length_m: f64, seating: &RunningIn, share: f64) -> f64 {
        let before = libm::exp(wear_m / crown_length_m);
        let mut gained_m = 0.0;
        let mut at = 0.0;
        // Unseated: segments of a quarter of a seating dose, longer the less of the hone is left; then elementary.
        while at < share && seating.added > 0.0 && seating.from + seating.added * at < SEATED_AT {
            let dose = 0.25 * (1.0 + seating.from + seating.added * at);
            let to = (at + dose / seating.added).min(share);
            gained_m += self.segment_m(before, gained_m, crown_length_m, seating, (at, to));
            at = to;
        }
        if at < share {
            let unseated = if seating.added > 0.0 {
                0.0
            } else {
                seating.unseated()
            };
            let (worn_m, excess_m) = (
                polynomial(&self.worn_m, unseated),
                polynomial(&self.excess_m, unseated),
            );
            let crown = libm::exp(-(wear_m + gained_m) / crown_length_m);
            gained_m += seated_m(worn_m, excess_m, crown, crown_length_m, share - at);
        }
        gained_m.max(0.0)
    }

    /// `y1/y0 = e^A (1 + ∫ q e^−A / y0)` over one segment.
    fn segment_m(
        &self,
        before: f64,
        gained_m: f64,
        length_m: f64,
        seating: &RunningIn,
        (from, to): (f64, f64),
    ) -> f64 {
        let worn_m = |at: f64| {
            let integrals = seating.integrals::<POWERS>(at);
            let terms = self.worn_m.iter().zip(integrals);
            terms.map(|(rate, integral)| rate * integral).sum::<f64>()
        };
        let worn_before_m = worn_m(from);
        let grown = |at: f64| (worn_m(at) - worn_before_m) / length_m;
        let crown = libm::exp(-gained_m / length_m) / before;
        let half = 0.5 * (to - from);
        let mut driven = 0.0;
        for (node, weight) in GAUSS {
            let at = from + half * (1.0 + node);
            let unseated = libm::exp(-(seating.from + seating.added * at));
            driven += weight * half * polynomial(&self.excess_m, unseated) * libm::exp(-grown(at));
        }
        length_m * (grown(to) + libm::log1p(crown * driven / length_m))
    }
}

/// Wear over `amount` of a steady stretch: `L dy/dt = P y + Q`, `e = 1/y` at the start.
fn seated_m(worn_m: f64, excess_m: f64, crown: f64, length_m: f64, amount: f64) -> f64 {
    let growth = worn_m * amount / length_m;
    let driven = if growth > 1e-12 {
        -excess_m * crown * libm::expm1(-growth) / worn_m
    } else {
        excess_m * crown * amount / length_m
    };
    length_m * (growth + libm::log1p(driven))
}

/// Least dose of a face worn flat over that with half its crown: keeps rates positive where doses are negligible.
const LEAST_FLAT: f64 = 0.02;

/// Beyond this seating dose nothing of the fresh hone is left in double precision.
const SEATED_AT: f64 = 40.0;

/// Nodes and weights of five-point Gauss-Legendre on −1..1 (Abramowitz and Stegun, table 25.4).
const GAUSS: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.906_179_845_938_664, 0.236_926_885_056_189_08),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
];

fn polynomial(coefficients: &[f64; POWERS], u: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * u + c)
}

/// Coefficients of a polynomial through values at 0, 1/2 and 1: the value at 0 and a mixture of the two neighbouring powers of u
/// that meets the middle. Between rising values no coefficient is negative (up to a middle half-way), so no rate is; below the
/// fourth power the middle is met no closer, and values that fall are joined by a straight line.
fn through(at_0: f64, at_half: f64, at_1: f64) -> [f64; POWERS - 1] {
    let rise = at_1 - at_0;
    let mut coefficients = [0.0; POWERS - 1];
    coefficients[0] = at_0;
    if rise <= 0.0 {
        coefficients[1] = rise;
        return coefficients;
    }
    let middle = ((at_half - at_0) / rise).clamp(0.0625, 0.75);
    let (low, half) = match middle {
        m if m >= 0.25 => (1, 0.5),
        m if m >= 0.125 => (2, 0.25),
        _ => (3, 0.125),
    };
    let share = 2.0 * middle / half - 1.0;
    coefficients[low] = share * rise;
    coefficients[low + 1] = (1.0 - share) * rise;
    coefficients
}
