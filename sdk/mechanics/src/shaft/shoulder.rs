//! Shoulder fillets of round shafts: stress concentration by the power fits to R. E. Peterson's charts that textbooks print
//! (R. L. Norton, Machine Design, appendix).

use crate::range::{OutOfRange, within};

/// Load on a stepped shaft.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShoulderLoad {
    /// Bending.
    Bending,
    /// Torsion.
    Torsion,
    /// Tension or compression.
    Axial,
}

/// Relative tolerance of a fit against a chart reading: the fits lie 1 to 6 % off other published ones.
pub const CHART_TOLERANCE: f64 = 0.04;

/// `(D/d, A, b)` of `K = A (r/d)^b`. Bending as read in public code that carries the book's table, with −0.25759 at D/d = 1.5 (a
/// copy with −0.26759 is in circulation and wrong); torsion and axial from memory.
const BENDING: [(f64, f64, f64); 11] = [
    (1.01, 0.919_38, -0.170_32),
    (1.02, 0.960_48, -0.177_11),
    (1.03, 0.980_61, -0.183_81),
    (1.05, 0.981_37, -0.196_53),
    (1.07, 0.975_27, -0.209_58),
    (1.1, 0.951_20, -0.237_57),
    (1.2, 0.970_98, -0.217_96),
    (1.5, 0.938_36, -0.257_59),
    (2.0, 0.908_79, -0.285_98),
    (3.0, 0.893_34, -0.308_60),
    (6.0, 0.878_68, -0.332_43),
];
const TORSION: [(f64, f64, f64); 4] = [
    (1.09, 0.903_37, -0.126_92),
    (1.2, 0.834_25, -0.216_49),
    (1.33, 0.848_97, -0.231_61),
    (2.0, 0.863_31, -0.238_65),
];
const AXIAL: [(f64, f64, f64); 4] = [
    (1.2, 0.962_72, -0.255_27),
    (1.3, 0.996_82, -0.257_51),
    (1.5, 0.999_57, -0.282_21),
    (2.0, 1.014_70, -0.300_35),
];

/// Stress-concentration factor of a shoulder fillet, on the nominal stress of the smaller diameter d: `diameter_ratio` D/d from the
/// first row of the fits (1.01 bending, 1.09 torsion, 1.2 axial) on and held beyond the last (6, 2, 2), `radius_ratio` r/d from 0.005 to
/// 0.3. Straight between rows. Not below 1.
///
/// # Errors
/// A ratio out of range.
pub fn shoulder_concentration(
    load: ShoulderLoad,
    diameter_ratio: f64,
    radius_ratio: f64,
) -> Result<f64, OutOfRange> {
    let (rows, expected): (&[(f64, f64, f64)], _) = match load {
        ShoulderLoad::Bending => (&BENDING, "1.01 to 20 in bending"),
        ShoulderLoad::Torsion => (&TORSION, "1.09 to 20 in torsion"),
        ShoulderLoad::Axial => (&AXIAL, "1.2 to 20 in tension"),
    };
    let least = rows.first().map_or(1.0, |row| row.0);
    let ratio = within("diameter_ratio", diameter_ratio, (least, 20.0), expected)?;
    let radius = within("radius_ratio", radius_ratio, (0.005, 0.3), "0.005 to 0.3")?;
    let fit = |(_, a, b): (f64, f64, f64)| a * libm::pow(radius, b);
    let after = rows.partition_point(|row| row.0 < ratio);
    let factor = match (
        after.checked_sub(1).and_then(|k| rows.get(k)),
        rows.get(after),
    ) {
        (Some(&low), Some(&high)) => {
            fit(low) + (fit(high) - fit(low)) * (ratio - low.0) / (high.0 - low.0)
        }
        (Some(&row), None) | (None, Some(&row)) => fit(row),
        (None, None) => 1.0,
    };
    Ok(factor.max(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The fits at their own rows: arithmetic of the table, worked out independently.
    #[test]
    fn rows_of_the_table() {
        for (load, ratio, radius, expected) in [
            (ShoulderLoad::Bending, 1.2, 0.05, 1.8654),
            (ShoulderLoad::Bending, 1.2, 0.1, 1.6039),
            (ShoulderLoad::Bending, 1.5, 0.1, 1.6981),
            (ShoulderLoad::Bending, 2.0, 0.05, 2.1406),
            (ShoulderLoad::Bending, 2.0, 0.1, 1.7557),
            (ShoulderLoad::Bending, 3.0, 0.1, 1.8181),
            (ShoulderLoad::Torsion, 1.2, 0.05, 1.5957),
            (ShoulderLoad::Torsion, 1.2, 0.1, 1.3734),
            (ShoulderLoad::Torsion, 2.0, 0.05, 1.7646),
            (ShoulderLoad::Torsion, 2.0, 0.1, 1.4956),
        ] {
            let found = shoulder_concentration(load, ratio, radius).unwrap();
            assert!((found / expected - 1.0).abs() < 5e-5, "{found} {expected}");
        }
    }

    /// Against other readings of the charts: 1.65 and 1.35 read by a textbook at D/d = 1.1875, r/d = 0.09375 (public scan), and the
    /// polynomials of W. D. Pilkey (coefficients from memory) for D/d from 1.5.
    #[test]
    fn chart_readings() {
        for (load, ratio, radius, reading) in [
            (ShoulderLoad::Bending, 1.1875, 0.09375, 1.65),
            (ShoulderLoad::Torsion, 1.1875, 0.09375, 1.35),
            (ShoulderLoad::Bending, 1.2, 0.1, 1.6657),
            (ShoulderLoad::Bending, 1.5, 0.1, 1.7430),
            (ShoulderLoad::Bending, 2.0, 0.1, 1.8021),
            (ShoulderLoad::Bending, 3.0, 0.1, 1.8292),
        ] {
            let found = shoulder_concentration(load, ratio, radius).unwrap();
            let off = found / reading - 1.0;
            assert!(off.abs() < CHART_TOLERANCE, "{load:?} {ratio}: {found}");
        }
    }

    #[test]
    fn a_larger_radius_never_concentrates_more_and_ratios_are_bounded() {
        let at = |radius| shoulder_concentration(ShoulderLoad::Bending, 1.35, radius);
        assert!(at(0.2).unwrap() < at(0.1).unwrap() && at(0.3).unwrap() >= 1.0);
        assert!(at(0.31).is_err() && at(f64::NAN).is_err());
        let small = shoulder_concentration(ShoulderLoad::Torsion, 1.05, 0.1);
        assert_eq!(small.unwrap_err().field, "diameter_ratio");
    }
}
