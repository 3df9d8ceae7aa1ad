//! Residual stress over depth: the usual shape of peening, and what several treatments leave.

use crate::ResidualStressProfile;
use std::f64::consts::PI;

/// The usual shape of a profile: compression with its largest below the surface, then a small
/// tension that balances it. Shape from memory of published profiles; no scatter is carried.
pub(super) struct Shape {
    /// At the surface \[Pa\], compression negative.
    pub(super) surface_pa: f64,
    /// Largest compression \[Pa\].
    pub(super) peak_pa: f64,
    /// Its depth \[m\].
    pub(super) peak_depth_m: f64,
    /// Depth at which the compression ends \[m\].
    pub(super) total_depth_m: f64,
    /// Tension below it \[Pa\].
    pub(super) balance_pa: f64,
}

impl Shape {
    /// Depths and stresses between which everything is straight.
    pub(super) fn columns(&self) -> ResidualStressProfile {
        const STEPS: i32 = 4;
        let (from, to) = (self.peak_depth_m, self.total_depth_m);
        let mut depth_m = vec![0.0];
        let mut stress_pa = vec![self.surface_pa];
        // A cosine rounds both ends: no kink at the peak, none where the compression ends.
        let mut leg = |start: f64, end: f64, first: f64, last: f64| {
            for step in 1..=STEPS {
                let share = f64::from(step) / f64::from(STEPS);
                depth_m.push(start + share * (end - start));
                stress_pa.push(first + (last - first) * 0.5 * (1.0 - libm::cos(PI * share)));
            }
        };
        leg(0.0, from, self.surface_pa, self.peak_pa);
        leg(from, to, self.peak_pa, self.balance_pa);
        depth_m.push(10.0 * to);
        stress_pa.push(self.balance_pa);
        ResidualStressProfile { depth_m, stress_pa }
    }
}

/// Stress at a depth: straight between the columns, nothing below them, as models read it.
pub(super) fn at(profile: &ResidualStressProfile, depth_m: f64) -> f64 {
    let depths = &profile.depth_m;
    let after = depths.partition_point(|depth| *depth < depth_m);
    let node = |index: usize| {
        let stress = profile.stress_pa.get(index)?;
        Some((*depths.get(index)?, *stress))
    };
    let before = after.checked_sub(1).and_then(node);
    match (before, node(after)) {
        (Some((z0, s0)), Some((z1, s1))) => s0 + (s1 - s0) * (depth_m - z0) / (z1 - z0),
        (None, Some((_, stress))) => stress,
        (_, None) => 0.0,
    }
}

/// What two treatments leave together: in each layer the stronger compression, since what has yielded
/// once yields no further; where neither presses, the larger tension. Layer-wise rule assumed.
pub(super) fn together(
    one: &ResidualStressProfile,
    other: &ResidualStressProfile,
) -> ResidualStressProfile {
    let mut depth_m = one.depth_m.clone();
    depth_m.extend(&other.depth_m);
    depth_m.sort_by(f64::total_cmp);
    depth_m.dedup();
    let mut crossings = Vec::new();
    for pair in depth_m.windows(2) {
        let [from, to] = [pair[0], pair[1]];
        let differ = |z: f64| at(one, z) - at(other, z);
        crossings.extend(crossing(from, to, differ(from), differ(to)));
        for profile in [one, other] {
            crossings.extend(crossing(from, to, at(profile, from), at(profile, to)));
        }
    }
    depth_m.extend(crossings);
    depth_m.sort_by(f64::total_cmp);
    depth_m.dedup();
    let stress_pa = depth_m.iter().map(|z| stronger(at(one, *z), at(other, *z)));
    ResidualStressProfile {
        stress_pa: stress_pa.collect(),
        depth_m,
    }
}

fn stronger(one: f64, other: f64) -> f64 {
    if one.min(other) < 0.0 {
        one.min(other)
    } else {
        one.max(other)
    }
}

/// Where a straight line between two depths passes zero, if it does between them.
fn crossing(from: f64, to: f64, first: f64, last: f64) -> Option<f64> {
    if first * last >= 0.0 {
        return None;
    }
    let depth = from + (to - from) * first / (first - last);
    (from < depth && depth < to).then_some(depth)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const BALANCE_PA: f64 = 5e6;

    fn shape(surface: f64, peak: f64, depth: f64, total: f64) -> ResidualStressProfile {
        let shape = Shape {
            surface_pa: -surface,
            peak_pa: -surface - peak,
            peak_depth_m: depth,
            total_depth_m: depth + total,
            balance_pa: BALANCE_PA,
        };
        shape.columns()
    }

    #[test]
    fn a_shape_has_its_numbers() {
        let profile = shape(450e6, 150e6, 50e-6, 150e-6);
        assert_eq!(profile.depth_m.len(), profile.stress_pa.len());
        assert!(profile.depth_m.windows(2).all(|pair| pair[0] < pair[1]));
        for (depth, stress) in [
            (0.0, -450e6),
            (50e-6, -600e6),
            (200e-6, 5e6),
            (2e-3, 5e6),
            (1e-2, 0.0),
        ] {
            assert!((at(&profile, depth) - stress).abs() < 1.0, "{depth}");
        }
    }

    /// Two straight profiles by hand: -400 at the surface to 0 at 0.2 mm, and -200 throughout to
    /// 0.4 mm. They cross at 0.1 mm.
    #[test]
    fn layer_by_layer_the_stronger_compression() {
        let columns = |depth_m: &[f64], stress_pa: &[f64]| ResidualStressProfile {
            depth_m: depth_m.to_vec(),
            stress_pa: stress_pa.to_vec(),
        };
        let steep = columns(&[0.0, 2e-4], &[-400e6, 0.0]);
        let even = columns(&[0.0, 4e-4], &[-200e6, -200e6]);
        let both = together(&steep, &even);
        for (depth, stress) in [
            (0.0, -400e6),
            (5e-5, -300e6),
            (1e-4, -200e6),
            (3e-4, -200e6),
        ] {
            assert!((at(&both, depth) - stress).abs() < 1.0, "{depth} {both:?}");
        }
        assert_eq!(both.depth_m.len(), 4, "the crossing is a node: {both:?}");
    }

    proptest! {
        /// Never weaker than either in compression, in either order, and as it was when repeated.
        #[test]
        fn together_is_bounded_and_symmetric(
            a in (1e6..9e8_f64, 0.0..5e8_f64, 5e-6..6e-5_f64, 1e-5..3e-4_f64),
            b in (1e6..9e8_f64, 0.0..5e8_f64, 5e-6..6e-5_f64, 1e-5..3e-4_f64),
            depth in 0.0..5e-4_f64,
        ) {
            let (one, other) = (shape(a.0, a.1, a.2, a.3), shape(b.0, b.1, b.2, b.3));
            let both = together(&one, &other);
            prop_assert_eq!(&both, &together(&other, &one));
            let again = at(&together(&both, &one), depth);
            // Where one compression ends under the other's tension the rule jumps, and columns slope: by
            // no more than the tension on either side.
            prop_assert!((again - at(&both, depth)).abs() <= 2.0 * BALANCE_PA);
            let (low, high) = (at(&one, depth).min(at(&other, depth)), BALANCE_PA + 1.0);
            let value = at(&both, depth);
            prop_assert!(value >= low - 1.0 && value <= high, "{value} {low}");
            for (z, s) in both.depth_m.iter().zip(&both.stress_pa) {
                prop_assert!(*s <= at(&one, *z).max(at(&other, *z)) + 1.0);
            }
        }
    }
}
