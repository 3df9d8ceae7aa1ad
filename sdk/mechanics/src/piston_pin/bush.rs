use crate::contact::{GreenwoodTable, GreenwoodTripp};
use crate::piston::falling_root;

/// A small-end bush whose load turns each cycle: the pin moves along the rod between the two halves of the bush. Each half conforms with
/// the pin (pin and bush give by more than their clearance), so its gap is taken as even.
#[derive(Debug, Clone, Copy)]
pub struct Bush<'a> {
    /// Bearing area of one half, width times diameter \[m²\].
    pub area_m2: f64,
    /// Clearance on diameter \[m\].
    pub clearance_m: f64,
    /// Width of the patches of oil that the halves hold \[m\]: the whole width when flooded, less as it starves.
    pub patch_m: f64,
    /// Contact of the surfaces.
    pub contact: GreenwoodTripp,
    /// Table of the integrals.
    pub table: &'a GreenwoodTable,
}

/// One step of crank angle, conditions at its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BushStep {
    /// Force \[N\], positive when it presses the pin on the crank side.
    pub force_n: f64,
    /// Sliding speed between pin and bush \[m/s\], 0 or more.
    pub sliding_m_s: f64,
}

/// What the bush does over a cycle.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BushCycle {
    /// Asperity pressure times sliding, both halves \[Pa·m\].
    pub dose_pa_m: f64,
    /// Highest product of asperity pressure and sliding speed \[W/m²\], before friction.
    pub severity_w_m2: f64,
    /// Share of the load that asperities carry, weighted by load and sliding \[1\].
    pub contact_share: f64,
    /// Least gap between mean planes \[m\].
    pub least_m: f64,
}

/// The film does not repeat from cycle to cycle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BushFilmError {
    /// Largest change of gap over clearance in the last cycle.
    pub change: f64,
}

impl std::fmt::Display for BushFilmError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            out,
            "the bush's film still changes by {:.1e} of the clearance from cycle to cycle",
            self.change
        )
    }
}

impl std::error::Error for BushFilmError {}

const MOST_CYCLES: usize = 200;
const CLOSED_WITHIN: f64 = 1e-6;
/// Least gap over σ: there summits are pressed flat and carry what is left. Assumed.
const FLAT: f64 = 0.2;
/// Forces below this are not told apart \[N\].
const LEAST_FORCE_N: f64 = 1.0;

