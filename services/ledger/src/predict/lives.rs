//! Drawn lives: quantiles, which mechanism comes first, risks together.

use crate::{Profile, Quantiles, RemainingLife};
use ringland_host::contract::MechanismLife;

/// The quantile of drawn values that are in order, by linear interpolation between the order
/// statistics at `(n - 1) p` (definition 7 of Hyndman and Fan, "Sample quantiles in statistical
/// packages", The American Statistician 50 (1996) 361-365).
pub(crate) fn quantile(sorted: &[f64], p: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else {
        return 0.0;
    };
    let place = last as f64 * p;
    let below = place.floor() as usize;
    let low = sorted.get(below).copied().unwrap_or_default();
    let high = sorted.get(below + 1).copied().unwrap_or(low);
    low + (high - low) * (place - below as f64)
}

/// 5, 50 and 95 % of drawn values.
pub(crate) fn quantiles(lives: &[f64]) -> Quantiles {
    let mut sorted = lives.to_vec();
    sorted.sort_by(f64::total_cmp);
    Quantiles {
        p05: quantile(&sorted, 0.05),
        p50: quantile(&sorted, 0.5),
        p95: quantile(&sorted, 0.95),
    }
}

/// Drawn lives in events as a remaining life in all three measures of use.
pub(crate) fn remaining_life(lives: &[f64], profile: &Profile, horizon: f64) -> RemainingLife {
    let events = quantiles(lives);
    let times = |factor: f64| Quantiles {
        p05: events.p05 * factor,
        p50: events.p50 * factor,
        p95: events.p95 * factor,
    };
    let turns = profile.crank_revolutions;
    RemainingLife {
        events,
        hours: times(profile.duration_s / 3600.0),
        crank_revolutions: (turns > 0.0).then(|| times(turns)),
        horizon_events: horizon,
    }
}

/// The mechanisms together.
pub(crate) struct Combined {
    /// Draw by draw the life of whichever mechanism comes first: the same index is the same drawn
    /// component in all of them, so that what they have in common stays in common.
    pub(crate) lives: Vec<f64>,
    /// For each mechanism the share of draws in which it comes first. Draws in which two end at
    /// once count for both in equal parts, those that reach the horizon for none.
    pub(crate) first: Vec<f64>,
}

/// Draw by draw, the first mechanism.
pub(crate) fn combine(mechanisms: &[MechanismLife], horizon: f64) -> Combined {
    let draws = mechanisms
        .iter()
        .map(|m| m.lives_events.len())
        .min()
        .unwrap_or(0);
    let mut lives = Vec::with_capacity(draws);
    let mut first = vec![0.0; mechanisms.len()];
    for draw in 0..draws {
        let of_draw = mechanisms
            .iter()
            .filter_map(|m| m.lives_events.get(draw).copied());
        let of_draw: Vec<f64> = of_draw.collect();
        let life = of_draw.iter().copied().fold(horizon, f64::min);
        lives.push(life);
        // Equal bits: the same number, not two that are close.
        let is_first = |other: &f64| life < horizon && other.total_cmp(&life).is_eq();
        let together = of_draw.iter().filter(|other| is_first(other)).count();
        for (share, other) in first.iter_mut().zip(&of_draw) {
            if is_first(other) {
                *share += 1.0 / (together as f64 * draws as f64);
            }
        }
    }
    Combined { lives, first }
}

/// Probability that any of several mechanisms ends the life within the next event:
/// `1 - (1 - r1)(1 - r2)...`. That is exact for mechanisms that know nothing of each other, and an
/// upper bound for mechanisms whose lives are long together and short together (positive quadrant
/// dependence: Lehmann, "Some concepts of dependence", Annals of Mathematical Statistics 37 (1966)
/// 1137-1153), as those of one part under one load are. The draws themselves cannot resolve the small risks.
pub(crate) fn combined_risk(mechanisms: &[MechanismLife]) -> f64 {
    let survival: f64 = mechanisms.iter().map(|m| 1.0 - m.risk_next_event).product();
    (1.0 - survival).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mechanism(lives: &[f64], risk: f64) -> MechanismLife {
        MechanismLife {
            lives_events: lives.to_vec(),
            risk_next_event: risk,
            point_shares: Vec::new(),
            shock_shares: Vec::new(),
        }
    }

    /// Worked by hand from the definition: the values that R's `quantile(x, type = 7)` documents.
    #[test]
    fn quantiles_are_of_the_seventh_definition() {
        let x = [1.0, 2.0, 3.0, 4.0];
        assert!((quantile(&x, 0.25) - 1.75).abs() < 1e-15);
        assert!((quantile(&x, 0.5) - 2.5).abs() < 1e-15);
        assert!((quantile(&x, 0.95) - 3.85).abs() < 1e-15);
        assert!((quantile(&[7.0], 0.95) - 7.0).abs() < 1e-15);
    }

    #[test]
    fn the_first_mechanism_ends_the_draw() {
        let lives = [
            mechanism(&[1.0, 5.0, 9.0, 9.0], 0.1),
            mechanism(&[2.0, 4.0, 9.0, 3.0], 0.2),
        ];
        let combined = combine(&lives, 9.0);
        assert_eq!(combined.lives, [1.0, 4.0, 9.0, 3.0]);
        assert_eq!(combined.first, [0.25, 0.5]);
        assert!((combined_risk(&lives) - 0.28).abs() < 1e-15);
    }

    #[test]
    fn a_tie_is_shared() {
        let lives = [mechanism(&[2.0], 0.0), mechanism(&[2.0], 0.0)];
        assert_eq!(combine(&lives, 9.0).first, [0.5, 0.5]);
    }

    proptest! {
        /// Boole and Frechet: between the largest risk and the sum of them.
        #[test]
        fn risks_together_are_bounded(risks in proptest::collection::vec(0.0..=1.0f64, 1..6)) {
            let all: Vec<_> = risks.iter().map(|risk| mechanism(&[], *risk)).collect();
            let together = combined_risk(&all);
            let largest = risks.iter().copied().fold(0.0, f64::max);
            prop_assert!(together >= largest - 1e-12);
            prop_assert!(together <= risks.iter().sum::<f64>() + 1e-12);
        }

        #[test]
        fn together_is_never_longer_than_alone(pairs in proptest::collection::vec((0.0..50.0f64, 0.0..50.0f64), 1..40)) {
            let (a, b): (Vec<f64>, Vec<f64>) = pairs.into_iter().unzip();
            let combined = combine(&[mechanism(&a, 0.0), mechanism(&b, 0.0)], 50.0);
            prop_assert!(combined.lives.iter().zip(&a).all(|(c, a)| c <= a));
            prop_assert!(combined.lives.iter().zip(&b).all(|(c, b)| c <= b));
            prop_assert!(combined.first.iter().sum::<f64>() <= 1.0 + 1e-12);
        }
    }
}
