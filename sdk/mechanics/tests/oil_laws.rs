//! Oil: stated points, defining identities, direction of every effect.

use proptest::prelude::*;
use ringland_mechanics::oil::{
    Cross, Vogel, density_kg_m3, dilution_factor, roelands_exponent, roelands_pa_s,
};

/// The default oil is stated by its viscosities; the constants have to give them.
#[test]
fn the_default_oil_has_its_stated_viscosities() {
    for (celsius, mpa_s) in [(80.0, 11.4), (100.0, 6.9), (120.0, 4.5), (150.0, 2.8)] {
        let found = 1e3 * Vogel::default().viscosity_pa_s(celsius + 273.15);
        assert!((found - mpa_s).abs() < 0.06, "{celsius} degC: {found}");
    }
}

/// Three points of a curve give the curve back (the three-point form follows from the definition).
#[test]
fn three_points_give_the_curve() {
    let oil = Vogel::new(5.0e-5, 1000.0, 170.0).unwrap();
    let points = [313.15, 373.15, 423.15].map(|t| (t, oil.viscosity_pa_s(t)));
    let found = Vogel::through(points).unwrap();
    assert!((found.slope_k / oil.slope_k - 1.0).abs() < 1e-9);
    assert!((found.pole_k / oil.pole_k - 1.0).abs() < 1e-9);
    assert!((found.factor_pa_s / oil.factor_pa_s - 1.0).abs() < 1e-8);
    assert!(Vogel::through([(313.15, 0.01), (373.15, 0.02), (423.15, 0.03)]).is_err());
}

/// About 8 % for each per cent of fuel: the assumption behind the slope.
#[test]
fn one_per_cent_of_fuel_costs_eight_per_cent() {
    assert!((dilution_factor(0.01) - 0.92).abs() < 0.005);
    assert!((dilution_factor(0.0) - 1.0).abs() < f64::EPSILON);
}

/// z is defined by the slope at ambient pressure being α: compare with a difference quotient.
#[test]
fn roelands_starts_with_the_pressure_viscosity_coefficient() {
    let (eta, alpha) = (0.01, 1.7e-8);
    let z = roelands_exponent(eta, alpha);
    let step_pa = 1e4;
    let slope = (roelands_pa_s(eta, step_pa, z) / eta).ln() / step_pa;
    assert!((slope / alpha - 1.0).abs() < 1e-4, "{slope}");
    assert!((0.3..0.8).contains(&z), "{z}");
}

#[test]
fn shear_thinning_runs_between_its_ends() {
    let oil = Cross {
        share: 0.6,
        half_rate_per_s: 1e6,
    };
    assert!((oil.viscosity_pa_s(0.01, 0.0) - 0.01).abs() < 1e-15);
    assert!((oil.viscosity_pa_s(0.01, -1e6) - 0.008).abs() < 1e-15);
    assert!((oil.viscosity_pa_s(0.01, 1e15) - 0.006).abs() < 1e-10);
}

proptest! {
    #[test]
    fn hotter_oil_is_thinner_and_lighter(cold in 230.0..460.0_f64, by in 1.0..50.0_f64) {
        let oil = Vogel::default();
        prop_assert!(oil.viscosity_pa_s(cold + by) < oil.viscosity_pa_s(cold));
        prop_assert!(density_kg_m3(870.0, cold + by) < density_kg_m3(870.0, cold));
    }
}
