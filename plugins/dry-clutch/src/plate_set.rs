//! The set that heat leaves in a plate which is hotter on one face: yielding and relaxation while it is held flat.
//!
//! The set is told as the strain of a face of the plate against its middle, linear through the thickness: a curvature times half the thickness. Set
//! relieves the stress that makes it, so it goes towards the thermal strain of the steepest difference and stops there (shakedown).

use ringland_mechanics::fatigue::residual_stress::thermally_retained;

use crate::constants as c;
use crate::material::Plate;
use crate::stack::{Bent, SAMPLES};

/// One engagement as a plate feels it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bending {
    /// Largest thermal strain of the hot face against the middle.
    pub strain: f64,
    /// Strain of the yield limit at the hot face's temperature by then.
    pub yield_strain: f64,
    /// Mean of the strain while stress relaxes, weighted by how fast it does.
    pub relaxing_strain: f64,
    /// Share of the stress that relaxes, 0 to 1.
    pub relaxed: f64,
}

impl Bending {
    /// Of a plate's rises for each unit of heat, the heat \[J/m²\], the temperature at the start \[K\] and the time of each sample \[s\].
    pub fn new(
        plate: &Plate,
        bent: &Bent,
        heat_j_m2: f64,
        start_k: f64,
        times_s: &[f64; SAMPLES],
    ) -> Self {
        let strain = |half: f64| plate.expansion_per_k * heat_j_m2 * half;
        let hot_k = |rise: f64| start_k + heat_j_m2 * rise;
        let (mut hot_s, mut weighted) = (0.0, 0.0);
        for ((half, rise), time_s) in bent.half.iter().zip(&bent.hot).zip(times_s) {
            let hot_time_s = time_s * hotter(hot_k(*rise));
            hot_s += hot_time_s;
            weighted += hot_time_s * strain(*half);
        }
        Self {
            strain: strain(bent.peak),
            yield_strain: plate.yield_strain(hot_k(bent.hot_at_peak)),
            relaxing_strain: if hot_s > 0.0 { weighted / hot_s } else { 0.0 },
            relaxed: if plate.steel { relaxed(hot_s) } else { 0.0 },
        }
    }

    /// Set that the engagement adds to a set that is there. Plastic bending of a plate of an ideally plastic material keeps `1 − 3/2 y + 1/2 y³` of
    /// its curvature, y being the strain at yield over that of the face (textbook); of what is then carried a share relaxes.
    pub fn added(&self, set: f64) -> f64 {
        let carried = (self.strain - set).max(0.0);
        let y = if carried > self.yield_strain {
            self.yield_strain / carried
        } else {
            1.0
        };
        let yielded = carried * (1.0 - 1.5 * y + 0.5 * y * y * y);
        let still = (self.relaxing_strain - set - yielded).max(0.0);
        yielded + self.relaxed * still
    }
}

/// How much faster stress relaxes than at the reference temperature (S. A. Arrhenius).
fn hotter(temp_k: f64) -> f64 {
    let exponent = c::RELAXATION_K * (1.0 / c::RELAXATION_AT_K - 1.0 / temp_k.max(1.0));
    libm::exp(exponent.min(300.0))
}

/// Share of the stress that relaxes over a time that counts as so long at the reference temperature \[s\]: a calibrated share of the logarithm of what
/// peened steel keeps.
fn relaxed(hot_s: f64) -> f64 {
    let kept = thermally_retained(
        hot_s,
        c::RELAXATION_AT_K,
        c::RELAXATION_PER_S,
        c::RELAXATION_EV,
        c::RELAXATION_EXPONENT,
    );
    1.0 - libm::pow(kept, c::RELAXATION_SHARE)
}

/// Cells between no set and the largest that a record can leave.
const CELLS: usize = 32;

/// Growth of a set over repeats of one record, spread evenly over it: time as a function of the set, so that a stretch gives the same however it
/// is cut.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SetGrowth {
    /// Largest set that the record leads to; 0 for a record that bends nothing.
    largest: f64,
    /// Added by one record at the nodes.
    rates: Vec<f64>,
    /// Records until each node is reached from 0.
    times: Vec<f64>,
}

impl SetGrowth {
    /// Of the engagements of a record.
    pub fn new(bendings: &[Bending]) -> Self {
        let largest = bendings.iter().map(|b| b.strain).fold(0.0, f64::max);
        if largest <= 0.0 {
            return Self::default();
        }
        let rate = |node: usize| {
            let set = largest * node as f64 / CELLS as f64;
            bendings.iter().map(|b| b.added(set)).sum::<f64>()
        };
        let rates: Vec<f64> = (0..=CELLS).map(rate).collect();
        let mut times = vec![0.0];
        let width = largest / CELLS as f64;
        for pair in rates.windows(2) {
            let before = times.last().copied().unwrap_or(0.0);
            times.push(before + crossing(width, pair[0], pair[1]));
        }
        Self {
            largest,
            rates,
            times,
        }
    }

