//! The log-rank test: do two groups end their lives at the same rate over age?

use super::{Life, StatisticsError, positive};

/// What the test found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogRank {
    /// Ends seen in the first group.
    pub observed: f64,
    /// Ends expected of it if both groups were alike.
    pub expected: f64,
    /// Variance of their difference.
    pub variance: f64,
}

impl LogRank {
    /// Chi-squared with one degree of freedom; 0 where no age tells the groups apart.
    pub fn chi_squared(&self) -> f64 {
        if self.variance > 0.0 {
            (self.observed - self.expected).powi(2) / self.variance
        } else {
            0.0
        }
    }

    /// Probability of so large a difference if the groups were alike.
    pub fn p_value(&self) -> f64 {
        libm::erfc((0.5 * self.chi_squared()).sqrt())
    }
}

/// Compares two groups with suspensions: at each age at which parts ended, the ends of the first group against their
/// expectation from both, with the hypergeometric variance (Mantel, Cancer Chemotherapy Reports 50 (1966) 163-170, from memory).
///
/// # Errors
/// An age not above 0; an empty group.
pub fn log_rank(first: &[Life], second: &[Life]) -> Result<LogRank, StatisticsError> {
    for (what, group) in [
        ("lives of the first group", first),
        ("lives of the second group", second),
    ] {
        if group.is_empty() {
            return Err(StatisticsError::TooFew {
                what,
                found: 0,
                needed: 1,
            });
        }
    }
    let mut lives: Vec<(f64, bool, bool)> = Vec::with_capacity(first.len() + second.len());
    for (group, of_first) in [(first, true), (second, false)] {
        for life in group {
            lives.push((positive("age", life.age)?, life.failed, of_first));
        }
    }
    lives.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut at_risk, mut first_at_risk) = (lives.len() as f64, first.len() as f64);
    let mut found = LogRank {
        observed: 0.0,
        expected: 0.0,
        variance: 0.0,
    };
    for same_age in lives.chunk_by(|a, b| a.0.total_cmp(&b.0).is_eq()) {
        let ends = same_age.iter().filter(|(_, ended, _)| *ended).count() as f64;
        if ends > 0.0 {
            let of_first = same_age.iter().filter(|(_, ended, first)| *ended && *first);
            found.observed += of_first.count() as f64;
            let share = first_at_risk / at_risk;
            found.expected += ends * share;
            if at_risk > 1.0 {
                found.variance += ends * share * (1.0 - share) * (at_risk - ends) / (at_risk - 1.0);
            }
        }
        at_risk -= same_age.len() as f64;
        first_at_risk -= same_age.iter().filter(|(_, _, first)| *first).count() as f64;
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lives() -> impl Strategy<Value = Vec<Life>> {
        proptest::collection::vec((1u32..40, any::<bool>()), 1..30).prop_map(|drawn| {
            let life = |(age, failed)| Life {
                age: f64::from(age),
                failed,
            };
            drawn.into_iter().map(life).collect()
        })
    }

    proptest! {
        /// Swapping the groups turns the difference round and keeps the test.
        #[test]
        fn the_order_of_the_groups_does_not_matter(a in lives(), b in lives()) {
            let (there, back) = (log_rank(&a, &b).unwrap(), log_rank(&b, &a).unwrap());
            prop_assert!((there.chi_squared() - back.chi_squared()).abs() < 1e-9);
            let sum = there.observed - there.expected + back.observed - back.expected;
            prop_assert!(sum.abs() < 1e-9);
            prop_assert!((0.0..=1.0).contains(&there.p_value()));
        }

        /// The unit of age does not matter.
        #[test]
        fn the_unit_does_not_matter(a in lives(), b in lives()) {
            let scale = |group: &[Life]| -> Vec<Life> {
                group.iter().map(|life| Life { age: 60.0 * life.age, ..*life }).collect()
            };
            let scaled = log_rank(&scale(&a), &scale(&b)).unwrap();
            prop_assert_eq!(log_rank(&a, &b).unwrap(), scaled);
        }

        #[test]
        fn a_group_does_not_differ_from_itself(a in lives()) {
            prop_assert!(log_rank(&a, &a).unwrap().chi_squared() < 1e-12);
        }
    }

    /// Two parts that both end: worked by hand. At age 1 the first group ends with expectation 1/2 and variance 1/4; at age 2
    /// nobody of it is left.
    #[test]
    fn two_lives_by_hand() {
        let life = |age| [Life { age, failed: true }];
        let found = log_rank(&life(1.0), &life(2.0)).unwrap();
        assert_eq!(
            (found.observed, found.expected, found.variance),
            (1.0, 0.5, 0.25)
        );
        assert!((found.chi_squared() - 1.0).abs() < 1e-15);
        // Chi-squared 1 with one degree of freedom: 1 - erf(1/sqrt 2) = 0.3173 (any table of the normal distribution).
        assert!((found.p_value() - 0.317_310_507_862_914).abs() < 1e-12);
    }

    #[test]
    fn an_empty_group_is_refused() {
        let some = [Life {
            age: 1.0,
            failed: true,
        }];
        assert!(log_rank(&[], &some).is_err());
        assert!(log_rank(&some, &[]).is_err());
    }
}
