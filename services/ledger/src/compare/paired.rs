//! Numbers from drawn lives, some of which are only known to be at least the horizon.

use crate::{BoundedQuantiles, Bounds, Odds, predict::quantile};
use std::ops::Sub;

/// What is known of one number: it is between the two. Infinite ends are open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Range {
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Range {
    pub(crate) fn known(value: f64) -> Self {
        Self {
            low: value,
            high: value,
        }
    }

    /// A drawn life; at the horizon it is at least that.
    pub(crate) fn life(events: f64, horizon_events: f64) -> Self {
        let high = if events < horizon_events {
            events
        } else {
            f64::INFINITY
        };
        Self { low: events, high }
    }

    /// A life over that of the same drawn part in another alternative, neither below 0. Of two lives that are
    /// over already the ratio is 1.
    pub(crate) fn over(self, other: Self) -> Self {
        if self.is_known() && self == other {
            return Self::known(1.0);
        }
        let low = if other.high.is_finite() {
            self.low / other.high
        } else {
            f64::NEG_INFINITY
        };
        let high = if other.low > 0.0 {
            self.high / other.low
        } else {
            f64::INFINITY
        };
        Self { low, high }
    }

    /// A price over a life.
    pub(crate) fn cost_of(self, price: f64) -> Self {
        Self::known(price).over(self)
    }

    /// `factor` (0 or more) times this, and `shift`.
    pub(crate) fn scaled(self, factor: f64, shift: f64) -> Self {
        Self {
            low: factor * self.low + shift,
            high: factor * self.high + shift,
        }
    }

    #[allow(clippy::float_cmp)] // exact: known where both ends are the same number
    fn is_known(self) -> bool {
        self.low == self.high
    }

    pub(crate) fn bounds(self) -> Bounds {
        Bounds {
            at_least: Some(self.low).filter(|low| low.is_finite()),
            at_most: Some(self.high).filter(|high| high.is_finite()),
        }
    }
}

impl Sub for Range {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self {
            low: self.low - other.high,
            high: self.high - other.low,
        }
    }
}

/// The mean, open where any of them is.
pub(crate) fn mean(numbers: &[Range]) -> Range {
    let count = numbers.len().max(1) as f64;
    Range {
        low: numbers.iter().map(|n| n.low).sum::<f64>() / count,
        high: numbers.iter().map(|n| n.high).sum::<f64>() / count,
    }
}

/// The quantile at `p`: whatever the true numbers are, theirs lies between those of their ends.
pub(crate) fn quantile_range(numbers: &[Range], p: f64) -> Range {
    let sorted = |end: fn(&Range) -> f64| {
        let mut ends: Vec<f64> = numbers.iter().map(end).collect();
        ends.sort_by(f64::total_cmp);
        ends
    };
    Range {
        low: with_infinities(&sorted(|n| n.low), p, f64::NEG_INFINITY),
        high: with_infinities(&sorted(|n| n.high), p, f64::INFINITY),
    }
}

/// As [`quantile`]; between a number and an infinity it is `open`.
fn with_infinities(sorted: &[f64], p: f64, open: f64) -> f64 {
    let place = sorted.len().saturating_sub(1) as f64 * p;
    let below = place.floor() as usize;
    let above = place.ceil() as usize;
    let ends = [below, above].map(|index| sorted.get(index).copied().unwrap_or(open));
    if ends.iter().all(|end| end.is_finite()) {
        quantile(sorted, p)
    } else {
        open
    }
}

/// 5, 50 and 95 %.
pub(crate) fn quantiles_of(numbers: &[Range]) -> BoundedQuantiles {
    let [p05, p50, p95] = [0.05, 0.5, 0.95].map(|p| quantile_range(numbers, p).bounds());
    BoundedQuantiles { p05, p50, p95 }
}

