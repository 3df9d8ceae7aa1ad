//! Oil volume of the hone's valleys: ISO 21920-2 (from memory) has it as a triangle of height Rvk over 1 − Mr2.

use ringland_plugin::Model;
use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_plugin_cylinder_bore::spec::Spec;

use crate::scenario::untreated;

/// By hand: (100 − 76) · 2.0/2000 = 0.024 mm³/cm², that is 2.4e-7 m; a quarter of it with the upper half of the valleys worn off.
#[test]
fn the_triangle_by_hand() {
    let spec = Spec::read(&untreated()).unwrap();
    assert!((spec.oil_retention_m(0.0) - 2.4e-7).abs() < 1e-20);
    assert!((spec.oil_retention_m(1.0e-6) - 0.6e-7).abs() < 1e-20);
    assert_eq!(spec.oil_retention_m(5.0e-6), 0.0);
}

/// Against the integral of the Abbott curve itself: valleys deeper than the worn plateau, area over depth, by midpoints.
#[test]
fn the_triangle_against_its_integral() {
    let spec = Spec::read(&untreated()).unwrap();
    for wear_m in [0.0, 0.3e-6, 1.4e-6] {
        let steps = 4000;
        let sum: f64 = (0..steps)
            .map(|k| {
                let depth_m = spec.rvk_m * (f64::from(k) + 0.5) / f64::from(steps);
                let area = (1.0 - spec.mr2_fraction) * (1.0 - depth_m / spec.rvk_m);
                if depth_m > wear_m { area } else { 0.0 }
            })
            .sum();
        let integral = sum * spec.rvk_m / f64::from(steps);
        assert!(
            (spec.oil_retention_m(wear_m) / integral - 1.0).abs() < 1e-3,
            "{wear_m}"
        );
    }
}

/// A limit above what the hone holds is a broken limit.
#[test]
fn a_limit_that_the_fresh_hone_breaks_is_refused() {
    let card = CylinderBore::card();
    let mut specimen = untreated();
    specimen.numbers[card.number_index("limit_oil_retention_m").unwrap()] = 3.0e-7;
    let findings = CylinderBore::check(specimen);
    assert_eq!(findings[0].field, "limit_oil_retention_m");
}
