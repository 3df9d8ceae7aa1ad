//! Mixtures of normal distributions.

use super::normal;

/// A quantity that is normal with this mean and spread with this weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// From 0; the weights of a mixture need not add up to 1.
    pub weight: f64,
    /// Mean.
    pub mean: f64,
    /// Standard deviation, from 0.
    pub sd: f64,
}

/// A mixture of normal distributions.
#[derive(Clone, Debug, PartialEq)]
pub struct NormalMixture {
    parts: Vec<Part>,
    total: f64,
}

/// Quantiles are looked for within so many standard deviations of the parts; what lies beyond is below 1e-15.
const REACH: f64 = 8.0;
/// Bisections of a quantile: 2^-80 of the range is below rounding.
const BISECTIONS: usize = 80;

impl NormalMixture {
    /// Of these parts. Without weight every probability is 0 and every quantile NaN.
    pub fn new(parts: Vec<Part>) -> Self {
        let total = parts.iter().map(|part| part.weight).sum();
        Self { parts, total }
    }

    /// Mean.
    pub fn mean(&self) -> f64 {
        self.parts.iter().map(|p| p.weight * p.mean).sum::<f64>() / self.total
    }

    /// The same with an independent normal error of this spread added.
    #[must_use]
    pub fn widened(&self, sd: f64) -> Self {
        let wider = |part: &Part| Part {
            sd: libm::hypot(part.sd, sd),
            ..*part
        };
        Self {
            parts: self.parts.iter().map(wider).collect(),
            total: self.total,
        }
    }

    /// Probability of at most `x`.
    pub fn cdf(&self, x: f64) -> f64 {
        if self.total <= 0.0 {
            return 0.0;
        }
        let below = self.parts.iter().map(|part| {
            if part.sd > 0.0 {
                part.weight * normal::cdf((x - part.mean) / part.sd)
            } else if x >= part.mean {
                part.weight
            } else {
                0.0
            }
        });
        below.sum::<f64>() / self.total
    }

    /// The value below which a share `p` (between 0 and 1) lies, by bisection.
    pub fn quantile(&self, p: f64) -> f64 {
        let parts = || self.parts.iter().filter(|part| part.weight > 0.0);
        let mut low = parts()
            .map(|part| part.mean - REACH * part.sd)
            .fold(f64::INFINITY, f64::min);
        let mut high = parts()
            .map(|part| part.mean + REACH * part.sd)
            .fold(f64::NEG_INFINITY, f64::max);
        if low > high {
            return f64::NAN;
        }
        for _ in 0..BISECTIONS {
            let middle = low + 0.5 * (high - low);
            if middle <= low || middle >= high {
                break;
            }
            if self.cdf(middle) < p {
                low = middle;
            } else {
                high = middle;
            }
        }
        low + 0.5 * (high - low)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1.644 853 626 951: the 95 % point of the standard normal (any table).
    #[test]
    fn one_part_is_the_normal_distribution() {
        let one = NormalMixture::new(vec![Part {
            weight: 3.0,
            mean: 10.0,
            sd: 2.0,
        }]);
        assert!((one.quantile(0.95) - (10.0 + 2.0 * 1.644_853_626_951_472_2)).abs() < 1e-9);
        assert!((one.cdf(10.0) - 0.5).abs() < 1e-15);
    }

    #[test]
    fn two_sharp_parts_share_by_weight() {
        let sharp = |weight, mean| Part {
            weight,
            mean,
            sd: 0.0,
        };
        let two = NormalMixture::new(vec![sharp(0.25, 1.0), sharp(0.75, 2.0)]);
        assert!((two.cdf(1.5) - 0.25).abs() < 1e-15);
        assert!((two.mean() - 1.75).abs() < 1e-15);
        assert!((two.quantile(0.2) - 1.0).abs() < 1e-9 && (two.quantile(0.3) - 2.0).abs() < 1e-9);
        assert!(NormalMixture::new(Vec::new()).quantile(0.5).is_nan());
    }
}
