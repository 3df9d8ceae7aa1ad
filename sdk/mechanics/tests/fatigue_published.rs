//! Fatigue against published and independently computed values.
#![allow(clippy::unwrap_used, reason = "tests with figures worked out by hand")]

use ringland_mechanics::fatigue::damage::{
    StressBlock, damage_sum, equivalent_amplitude_pa, narrow_band_moment,
};
use ringland_mechanics::fatigue::defect::{
    Place, VICKERS_PA, el_haddad_length_m, limit_range_with_defect_pa, murakami_limit_pa,
    small_crack_threshold_pa_sqrt_m,
};
use ringland_mechanics::fatigue::marin::{
    Finish, Loading, load_factor, reliability_factor, size_factor, specimen_limit_pa,
    surface_factor, temperature_factor,
};
use ringland_mechanics::fatigue::mean_stress::{
    gerber, goodman, morrow, smith_watson_topper, soderberg, walker,
};
use ringland_mechanics::fatigue::notch::{
    fatigue_notch_factor, neuber_root_m, neuber_sensitivity, peterson_length_m,
    peterson_sensitivity,
};
use ringland_mechanics::fatigue::{BelowKnee, CyclicCurve, SnLine, StrainLife};

#[track_caller]
fn near(value: f64, expected: f64, relative: f64) {
    let error = value / expected - 1.0;
    assert!(
        error.abs() <= relative,
        "{value}, not {expected}: {error:e}"
    );
}

/// J. E. Shigley, Mechanical Engineering Design, 9th edition, example 6-9: a machined shaft, Rm 690 `MPa`, d = 32 mm, r = 3 mm, Kt = 1.65, 6.8 kN at
/// 225 mm of a 550 mm span, notch at 250 mm. Factors and equations read in a scan; `S_e` = 236 `MPa` and the answer of 68 000
/// cycles from memory; figures between worked out independently.
#[test]
fn a_rotating_shaft_of_the_textbook() {
    let ultimate_pa = 690.0e6;
    let limit_pa = specimen_limit_pa(ultimate_pa);
    near(limit_pa, 345.0e6, 0.0);
    let surface = surface_factor(Finish::Machined, ultimate_pa);
    near(surface, 0.797_78, 1e-4);
    let size = size_factor(0.032).unwrap();
    near(size, 0.857_67, 1e-4);
    let strength_pa = surface * size * load_factor(Loading::Bending) * limit_pa;
    near(strength_pa, 236.06e6, 5e-3);
    let root_m = neuber_root_m(ultimate_pa).unwrap();
    near(root_m * 1000.0_f64.sqrt(), 0.3137, 1e-3);
    let sensitivity = neuber_sensitivity(root_m, 0.003);
    near(sensitivity, 0.8467, 1e-3);
    let factor = fatigue_notch_factor(1.65, sensitivity);
    near(factor, 1.550, 1e-3);
    let moment_n_m = 6800.0 * 225.0 / 550.0 * 0.250;
    near(moment_n_m, 695.5, 1e-3);
    let modulus_m3 = std::f64::consts::PI * 0.032_f64.powi(3) / 32.0;
    near(modulus_m3, 3.217e-6, 1e-3);
    let reversed_pa = factor * moment_n_m / modulus_m3;
    near(reversed_pa, 335.1e6, 1e-3);
    let few = (0.844 * ultimate_pa, 1.0e3);
    let line = SnLine::through(few, (strength_pa, 1.0e6), BelowKnee::Endless).unwrap();
    near(1.0 / line.slope(), 0.130_72, 1e-3);
    let intercept_pa = few.0 * 1.0e3_f64.powf(1.0 / line.slope());
    near(intercept_pa, 1436.7e6, 1e-3);
    near(line.cycles(reversed_pa), 6.86e4, 0.02);
    near(line.cycles(reversed_pa), 6.8e4, 0.02);
}