impl Bush<'_> {
    /// Marches the pin round a periodic cycle of even steps \[s\] until it repeats. The half that closes resists as an even strip of oil does,
    /// `F = η A w² (−dh/dt)/h³` with the patch width w (textbook squeeze of a long strip); the half that opens gives no suction and is refilled.
    /// Implicit Euler.
    ///
    /// Leaves out the wedge of the swinging pin (an even gap has none), the oil's inertia, impact, ends of the pin.
    ///
    /// # Errors
    /// A cycle that does not close.
    pub fn march(
        &self,
        steps: &[BushStep],
        step_s: f64,
        viscosity_pa_s: f64,
    ) -> Result<BushCycle, BushFilmError> {
        let mut gap_m = 0.5 * self.clearance_m;
        let mut change = f64::INFINITY;
        let mut gaps = vec![0.0; steps.len()];
        for _ in 0..MOST_CYCLES {
            change = 0.0;
            for (step, gap) in steps.iter().zip(&mut gaps) {
                gap_m = self.advance(gap_m, step, step_s, viscosity_pa_s);
                change = f64::max(change, (gap_m - *gap).abs() / self.clearance_m);
                *gap = gap_m;
            }
            if change < CLOSED_WITHIN {
                return Ok(self.sum(steps, &gaps, step_s, viscosity_pa_s));
            }
        }
        Err(BushFilmError { change })
    }

    /// Gap on the crank side at the end of a step.
    fn advance(&self, before_m: f64, step: &BushStep, step_s: f64, viscosity_pa_s: f64) -> f64 {
        let flat_m = FLAT * self.contact.sigma_m;
        let ends = (flat_m, self.clearance_m - flat_m);
        let scale_n = step.force_n.abs() + LEAST_FORCE_N;
        let miss = |gap_m: f64| {
            let carried_n = self.carried_n(gap_m, before_m, step_s, viscosity_pa_s);
            // Bounded, so that secants are not led astray by the film's cube.
            let off = (carried_n - step.force_n) / scale_n;
            off / (1.0 + off.abs())
        };
        falling_root(ends, (1e-9 * self.clearance_m, 1e-7), miss)
    }

    /// Force that the bush gives at a gap on the crank side \[N\]; falls as the gap grows.
    fn carried_n(&self, gap_m: f64, before_m: f64, step_s: f64, viscosity_pa_s: f64) -> f64 {
        let other_m = self.clearance_m - gap_m;
        self.squeeze_n(gap_m, before_m, step_s, viscosity_pa_s)
            + self.area_m2 * (self.asperity_pa(gap_m) - self.asperity_pa(other_m))
    }

    /// Force of the oil, positive when the crank side closes.
    fn squeeze_n(&self, gap_m: f64, before_m: f64, step_s: f64, viscosity_pa_s: f64) -> f64 {
        let closing_m_s = (before_m - gap_m) / step_s;
        let thin_m = if closing_m_s > 0.0 {
            gap_m
        } else {
            self.clearance_m - gap_m
        };
        viscosity_pa_s * self.area_m2 * self.patch_m * self.patch_m * closing_m_s / thin_m.powi(3)
    }

    fn asperity_pa(&self, gap_m: f64) -> f64 {
        self.contact.pressure_pa(self.table, gap_m)
    }

    fn sum(&self, steps: &[BushStep], gaps: &[f64], step_s: f64, viscosity_pa_s: f64) -> BushCycle {
        let mut cycle = BushCycle {
            least_m: self.clearance_m,
            ..BushCycle::default()
        };
        let mut before_m = gaps.last().copied().unwrap_or(self.clearance_m);
        let mut whole_pa_m = 0.0;
        for (step, gap_m) in steps.iter().zip(gaps) {
            let film_n = self.squeeze_n(*gap_m, before_m, step_s, viscosity_pa_s);
            // What the oil leaves to the loaded half: also where summits are pressed flat.
            let loaded_n =
                ((step.force_n - film_n) * step.force_n.signum()).clamp(0.0, step.force_n.abs());
            let pressure_pa = loaded_n / self.area_m2;
            let slid_m = step.sliding_m_s * step_s;
            cycle.dose_pa_m += pressure_pa * slid_m;
            whole_pa_m += step.force_n.abs() / self.area_m2 * slid_m;
            cycle.severity_w_m2 = cycle.severity_w_m2.max(pressure_pa * step.sliding_m_s);
            cycle.least_m = cycle.least_m.min(gap_m.min(self.clearance_m - gap_m));
            before_m = *gap_m;
        }
        if whole_pa_m > 0.0 {
            cycle.contact_share = cycle.dose_pa_m / whole_pa_m;
        }
        cycle
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    fn bush(table: &GreenwoodTable, patch_m: f64) -> Bush<'_> {
        Bush {
            area_m2: 0.021 * 0.022,
            clearance_m: 12e-6,
            patch_m,
            contact: GreenwoodTripp {
                sigma_m: 0.25e-6,
                radius_m: 40e-6,
                density_per_m2: 5.0e9,
                modulus_pa: 8.0e10,
            },
            table,
        }
    }

    /// Squeeze of an even strip under a steady pressure p: `1/h² − 1/h0² = 2 p t/(η w²)` (Stefan's law for a long strip, textbook).
    #[test]
    fn a_steady_load_squeezes_after_stefan() {
        let table = GreenwoodTable::new();
        let bush = bush(&table, 2e-3);
        let (pressure, viscosity) = (10.0e6, 8e-3);
        let step = BushStep {
            force_n: pressure * bush.area_m2,
            sliding_m_s: 0.0,
        };
        let (mut gap, n, dt) = (6e-6, 4000, 1e-7);
        for _ in 0..n {
            gap = bush.advance(gap, &step, dt, viscosity);
        }
        let expected = (6e-6_f64.powi(-2)
            + 2.0 * pressure * f64::from(n) * dt / (viscosity * 4e-6))
            .powf(-0.5);
        assert!((gap / expected - 1.0).abs() < 2e-3, "{gap} {expected}");
    }

    fn cycle(n: usize) -> Vec<BushStep> {
        (0..n)
            .map(|k| {
                let angle = TAU * k as f64 / n as f64;
                BushStep {
                    force_n: 30_000.0 * (angle.cos() + 0.3),
                    sliding_m_s: angle.sin().abs(),
                }
            })
            .collect()
    }

    /// More oil, thicker oil, smoother surfaces: less contact. Without oil asperities carry everything.
    #[test]
    fn starvation_is_what_wears() {
        let table = GreenwoodTable::new();
        let share = |patch_m: f64, viscosity: f64, sigma_m: f64| {
            let mut bush = bush(&table, patch_m);
            bush.contact.sigma_m = sigma_m;
            bush.march(&cycle(360), 4e-5, viscosity)
                .unwrap()
                .contact_share
        };
        let usual = share(1e-3, 6e-3, 0.25e-6);
        assert!(usual > 0.01 && usual < 0.95, "{usual}");
        assert!(share(2e-3, 6e-3, 0.25e-6) < usual);
        assert!(share(1e-3, 9e-3, 0.25e-6) < usual);
        assert!(share(1e-3, 6e-3, 0.15e-6) < usual);
        assert!(share(1e-6, 6e-3, 0.25e-6) > 0.999);
    }

    #[test]
    fn steps_are_fine_enough() {
        let table = GreenwoodTable::new();
        let dose = |n: usize| {
            bush(&table, 1e-3)
                .march(&cycle(n), 0.0144 / n as f64, 6e-3)
                .unwrap()
                .dose_pa_m
        };
        let fine = dose(2880);
        assert!(
            (dose(360) / fine - 1.0).abs() < 0.05,
            "{} {fine}",
            dose(360)
        );
        assert!((dose(1440) / fine - 1.0).abs() < (dose(360) / fine - 1.0).abs());
    }
}