/// How often the second of a pair is the larger. `same`: both are one and the same, beyond the horizon too.
pub(crate) fn odds(first: &[Range], second: &[Range], same: bool) -> Odds {
    let mut odds = Odds::default();
    if same {
        odds.equal = 1.0;
        return odds;
    }
    let pairs = first.len().min(second.len()).max(1) as f64;
    let mut counts = [0u32; 4];
    for (one, other) in first.iter().zip(second) {
        let which = if other.low > one.high {
            0
        } else if other.high < one.low {
            2
        } else if one.is_known() && one == other {
            1
        } else {
            3
        };
        counts[which] += 1;
    }
    let [more, equal, less, open] = counts.map(|count| f64::from(count) / pairs);
    Odds {
        more,
        equal,
        less,
        open,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::{collection::vec, prelude::*};

    const HORIZON: f64 = 50.0;

    fn lives(events: &[f64]) -> Vec<Range> {
        events
            .iter()
            .map(|e| Range::life(e.min(HORIZON), HORIZON))
            .collect()
    }

    fn some_lives() -> impl Strategy<Value = Vec<f64>> {
        vec(0.01..100.0_f64, 40)
    }

    #[test]
    fn what_the_horizon_hides_is_open() {
        let (short, long) = (Range::life(10.0, HORIZON), Range::life(50.0, HORIZON));
        let ratio = long.over(short).bounds();
        assert_eq!((ratio.at_least, ratio.at_most), (Some(5.0), None));
        let ratio = short.over(long).bounds();
        assert_eq!((ratio.at_least, ratio.at_most), (None, Some(0.2)));
        assert_eq!(long.over(long).bounds(), Bounds::default());
        assert_eq!(short.over(short), Range::known(1.0));
        let cost = long.cost_of(100.0).bounds();
        assert_eq!((cost.at_least, cost.at_most), (None, Some(2.0)));
    }

    #[test]
    fn a_life_that_is_over_has_no_ratio_but_to_another_such() {
        let (over, long) = (Range::known(0.0), Range::known(5.0));
        assert_eq!(over.over(over), Range::known(1.0));
        assert_eq!(long.over(over).bounds(), Bounds::default());
        assert_eq!(over.over(long), Range::known(0.0));
    }

    proptest! {
        /// Whatever stands for the lives beyond the horizon, quantiles of the true ratios lie within the bounds.
        #[test]
        fn bounds_hold_for_any_life_beyond(a in some_lives(), b in some_lives()) {
            let ranges: Vec<Range> = lives(&b).into_iter().zip(lives(&a)).map(|(b, a)| b.over(a)).collect();
            let mut truth: Vec<f64> = b.iter().zip(&a).map(|(b, a)| b / a).collect();
            truth.sort_by(f64::total_cmp);
            for p in [0.05, 0.5, 0.95] {
                let (known, real) = (quantile_range(&ranges, p), quantile(&truth, p));
                prop_assert!(known.low <= real * (1.0 + 1e-12) && real <= known.high * (1.0 + 1e-12), "{known:?} {real}");
            }
            let real = b.iter().zip(&a).filter(|(b, a)| b > a).count() as f64 / 40.0;
            let odds = odds(&lives(&a), &lives(&b), false);
            prop_assert!(odds.more <= real + 1e-12 && real <= odds.more + odds.open + 1e-12);
            prop_assert!((odds.more + odds.equal + odds.less + odds.open - 1.0).abs() < 1e-12);
        }

        /// The ratio of B over A is the inverse of that of A over B, quantile by quantile from the other end.
        #[test]
        fn swapping_inverts(a in some_lives(), b in some_lives()) {
            let ratio = |b: &[f64], a: &[f64]| -> Vec<Range> {
                lives(b).into_iter().zip(lives(a)).map(|(b, a)| b.over(a)).collect()
            };
            for (there, back) in ratio(&b, &a).into_iter().zip(ratio(&a, &b)) {
                let close = |one: f64, other: f64| one.total_cmp(&other).is_eq() || (one * other - 1.0).abs() < 1e-12;
                let open = |low: f64, high: f64| low == f64::NEG_INFINITY && high == f64::INFINITY;
                prop_assert!(close(there.low, back.high) || open(there.low, back.high));
                prop_assert!(close(there.high, back.low) || open(back.low, there.high));
            }
            let (one, other) = (odds(&lives(&a), &lives(&b), false), odds(&lives(&b), &lives(&a), false));
            prop_assert_eq!(one, Odds { more: other.less, less: other.more, ..other });
        }

        #[test]
        fn a_life_against_itself_is_one(a in vec(0.0..49.0_f64, 1..40)) {
            let lives = lives(&a);
            let ratios: Vec<Range> = lives.iter().map(|life| life.over(*life)).collect();
            prop_assert!(ratios.iter().all(|ratio| *ratio == Range::known(1.0)));
            prop_assert_eq!(quantiles_of(&ratios).p95, Range::known(1.0).bounds());
            prop_assert!((odds(&lives, &lives, false).equal - 1.0).abs() < 1e-12);
        }
    }
}