/// Shigley, 9th edition, tables 6-2 and 6-5 and equations 6-20 to 6-27, read in a scan; figures worked out independently.
#[test]
fn marin_factors() {
    let table = [
        (Finish::Ground, [0.9495, 0.9054, 0.8783, 0.8536]),
        (Finish::Machined, [0.9218, 0.7947, 0.7231, 0.6614]),
        (Finish::HotRolled, [0.7814, 0.5229, 0.4047, 0.3179]),
        (Finish::Forged, [0.7007, 0.4015, 0.2816, 0.2015]),
    ];
    for (finish, factors) in table {
        for (ultimate_mpa, factor) in [400.0, 700.0, 1000.0, 1400.0].into_iter().zip(factors) {
            near(surface_factor(finish, ultimate_mpa * 1e6), factor, 2.5e-4);
        }
    }
    for (survival, factor) in [
        (0.5, 1.0),
        (0.9, 0.897),
        (0.95, 0.868),
        (0.99, 0.814),
        (0.999, 0.753),
        (0.9999, 0.702),
        (0.99999, 0.659),
        (0.999_999, 0.620),
    ] {
        near(reliability_factor(survival).unwrap(), factor, 1e-3);
    }
    near(load_factor(Loading::Axial), 0.85, 0.0);
    near(load_factor(Loading::Torsion), 0.59, 0.0);
    near(temperature_factor(294.261).unwrap(), 1.0, 2e-3); // 70 degF
    let at_500_f = 0.975 + 0.216 - 0.2875 + 0.13 - 0.037_187_5;
    near(temperature_factor(533.15).unwrap(), at_500_f, 1e-6);
    near(
        size_factor(0.1).unwrap(),
        1.51 * 100.0_f64.powf(-0.157),
        1e-12,
    );
    assert!(size_factor(0.3).is_err() && temperature_factor(900.0).is_err());
}

/// Peterson's length and sensitivity, formula from memory, figures worked out independently.
#[test]
fn peterson_notch_sensitivity() {
    for (ultimate_mpa, length_mm) in [(690.0, 0.1835), (1000.0, 0.0941), (1500.0, 0.0454)] {
        near(
            peterson_length_m(ultimate_mpa * 1e6),
            length_mm * 1e-3,
            1.2e-3, // half a unit of the last digit
        );
    }
    let length_m = peterson_length_m(690.0e6);
    near(peterson_sensitivity(length_m, 0.001), 0.8449, 1e-4);
    near(peterson_sensitivity(length_m, 0.003), 0.9424, 1e-4);
}

/// σa = 200, σm = ±150 `MPa`, Rm 900, σf' 1300, Re 700: worked out independently.
#[test]
fn mean_stress_lines() {
    near(goodman(200.0, 150.0, 900.0), 240.0, 1e-6);
    near(gerber(200.0, 150.0, 900.0), 205.714_285_7, 1e-6);
    near(morrow(200.0, 150.0, 1300.0), 226.086_956_5, 1e-6);
    near(smith_watson_topper(200.0, 150.0), 264.575_131_1, 1e-6);
    near(walker(200.0, 150.0, 0.65), 243.273, 1e-5);
    near(soderberg(200.0, 150.0, 700.0), 254.545_454_5, 1e-6);
    near(goodman(200.0, -150.0, 900.0), 171.428_571_4, 1e-6);
    near(morrow(200.0, -150.0, 1300.0), 179.310_344_8, 1e-6);
    near(smith_watson_topper(200.0, -150.0), 100.0, 1e-6);
}

/// Shigley's bar of 1.5 in under 0 to 16 kip, Kf = 1.85, `S_e` = 33.9, Rm 100 kpsi (problem statement from memory): σa = σm = 8.375 kpsi,
/// safety 3.023 by Goodman, 3.666 by Gerber (figures worked out independently). Loaded up to its safety the bar is at its endurance limit.
#[test]
fn a_bar_under_repeated_load() {
    let at = |safety: f64| safety * 8.375;
    near(goodman(at(3.023), at(3.023), 100.0), 33.9, 1e-3);
    near(gerber(at(3.666), at(3.666), 100.0), 33.9, 1e-3);
}

fn blocks<const N: usize>(blocks: [(f64, f64); N]) -> [StressBlock; N] {
    blocks.map(|(amplitude_pa, cycles)| StressBlock {
        amplitude_pa,
        cycles,
    })
}

