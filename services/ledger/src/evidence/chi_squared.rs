//! Quantiles of the chi-squared distribution.

use statrs::distribution::{ChiSquared, ContinuousCDF};

/// The `p` quantile with `freedom` degrees of freedom, above 0; `None` where there is none.
pub(super) fn quantile(p: f64, freedom: f64) -> Option<f64> {
    let law = ChiSquared::new(freedom).ok()?;
    (0.0 < p && p < 1.0).then(|| law.inverse_cdf(p))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.4 of critical values (read from memory): 3.841 for one degree of
    /// freedom at 0.95, 18.307 for ten; 0.103 for two at 0.05.
    #[test]
    fn tabled_values_are_met() {
        for (p, freedom, tabled) in [(0.95, 1.0, 3.841), (0.95, 10.0, 18.307), (0.05, 2.0, 0.103)] {
            let found = quantile(p, freedom).unwrap();
            assert!((found - tabled).abs() < 6e-4, "{p} {freedom}: {found}");
        }
        assert_eq!(quantile(0.5, 0.0), None);
        assert_eq!(quantile(1.0, 2.0), None);
    }
}
