//! Residual stress over depth, and how much of it stays.

use crate::range::{OutOfRange, within};

/// Residual stress below a surface, straight between nodes. Above its first node it is that node's; below its last it is 0.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ResidualProfile {
    nodes: Vec<(f64, f64)>,
}

impl ResidualProfile {
    /// From depths \[m\] that rise from 0 or more, and stresses \[Pa\], tension positive. Empty: none.
    ///
    /// # Errors
    /// Depths that do not rise, values that are not finite, lists of different lengths.
    pub fn new(depth_m: &[f64], stress_pa: &[f64]) -> Result<Self, OutOfRange> {
        let wrong = |field, value, expected| OutOfRange {
            field,
            value,
            expected,
        };
        if depth_m.len() != stress_pa.len() {
            let expected = "as many stresses as depths";
            return Err(wrong(
                "residual_stress_pa",
                stress_pa.len() as f64,
                expected,
            ));
        }
        let mut last = -f64::MIN_POSITIVE;
        for &depth in depth_m {
            if !(depth > last && depth.is_finite()) {
                return Err(wrong("depth_m", depth, "depths that rise from 0"));
            }
            last = depth;
        }
        if let Some(&stress) = stress_pa.iter().find(|stress| !stress.is_finite()) {
            return Err(wrong("residual_stress_pa", stress, "a finite stress"));
        }
        let nodes = depth_m.iter().copied().zip(stress_pa.iter().copied());
        Ok(Self {
            nodes: nodes.collect(),
        })
    }

    /// The usual shape after peening: compression `peak_pa exp(−2 (z − peak_depth)²/width²)`, less a tension, even over the thickness, that
    /// balances it. Values at depths \[m\] (those of the caller's nodes); the balance is that of the whole thickness \[m\].
    ///
    /// # Errors
    /// A width or thickness that is not above 0.
    pub fn peened(
        peak_pa: f64,
        peak_depth_m: f64,
        width_m: f64,
        thickness_m: f64,
        depth_m: &[f64],
    ) -> Result<Self, OutOfRange> {
        let positive = (f64::MIN_POSITIVE, f64::MAX);
        within("width_m", width_m, positive, "above 0 m")?;
        within("thickness_m", thickness_m, positive, "above 0 m")?;
        let place = |z: f64| std::f64::consts::SQRT_2 * (z - peak_depth_m) / width_m;
        let scale = peak_pa * width_m * (std::f64::consts::PI / 8.0).sqrt();
        let force = scale * (libm::erf(place(thickness_m)) - libm::erf(place(0.0)));
        let balance_pa = force / thickness_m;
        let stress = |z: &f64| peak_pa * libm::exp(-place(*z) * place(*z)) - balance_pa;
        let stress_pa: Vec<f64> = depth_m.iter().map(stress).collect();
        Self::new(depth_m, &stress_pa)
    }

    /// Stress \[Pa\] at a depth \[m\].
    pub fn at(&self, depth_m: f64) -> f64 {
        let after = self.nodes.partition_point(|node| node.0 < depth_m);
        match (
            after.checked_sub(1).map(|k| self.nodes[k]),
            self.nodes.get(after),
        ) {
            (None, Some(first)) => first.1,
            (Some((z0, s0)), Some((z1, s1))) => s0 + (s1 - s0) * (depth_m - z0) / (z1 - z0),
            (_, None) => 0.0,
        }
    }

    /// Depths of the nodes \[m\].
    pub fn depths_m(&self) -> impl Iterator<Item = f64> + '_ {
        self.nodes.iter().map(|node| node.0)
    }

    /// Depths \[m\] and stresses \[Pa\], as a surface of the plugin contract holds them.
    pub fn columns(&self) -> (Vec<f64>, Vec<f64>) {
        self.nodes.iter().copied().unzip()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }
}

