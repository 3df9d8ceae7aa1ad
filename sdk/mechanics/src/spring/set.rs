//! The weakest of a matched set: the first part of `n` equal ones ends the life of the set.
//!
//! The logarithm of a part's life is normal about the median. Part of its spread is the part's own (strength), part common to the set (loads):
//! parts fail independently of each other only once the common part is given.

use crate::statistics::normal;
use crate::statistics::risk::any_of;

/// A set of equal parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MatchedSet {
    /// How many there are, 1 or more.
    pub parts: f64,
    /// Spread of ln(life) from part to part.
    pub own_ln_sd: f64,
    /// Spread of ln(life) common to all parts.
    pub common_ln_sd: f64,
}

impl MatchedSet {
    /// Probability that at least one part has what each has with a probability, independently: `1 − (1 − p)^n`.
    pub fn any(&self, each: f64) -> f64 {
        any_of(self.parts, each)
    }

    /// Standard normal value of the weakest part at a probability between 0 and 1.
    pub fn weakest(&self, probability: f64) -> f64 {
        normal::quantile(-libm::expm1(libm::log1p(-probability) / self.parts))
    }

    /// Standard normal value of the weakest part where that of a single draw is given: same probability.
    pub fn weakest_of_draw(&self, z: f64) -> f64 {
        self.weakest(normal::cdf(z))
    }

    /// Probability that the set's life is over after a share of the median life of one part, 0 or more.
    pub fn over(&self, of_median: f64) -> f64 {
        if of_median <= 0.0 {
            return 0.0;
        }
        let ln_share = libm::log(of_median);
        let given = |common: f64| {
            let ahead = ln_share + self.common_ln_sd * common;
            if self.own_ln_sd > 0.0 {
                self.any(normal::cdf(ahead / self.own_ln_sd))
            } else if ahead >= 0.0 {
                1.0
            } else {
                0.0
            }
        };
        if self.common_ln_sd <= 0.0 {
            return given(0.0);
        }
        if self.own_ln_sd <= 0.0 {
            return normal::cdf(ln_share / self.common_ln_sd);
        }
        let (mut sum, mut weights) = (0.0, 0.0);
        for step in -REACH..=REACH {
            let z = SPACING * f64::from(step);
            let weight = libm::exp(-0.5 * z * z);
            sum += weight * given(z);
            weights += weight;
        }
        sum / weights
    }

    /// Life of the set at a probability (0.1: B10; 0.5: median) over the median life of one part, by bisection.
    pub fn life_at(&self, probability: f64) -> f64 {
        let (mut low, mut high) = (-LONGEST_LN, LONGEST_LN);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.over(libm::exp(middle)) < probability {
                low = middle;
            } else {
                high = middle;
            }
        }
        libm::exp(0.5 * (low + high))
    }
}

/// Trapezoidal rule over the common spread: spacing and reach, in standard deviations.
const SPACING: f64 = 0.125;
const REACH: i32 = 56;
/// Logarithm of the longest life over the median of one part.
const LONGEST_LN: f64 = 60.0;

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn set(parts: f64, own_ln_sd: f64, common_ln_sd: f64) -> MatchedSet {
        MatchedSet {
            parts,
            own_ln_sd,
            common_ln_sd,
        }
    }

    /// 10 % of sets of 16 are 0.656 % of the parts: 1 − 0.9^(1/16) (arithmetic). Median of the least of 8 normal values −1.3826: where (1 − p)^8 = 1/2.
    #[test]
    fn the_set_from_one_part() {
        let sixteen = set(16.0, 0.45, 0.0);
        let each = normal::cdf(sixteen.weakest(0.1));
        assert!((each - 0.006_563).abs() < 1e-6, "{each}");
        assert!((sixteen.any(each) - 0.1).abs() < 1e-12);
        assert!(
            (set(8.0, 1.0, 0.0).weakest(0.5) - normal::quantile(1.0 - 0.5_f64.powf(0.125))).abs()
                < 1e-12
        );
        let life = sixteen.life_at(0.1);
        assert!((life - (0.45 * normal::quantile(each)).exp()).abs() < 1e-9);
    }

    /// One part is lognormal with both spreads together.
    #[test]
    fn a_set_of_one_is_the_part() {
        let one = set(1.0, 0.45, 0.3);
        let sd = 0.45_f64.hypot(0.3);
        for share in [0.1, 0.5, 1.0, 3.0_f64] {
            assert!(
                (one.over(share) / normal::cdf(share.ln() / sd) - 1.0).abs() < 1e-6,
                "{share}"
            );
        }
        assert!((one.life_at(0.5) - 1.0).abs() < 1e-9);
        assert!(one.over(0.0).abs() < 1e-12);
    }

    /// What is common to all parts does not multiply with their number.
    #[test]
    fn what_is_common_is_no_lottery() {
        let common = set(16.0, 0.0, 0.4);
        assert!((common.over(0.5) - normal::cdf(0.5_f64.ln() / 0.4)).abs() < 1e-12);
        assert!(
            (set(16.0, 0.0, 0.0).over(0.99)).abs() < 1e-12 && set(16.0, 0.0, 0.0).over(1.0) >= 1.0
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

        /// More parts never live longer, and risk grows with time.
        #[test]
        fn more_parts_fail_sooner(parts in 1.0..64.0_f64, own in 0.05..0.8_f64, common in 0.0..0.8_f64, share in 0.05..3.0_f64) {
            let (few, many) = (set(parts, own, common), set(2.0 * parts, own, common));
            prop_assert!(many.over(share) >= few.over(share) - 1e-12);
            prop_assert!(few.over(1.1 * share) >= few.over(share) - 1e-12);
            prop_assert!(few.over(share) <= parts * normal::cdf(share.ln() / own.hypot(common)) + 1e-6);
        }
    }
}