    /// The set after `records` more, from a set that is there.
    pub fn after(&self, set: f64, records: f64) -> f64 {
        if set >= self.largest || records <= 0.0 {
            return set;
        }
        let width = self.largest / CELLS as f64;
        let cell = ((set / width) as usize).min(CELLS - 1);
        let inside = set - cell as f64 * width;
        let from = self.times[cell]
            + crossing(inside, self.rates[cell], self.rate_in(cell, inside / width));
        if !from.is_finite() {
            return set;
        }
        let until = from + records;
        let cell = self.times.partition_point(|time| *time <= until) - 1;
        let cell = cell.min(CELLS - 1);
        let rate = self.rates[cell];
        let left = until - self.times[cell];
        // Within a cell the rate falls straight with the set: an exponential approach.
        let fall = (rate - self.rates[cell + 1]) / width;
        let gone = if fall * left < 1e-9 {
            rate * left
        } else {
            -rate / fall * libm::expm1(-fall * left)
        };
        (cell as f64 * width + gone.min(width)).max(set)
    }

    fn rate_in(&self, cell: usize, share: f64) -> f64 {
        self.rates[cell] + share * (self.rates[cell + 1] - self.rates[cell])
    }
}

/// Records in which a set crosses a width while its growth falls from one rate to another.
fn crossing(width: f64, from: f64, to: f64) -> f64 {
    if width <= 0.0 {
        0.0
    } else if from <= 0.0 || to <= 0.0 {
        f64::INFINITY
    } else if (from - to).abs() < 1e-9 * from {
        width / from
    } else {
        width * libm::log(from / to) / (from - to)
    }
}

/// Height of the cone \[m\] of a ring from a set: curvature `2 set / thickness`, over the difference of the squared radii by two.
pub fn cone_m(set: f64, thickness_m: f64, outer_m: f64, inner_m: f64) -> f64 {
    2.0 * set / thickness_m * 0.5 * (outer_m - inner_m) * (outer_m + inner_m)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HARD: Bending = Bending {
        strain: 3e-3,
        yield_strain: 1e-3,
        relaxing_strain: 3e-3,
        relaxed: 0.0,
    };
    const CREEPING: Bending = Bending {
        strain: 8e-4,
        yield_strain: 1e-3,
        relaxing_strain: 8e-4,
        relaxed: 0.02,
    };

    /// Elastic-plastic bending (textbook): at three times the yield curvature 1 − 1/2 + 1/54 of it stays; at the yield curvature nothing.
    #[test]
    fn plastic_bending_keeps_the_textbook_share() {
        let share = HARD.added(0.0) / HARD.strain;
        assert!((share - (0.5 + 1.0 / 54.0)).abs() < 1e-12, "{share}");
        assert!(HARD.added(2e-3) <= 1e-18);
    }

    /// Relaxation alone, in closed form: what is left to relax falls by the same factor in each record, here spread evenly over it.
    #[test]
    fn relaxation_goes_to_the_thermal_strain_exponentially() {
        let growth = SetGrowth::new(&[CREEPING; 3]);
        for records in [0.5, 4.0, 30.0] {
            let expected = 8e-4 * -libm::expm1(-0.06 * records);
            let set = growth.after(0.0, records);
            assert!((set / expected - 1.0).abs() < 1e-6, "{set} {expected}");
        }
    }

    #[test]
    fn a_stretch_gives_the_same_however_it_is_cut() {
        let growth = SetGrowth::new(&[HARD, CREEPING]);
        for (one, two) in [(0.01, 0.02), (0.3, 2.0), (5.0, 60.0)] {
            let cut = growth.after(growth.after(1e-5, one), two);
            let whole = growth.after(1e-5, one + two);
            assert!((cut / whole - 1.0).abs() < 1e-9, "{cut} {whole}");
            assert!(whole <= HARD.strain);
        }
        assert!(SetGrowth::new(&[]).after(2e-4, 9.0) <= 2e-4);
    }

    /// The cap of a sphere of curvature κ rises by κ (r_o² − r_i²)/2 from inner to outer radius.
    #[test]
    fn a_cone_is_a_curvature_over_the_ring() {
        let height = cone_m(3e-4, 6e-3, 0.07, 0.05);
        assert!((height - 0.1 * 0.5 * 0.0024).abs() < 1e-12);
    }
}
