//! Grooves in a shaft in torsion.

/// Stress concentration of a groove around a shaft in torsion, on the nominal stress of the shaft left in its bottom: depth, radius of the
/// bottom, diameter in the bottom \[m\], all above 0. H. Neuber's formulas for a shallow groove, `1 + √(t/ρ)`, and for a deep one, joined as he joins them
/// (Kerbspannungslehre; from memory). They lie 2 to 6 % below the polynomials of R. J. Roark's tables.
pub fn groove_concentration_torsion(depth_m: f64, radius_m: f64, diameter_m: f64) -> f64 {
    let shallow = (depth_m / radius_m).sqrt();
    let root = (0.5 * diameter_m / radius_m + 1.0).sqrt();
    let deep = 0.75 * (1.0 + root) * (1.0 + root) / (1.0 + 2.0 * root) - 1.0;
    1.0 + shallow * deep / shallow.hypot(deep)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ends of the joint formula: a shallow groove alone, a deep one alone, none at all.
    #[test]
    fn a_ring_groove_between_its_ends() {
        let shallow = groove_concentration_torsion(1.0e-5, 1.0e-5, 10.0);
        assert!((shallow - 2.0).abs() < 1e-4, "{shallow}");
        let blunt = groove_concentration_torsion(1.0e-3, 1.0e6, 0.028);
        assert!((blunt - 1.0).abs() < 1e-6, "{blunt}");
        let sharper = groove_concentration_torsion(6.0e-4, 2.0e-4, 0.028);
        assert!(sharper > groove_concentration_torsion(6.0e-4, 3.0e-4, 0.028));
    }

    /// Against the polynomials in the groove's share of the outer diameter that R. J. Roark's Formulas for Stress and Strain prints for U-grooves in torsion (coefficients
    /// read in public code): within 6 %, and below.
    #[test]
    fn polynomials_of_a_handbook() {
        let book = |depth: f64, radius: f64, outer: f64| {
            let (q, x) = (depth / radius, 2.0 * depth / outer);
            let s = q.sqrt();
            let terms = if q < 2.0 {
                [
                    0.966 + 1.056 * s - 0.022 * q,
                    -0.192 - 4.037 * s + 0.674 * q,
                    0.808 + 5.321 * s - 1.231 * q,
                    -0.567 - 2.364 * s + 0.566 * q,
                ]
            } else {
                [
                    1.089 + 0.924 * s + 0.018 * q,
                    -1.504 - 2.141 * s - 0.047 * q,
                    2.486 + 2.289 * s + 0.091 * q,
                    -1.056 - 1.104 * s - 0.059 * q,
                ]
            };
            terms.iter().rev().fold(0.0, |sum, term| sum * x + term)
        };
        for (depth, radius, outer) in [
            (0.6, 0.3, 28.6),
            (1.0, 1.0, 30.0),
            (1.0, 0.5, 30.0),
            (2.0, 0.5, 30.0),
            (3.0, 1.0, 30.0),
            (0.5, 1.0, 30.0),
            (4.0, 0.4, 30.0),
            (1.0, 0.2, 30.0),
            (6.0, 3.0, 40.0),
        ] {
            let found = groove_concentration_torsion(depth, radius, outer - 2.0 * depth);
            let off = found / book(depth, radius, outer) - 1.0;
            assert!(
                (-0.06..0.0).contains(&off),
                "{depth} {radius}: {found} {off}"
            );
        }
    }
}