/// Relaxation of residual stress by load cycles: `first − per_decade lg(1 + N/reference)`, at least `least` (S. Kodama 1972, in form). It is
/// straight in ln(1 + N/reference), which lets damage be integrated in closed form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CyclicRelaxation {
    /// Share left after the first load.
    pub first: f64,
    /// Share lost with each tenfold of cycles.
    pub per_decade: f64,
    /// Cycles at which the loss sets in.
    pub reference_cycles: f64,
    /// Share that stays.
    pub least: f64,
}

impl CyclicRelaxation {
    /// Share of the residual stress left after so many cycles.
    pub fn retained(&self, cycles: f64) -> f64 {
        let decades = libm::log1p(cycles / self.reference_cycles) / std::f64::consts::LN_10;
        (self.first - self.per_decade * decades).max(self.least)
    }
}

/// Boltzmann's constant \[eV/K\].
const BOLTZMANN_EV_K: f64 = 8.617_333e-5;

/// Share of residual stress left after a time \[s\] at a temperature \[K\]: `exp(−(B t exp(−ΔH/kT))^m)` (Zener, Wert and Avrami). For peened
/// quenched and tempered steel B = 1.22e21/60 1/s, ΔH = 3.29 eV, m = 0.122 (O. Vöhringer and V. Schulze, from memory).
pub fn thermally_retained(
    time_s: f64,
    temp_k: f64,
    frequency_per_s: f64,
    activation_ev: f64,
    exponent: f64,
) -> f64 {
    let rate_per_s = frequency_per_s * libm::exp(-activation_ev / (BOLTZMANN_EV_K * temp_k));
    libm::exp(-libm::pow(rate_per_s * time_s, exponent))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_profile_is_straight_between_its_nodes() {
        let profile = ResidualProfile::new(&[1.0e-5, 3.0e-5], &[-4.0e8, -2.0e8]).unwrap();
        for (depth, stress) in [(0.0, -4.0e8), (1.0e-5, -4.0e8), (2.0e-5, -3.0e8)] {
            assert!((profile.at(depth) - stress).abs() < 1.0, "{depth}");
        }
        assert!(profile.at(3.1e-5).abs() < 1e-9);
        assert!(ResidualProfile::default().at(0.0).abs() < 1e-9);
        assert!(ResidualProfile::new(&[2.0, 1.0], &[0.0, 0.0]).is_err());
        assert!(ResidualProfile::new(&[0.0], &[f64::NAN]).is_err());
    }

    /// Residual stress carries no force: compression and tension over the thickness are equal.
    #[test]
    fn a_peened_profile_balances() {
        let depths: Vec<f64> = (0..=4000).map(|k| 1.0e-6 * f64::from(k)).collect();
        let profile = ResidualProfile::peened(-6.0e8, 5.0e-5, 1.2e-4, 4.0e-3, &depths).unwrap();
        let force: f64 = depths
            .windows(2)
            .map(|pair| 0.5 * (profile.at(pair[0]) + profile.at(pair[1])) * 1.0e-6)
            .sum();
        assert!(force.abs() < 1.0, "{force} N/m");
        assert!(profile.at(3.0e-3) > 0.0 && profile.at(0.0) < 0.0);
    }

    #[test]
    fn relaxation_starts_at_the_first_load_and_ends_at_the_least() {
        let law = CyclicRelaxation {
            first: 0.85,
            per_decade: 0.05,
            reference_cycles: 1000.0,
            least: 0.5,
        };
        assert!((law.retained(0.0) - 0.85).abs() < 1e-12);
        assert!((law.retained(999_000.0) - 0.70).abs() < 1e-12);
        assert!((law.retained(1e30) - 0.5).abs() < 1e-12);
    }

    /// Heat takes residual stress away, sooner when hotter (values of the constants from memory).
    #[test]
    fn heat_relaxes() {
        let left = |temp_k| thermally_retained(3600.0, temp_k, 1.22e21 / 60.0, 3.29, 0.122);
        assert!(left(423.0) > 0.95 && left(573.0) < left(423.0) && left(773.0) < 0.5);
    }
}
