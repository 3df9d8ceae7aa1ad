//! A set of bolts whose preloads are drawn independently: the loosest and the tightest of them.

use ringland_plugin::{Spread, normal_cdf, normal_quantile};

/// A set of equal bolts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Set {
    /// How many there are.
    pub bolts: usize,
}

impl Set {
    /// Standard normal value of the lowest of the set at a probability.
    pub fn lowest(&self, p: f64) -> f64 {
        normal_quantile(-libm::expm1(libm::log1p(-p) / self.bolts as f64))
    }

    /// Standard normal value of the highest of the set at a probability.
    pub fn highest(&self, p: f64) -> f64 {
        -self.lowest(1.0 - p)
    }

    /// Probability that at least one of the set has a property that each has with a probability.
    pub fn any(&self, each: f64) -> f64 {
        if each >= 1.0 {
            return 1.0;
        }
        -libm::expm1(self.bolts as f64 * libm::log1p(-each))
    }

    /// Probability that the lowest of the set lies below a standard normal value.
    pub fn any_below(&self, z: f64) -> f64 {
        self.any(normal_cdf(z))
    }
}

const SPACING: f64 = 0.25;
const REACH: i32 = 24;

/// Nodes and weights of a mean over a standard normal variable: the trapezoidal rule on spacings of a quarter to six standard deviations.
pub fn normal_nodes() -> Vec<(f64, f64)> {
    let node = |k: i32| {
        let z = SPACING * f64::from(k);
        (z, libm::exp(-0.5 * z * z))
    };
    let nodes = (-REACH..=REACH).map(node);
    let sum: f64 = nodes.clone().map(|(_, weight)| weight).sum();
    nodes.map(|(z, weight)| (z, weight / sum)).collect()
}

/// Mean of a function of a rate multiplier.
pub fn rate_mean(rate: &Spread, of: impl Fn(f64) -> f64) -> f64 {
    if rate.ln_sd <= 0.0 {
        return of(rate.at(0.0));
    }
    let nodes = normal_nodes().into_iter();
    nodes.map(|(z, weight)| weight * of(rate.at(z))).sum()
}

/// The standard normal value below which a never falling function lies under a level: within ±9.
pub fn crossing(level: f64, rising: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (-9.0, 9.0);
    if rising(low) >= level {
        return f64::NEG_INFINITY;
    }
    if rising(high) < level {
        return f64::INFINITY;
    }
    for _ in 0..32 {
        let middle = 0.5 * (low + high);
        if rising(middle) < level {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Order statistics of a normal sample, tabulated (Harter 1961, from memory): the median of the least of 8 lies where
    /// (1 - p)^8 = 1/2, that is at -1.3826.
    #[test]
    fn the_least_of_eight() {
        let set = Set { bolts: 8 };
        let z = set.lowest(0.5);
        assert!((normal_cdf(z) - (1.0 - 0.5_f64.powf(0.125))).abs() < 1e-12);
        assert!((set.any_below(z) - 0.5).abs() < 1e-12);
        assert!((set.highest(0.5) + z).abs() < 1e-12);
        assert!((set.highest(0.95) + set.lowest(0.05)).abs() < 1e-12);
        assert!(set.any(1.0) >= 1.0 && set.any(0.0) <= 0.0);
    }

    /// Moments: 1 for z², exp(s²/2) for a lognormal.
    #[test]
    fn means_of_the_normal() {
        let square: f64 = normal_nodes()
            .iter()
            .map(|(z, weight)| weight * z * z)
            .sum();
        assert!((square - 1.0).abs() < 1e-6);
        let rate = Spread {
            ln_mean: 0.1,
            ln_sd: 0.5,
        };
        let expected = (0.1_f64 + 0.125).exp();
        assert!((rate_mean(&rate, |m| m) / expected - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_crossing_is_found_or_lies_beyond() {
        assert!((crossing(2.0, |z| z * z * z) - 2.0_f64.cbrt()).abs() < 1e-9);
        assert!(crossing(-1e3, |z| z).is_infinite() && crossing(1e3, |z| z) > 0.0);
    }
}
