//! Slips of units: a value that is off by a factor that people know.

/// The factor, what was likely done, and whether a true reading cannot be that far off.
const SLIPS: &[(f64, &str)] = &[
    (
        1000.0,
        "a thousand times too large: millimetres given as metres, or newtons as kilonewtons",
    ),
    (1e-3, "a thousand times too small"),
    (
        1e6,
        "a million times too large: micrometres given as metres",
    ),
    (1e-6, "a million times too small"),
    (25.4, "inches against millimetres"),
    (1.0 / 25.4, "millimetres against inches"),
    (25_400.0, "thou or mm against inches and metres"),
    (1000.0 / 25.4, "inches given as metres"),
    (6_894.76, "psi against pascal"),
    (1.0 / 6_894.76, "pascal against psi"),
    (4.448, "pounds-force against newtons"),
    (1.0 / 4.448, "newtons against pounds-force"),
    (1.3558, "pound-feet against newton-metres"),
    (1.0 / 1.3558, "newton-metres against pound-feet"),
    (100.0, "per cent against a fraction"),
    (0.01, "a fraction against per cent"),
    (2.0, "diametral against radial"),
    (0.5, "radial against diametral"),
];

/// How near to the factor counts, as a logarithm ...
const NEAR: f64 = 0.05;
/// ... and where the factor is absurd.
const ROUGHLY: f64 = 0.2;
/// Beyond this a true reading is no longer thought of, unless it comes with an explanation. Assumed, no source: ruined parts
/// read many times what was expected.
const ABSURD: f64 = 20.0;

/// What a ratio of measured to predicted looks like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Slip {
    pub(super) factor: f64,
    pub(super) words: &'static str,
    /// Too far off to be a reading.
    pub(super) absurd: bool,
}

/// The slip nearest to a ratio, if one is near.
pub(super) fn slip(ratio: f64) -> Option<Slip> {
    if !(ratio.is_finite() && ratio > 0.0) {
        return None;
    }
    let off = |factor: f64| libm::fabs(libm::log(ratio / factor));
    let (factor, words) = SLIPS
        .iter()
        .copied()
        .filter(|(factor, _)| off(*factor) <= if is_absurd(*factor) { ROUGHLY } else { NEAR })
        .min_by(|(a, _), (b, _)| off(*a).total_cmp(&off(*b)))?;
    Some(Slip {
        factor,
        words,
        absurd: is_absurd(factor),
    })
}

/// Whether no reading is that far from what is expected.
pub(super) fn is_absurd(ratio: f64) -> bool {
    ratio > 0.0 && !(1.0 / ABSURD..=ABSURD).contains(&ratio)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Factors by definition: 1 in = 25.4 mm; 1 lbf = 4.448 N; 1 lbf.ft = 1.3558 N.m; 1 psi = 6895 Pa.
    #[test]
    fn a_known_factor_is_named() {
        for (ratio, word, absurd) in [
            (25.3, "inches", true),
            (990.0, "thousand", true),
            (4.45, "pounds-force", false),
            (1.36, "pound-feet", false),
            (2.02, "diametral", false),
            (6900.0, "psi", true),
        ] {
            let found = slip(ratio).unwrap();
            assert!(found.words.contains(word), "{ratio}: {found:?}");
            assert_eq!(found.absurd, absurd, "{ratio}");
        }
        for plain in [1.0, 1.1, 0.8, 3.0, f64::NAN, -2.0] {
            assert_eq!(slip(plain), None, "{plain}");
        }
    }
}
