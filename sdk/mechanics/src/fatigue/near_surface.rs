//! Where a crack starts: falling stress below a notch against local strength with residual stress.

use super::ResidualProfile;

/// The layer below a notch root. Stress falls as `1 − gradient z`, to no less than `least_share`; the strength is straight between its nodes and
/// held beyond; residual stress shifts it by `−M (mean + retained residual stress)`.
#[derive(Debug, Clone, Copy)]
pub struct NearSurface<'a> {
    /// Relative stress gradient \[1/m\].
    pub gradient_per_m: f64,
    /// Nominal over local stress, to which the stress falls.
    pub least_share: f64,
    /// Depth \[m\] and fully reversed strength \[Pa\], by rising depth; at least one.
    pub strength: &'a [(f64, f64)],
    /// Residual stress as made.
    pub residual: &'a ResidualProfile,
    /// Share of it retained.
    pub retained: f64,
    /// Mean-stress sensitivity M.
    pub sensitivity: f64,
}

/// Amplitude over strength, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Utilisation {
    /// Local amplitude over local strength: 1 is the strength at the line's knee.
    pub share: f64,
    /// Depth \[m\].
    pub depth_m: f64,
}

impl NearSurface<'_> {
    /// Utilisation at a depth \[m\] for an amplitude \[Pa\] at the root about a mean \[Pa\] there. An amplitude that already contains
    /// its mean (an equivalent one) takes a mean of 0. Compression beyond `mean = −amplitude` earns no more credit: the cycle then has no
    /// tension. Infinite where tension leaves no strength.
    pub fn at(&self, amplitude_pa: f64, mean_pa: f64, depth_m: f64) -> f64 {
        self.utilisation(amplitude_pa, mean_pa, depth_m, self.residual.at(depth_m))
    }

    fn utilisation(&self, amplitude_pa: f64, mean_pa: f64, depth_m: f64, residual_pa: f64) -> f64 {
        let share = (1.0 - self.gradient_per_m * depth_m).max(self.least_share);
        let amplitude_pa = amplitude_pa * share;
        let mean_pa = mean_pa * share + self.retained * residual_pa;
        let strength_pa = self.strength_pa(depth_m) - self.sensitivity * mean_pa.max(-amplitude_pa);
        if amplitude_pa <= 0.0 {
            0.0
        } else if strength_pa > 0.0 {
            amplitude_pa / strength_pa
        } else {
            f64::INFINITY
        }
    }

    /// The worst place from one depth to another \[m\], both included. Stress, strength and residual stress are straight between nodes, so
    /// that their ratio is monotonic there and the worst place is a node or an end: it is exact, not sampled.
    pub fn worst(&self, amplitude_pa: f64, mean_pa: f64, from_m: f64, to_m: f64) -> Utilisation {
        let flattens_m = (1.0 - self.least_share) / self.gradient_per_m;
        let nodes = self.residual.depths_m();
        let nodes = nodes.chain(self.strength.iter().map(|node| node.0));
        let nodes = nodes.chain([from_m, to_m, flattens_m]);
        let mut worst = Utilisation {
            share: 0.0,
            depth_m: from_m,
        };
        let mut consider = |share: f64, depth_m: f64| {
            if share > worst.share {
                worst = Utilisation { share, depth_m };
            }
        };
        for depth_m in nodes.filter(|depth| (from_m..=to_m).contains(depth)) {
            consider(self.at(amplitude_pa, mean_pa, depth_m), depth_m);
        }
        // The profile may end in a step.
        if let Some(last_m) = self.residual.depths_m().last()
            && (from_m..to_m).contains(&last_m)
        {
            consider(self.utilisation(amplitude_pa, mean_pa, last_m, 0.0), last_m);
        }
        worst
    }

    fn strength_pa(&self, depth_m: f64) -> f64 {
        let after = self.strength.partition_point(|node| node.0 < depth_m);
        let before = after.checked_sub(1).and_then(|k| self.strength.get(k));
        match (before, self.strength.get(after)) {
            (Some((z0, s0)), Some((z1, s1))) => s0 + (s1 - s0) * (depth_m - z0) / (z1 - z0),
            (Some(node), None) | (None, Some(node)) => node.1,
            (None, None) => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const STRENGTH: [(f64, f64); 2] = [(0.0, 4.0e8), (2.0e-5, 4.6e8)];

    fn layer(residual: &ResidualProfile) -> NearSurface<'_> {
        NearSurface {
            gradient_per_m: 200.0,
            least_share: 0.4,
            strength: &STRENGTH,
            residual,
            retained: 0.8,
            sensitivity: 0.3,
        }
    }

    /// Without residual stress a notch breaks from its root; peening moves the start below the compressed layer and lowers it.
    #[test]
    fn peening_moves_the_start_below_the_surface() {
        let none = ResidualProfile::default();
        let plain = layer(&none).worst(3.5e8, 0.0, 0.0, 2.0e-3);
        assert!(plain.depth_m <= 0.0 && (plain.share - 0.875).abs() < 1e-12);
        let depths: Vec<f64> = (0..=30).map(|k| 1.0e-5 * f64::from(k)).collect();
        let peened = ResidualProfile::peened(-6.0e8, 4.0e-5, 1.2e-4, 8.0e-3, &depths).unwrap();
        let treated = layer(&peened).worst(3.5e8, 0.0, 0.0, 2.0e-3);
        assert!(treated.depth_m > 1.0e-4, "{treated:?}");
        assert!(treated.share < plain.share);
    }

    /// A tension residual stress larger than the strength bears leaves none.
    #[test]
    fn tension_takes_strength() {
        let tension = ResidualProfile::new(&[0.0, 1.0e-4], &[9.0e8, 9.0e8]).unwrap();
        let none = ResidualProfile::default();
        let with = layer(&tension).at(2.0e8, 0.0, 0.0);
        assert!(with > layer(&none).at(2.0e8, 0.0, 0.0));
        assert!(layer(&tension).at(2.0e8, 1.0e9, 0.0).is_infinite());
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// No place on a fine grid is worse than the one found.
        #[test]
        fn the_worst_place_is_found(
            stresses in prop::collection::vec(-9.0e8..2.0e8_f64, 2..8), amplitude in 1.0e8..6.0e8_f64, mean in -3.0e8..3.0e8_f64
        ) {
            let depths: Vec<f64> = (0..stresses.len()).map(|k| 5.0e-5 * k as f64).collect();
            let profile = ResidualProfile::new(&depths, &stresses).unwrap();
            let layer = layer(&profile);
            let worst = layer.worst(amplitude, mean, 0.0, 1.0e-3);
            for k in 0..=2000 {
                let there = layer.at(amplitude, mean, 5.0e-7 * f64::from(k));
                prop_assert!(there <= worst.share * (1.0 + 1e-9));
            }
        }
    }
}