/// N = 1e12 S^-3 and Haibach's kinked line (knee 100, 1e6, m = 5): worked out independently.
#[test]
fn damage_sums() {
    let given = blocks([(200.0, 1e4), (120.0, 5e4), (60.0, 5e5)]);
    let cubic = SnLine::new(100.0, 1.0e6, 3.0, BelowKnee::Elementary).unwrap();
    near(damage_sum(&cubic, &given), 0.2744, 1e-9);
    near(equivalent_amplitude_pa(&given, 3.0), 78.837_4, 1e-6);
    let given = blocks([(150.0, 1e4), (120.0, 1e5), (80.0, 1e6), (50.0, 1e7)]);
    for (below, sum) in [
        (BelowKnee::Haibach, 0.478_518_478),
        (BelowKnee::Endless, 0.324_769_5),
        (BelowKnee::Elementary, 0.964_949_5),
    ] {
        let line = SnLine::new(100.0, 1.0e6, 5.0, below).unwrap();
        near(damage_sum(&line, &given), sum, 1e-9);
    }
    near(narrow_band_moment(30.0, 5.0), 4.568_330_030_5e8, 1e-9);
    near(
        32.0 * narrow_band_moment(30.0, 5.0),
        1.461_865_609_8e10,
        1e-9,
    );
}

/// σf' 900 `MPa`, b −0.09, εf' 0.5, c −0.6, E 207 `GPa`: worked out independently.
#[test]
fn strain_life() {
    let steel = StrainLife {
        strength_coefficient_pa: 900.0e6,
        strength_exponent: -0.09,
        ductility_coefficient: 0.5,
        ductility_exponent: -0.6,
        modulus_pa: 207.0e9,
    };
    for (reversals, plain, with_mean) in [
        (1e3, 0.010_259_386_8, 0.009_999_951_2),
        (1e4, 0.003_888_430_8, 0.003_677_553_6),
        (1e6, 0.001_379_521_1, 0.001_240_195_9),
    ] {
        near(steel.amplitude(reversals, 0.0), plain, 1e-6);
        near(steel.amplitude(reversals, 100.0e6), with_mean, 1e-6);
    }
    near(steel.transition_reversals(), 10_979.54, 1e-6);
    near(steel.reversals(0.005, 0.0), 5094.62, 1e-6);
    near(steel.reversals(0.002, 0.0), 110_445.4, 1e-6);
}

/// Kt S = 800 `MPa`, K' 1200 `MPa`, n' 0.15, E 207 `GPa`: worked out independently.
#[test]
fn neuber_rule() {
    let curve = CyclicCurve {
        modulus_pa: 207.0e9,
        strength_coefficient_pa: 1200.0e6,
        hardening_exponent: 0.15,
    };
    let stress_pa = curve.neuber_stress_pa(800.0e6).unwrap();
    near(stress_pa, 514.367_34e6, 1e-6);
    near(curve.strain(stress_pa), 0.006_010_855, 1e-6);
    assert!(curve.neuber_stress_pa(f64::NAN).is_err());
}

/// Formulas from memory, figures worked out independently. Y = 1.
#[test]
fn small_defects() {
    let length_m = el_haddad_length_m(5.0e6, 300.0e6, 1.0);
    near(length_m, 0.088_419_4e-3, 1e-6);
    near(
        limit_range_with_defect_pa(300.0e6, 1.0e-4, length_m),
        205.509_7e6,
        1e-6,
    );
    near(
        small_crack_threshold_pa_sqrt_m(5.0e6, 1.0e-4, length_m),
        3.642_564e6,
        1e-6,
    );
    let other_m = el_haddad_length_m(8.0e6, 500.0e6, 1.0);
    near(other_m, 0.081_487_3e-3, 1e-6);
    near(
        limit_range_with_defect_pa(500.0e6, 1.0e-4, other_m),
        335.036_3e6,
        1e-6,
    );
    let halved = limit_range_with_defect_pa(1.0, length_m, length_m);
    near(halved, std::f64::consts::FRAC_1_SQRT_2, 1e-12);
    let surface = |vickers, um| murakami_limit_pa(vickers * VICKERS_PA, um * 1e-6, Place::Surface);
    near(surface(500.0, 20.0), 538.133e6, 1e-6);
    near(surface(700.0, 30.0), 665.217e6, 1e-6);
}
