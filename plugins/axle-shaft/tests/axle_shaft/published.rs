//! Published values, through the plugin's own reading of a specimen.

use ringland_plugin_axle_shaft::AxleShaft;
use ringland_plugin_axle_shaft::card::slot;
use ringland_plugin_axle_shaft::condition::Shaft;
use ringland_plugin_axle_shaft::spec::site;
use ringland_trials::{Record, with_all};

use crate::scenario::{Prepared, bare, untreated};

fn shaft(changes: &[(&str, f64)]) -> Shaft {
    let specimen = with_all::<AxleShaft>(&untreated(), changes);
    let map = Prepared::new(specimen.clone()).map;
    Shaft::new(&specimen, &map).unwrap()
}

/// 1000 N·m on 40 mm: 79.577472 `MPa`, arithmetic of `16 T/(π d³)` worked out independently.
#[test]
fn torsion_of_a_solid_shaft() {
    let shaft = shaft(&[("body_diameter_m", 0.04), ("shoulder_diameter_m", 0.048)]);
    let stress = 1000.0 * shaft.sites[site::SHOULDER].nominal_pa_per_n_m;
    assert!((stress / 79.577_472e6 - 1.0).abs() < 1e-8, "{stress}");
}

/// Power fits to Peterson's charts that a textbook prints (R. L. Norton; torsion coefficients from memory), worked out independently.
#[test]
fn shoulder_fillets() {
    for (ratio, radius, book) in [
        (1.2, 0.05, 1.5957),
        (1.2, 0.1, 1.3734),
        (2.0, 0.05, 1.7646),
        (2.0, 0.1, 1.4956),
    ] {
        let shaft = shaft(&[
            ("shoulder_diameter_m", 0.028 * ratio),
            ("shoulder_radius_m", 0.028 * radius),
        ]);
        let found = shaft.sites[site::SHOULDER].concentration;
        assert!((found / book - 1.0).abs() < 5e-5, "{found} {book}");
    }
}

/// Peterson's length: 0.0941 mm at 1000 `MPa`, 0.0454 at 1500 (his formula, from memory; worked out independently), 0.6 of it in torsion.
#[test]
fn notch_sensitivity() {
    for (ultimate_pa, length_mm) in [(1.0e9, 0.0941), (1.5e9, 0.0454)] {
        let shaft = shaft(&[
            ("ultimate_strength_pa", ultimate_pa),
            ("shear_yield_pa", 5.0e8),
        ]);
        let site = &shaft.sites[site::SPLINE];
        let sensitivity = (site.fatigue_factor - 1.0) / (site.concentration - 1.0);
        let book = 1.0 / (1.0 + 0.6 * length_mm / 0.4);
        assert!(
            (sensitivity / book - 1.0).abs() < 1e-3,
            "{sensitivity} {book}"
        );
    }
}

/// Ideally plastic solid bar (textbook): plastic through at 4/3 of the yield torque, and `T = 4/3 Ty (1 − ¼ (θy/θ)³)`. The torque of the prepared
/// table leaves the limit's twist by that formula.
#[test]
fn torque_that_twists_for_good() {
    let changes = [("hardening_ratio", 0.0), ("limit_twist_rad", 0.05)];
    let specimen = with_all::<AxleShaft>(&untreated(), &changes);
    let (model, spec) = (Prepared::new(specimen), shaft(&changes).spec);
    let yield_n_m = std::f64::consts::PI * 0.028_f64.powi(3) * 9.5e8 / 16.0;
    assert!((spec.body.yield_torque_n_m() / yield_n_m - 1.0).abs() < 1e-12);
    assert!((spec.body.plastic_torque_n_m() / yield_n_m - 4.0 / 3.0).abs() < 1e-12);
    let torque_n_m = model.map[0];
    // θ from the torque by the formula, less what springs back.
    let yield_rad = 9.5e8 * 0.42 / (7.9e10 * 0.014);
    let twist_rad = yield_rad / (4.0 - 3.0 * torque_n_m / yield_n_m).cbrt();
    let stays_rad = twist_rad - yield_rad * torque_n_m / yield_n_m;
    assert!((stays_rad / 0.05 - 1.0).abs() < 1e-9, "{stays_rad}");
}

/// A record of one class of cycles: range, mean \[N·m, axle\], count.
fn cycled(model: &Prepared, range: f64, mean: f64, count: f64) -> Vec<f64> {
    let record = Record::of::<AxleShaft>(&[]).cycles("axle_torque_n_m", &[[range, mean, count]]);
    model.after(&record.duty())
}

/// O. H. Basquin and M. A. Miner: fully reversed at the strength, as many cycles as it is given at are a damage of 1; at twice, 2^7 of it. Smooth surface, so
/// that roughness takes nothing.
#[test]
fn basquin_and_miner() {
    let changes = [("spline.ra_m", 0.1e-6), ("strength_pa", 4.0e8)];
    let model = Prepared::new(with_all::<AxleShaft>(&untreated(), &changes));
    let site = &shaft(&changes).sites[site::SPLINE];
    let torque_n_m = 4.0e8 / site.elastic_pa(1.0);
    // Half the axle's torque on this shaft: its range is four times the amplitude.
    let at_strength = cycled(&model, 4.0 * torque_n_m, 0.0, 2.0e6);
    assert!((at_strength[0] - 1.0).abs() < 1e-9, "{}", at_strength[0]);
    let twice = cycled(&model, 8.0 * torque_n_m, 0.0, 2.0e6);
    assert!((twice[0] - 128.0).abs() < 1e-6, "{}", twice[0]);
    let halves = cycled(&model, 4.0 * torque_n_m, 0.0, 1.0e6);
    assert!((halves[0] - 0.5).abs() < 1e-9);
}

/// FKM guideline (from memory): a mean as large as the amplitude counts as `1 + M` times it, with `M = (0.35e-3 Rm/MPa − 0.1)/√3` in torsion: the amplitude that
/// lasts as long fully reversed.
#[test]
fn mean_torque() {
    let sensitivity = 0.53 / 3.0_f64.sqrt();
    let pulsating = cycled(bare(), 1000.0, 500.0, 1000.0);
    let reversed = cycled(bare(), 1000.0 * (1.0 + sensitivity), 0.0, 1000.0);
    assert!((pulsating[0] / reversed[0] - 1.0).abs() < 1e-9);
    // Beyond it a third as much.
    let third = sensitivity / 3.0;
    let higher = cycled(bare(), 500.0, 500.0, 1000.0);
    let factor = (1.0 + 2.0 * third) * (1.0 + sensitivity) / (1.0 + third);
    let reversed = cycled(bare(), 500.0 * factor, 0.0, 1000.0);
    assert!((higher[0] / reversed[0] - 1.0).abs() < 1e-9);
}

/// J. F. Archard by hand, one cycle from nothing to 3000 N·m: 200 kN on 15 teeth of 35 mm, 440 `MPa` over the working depth; 381 N/mm give 27.2 µm at
/// 14 N/(mm·µm), half of it along the flank. Over pins twice the depth.
#[test]
fn wear_of_the_flanks_by_hand() {
    let row = cycled(bare(), 6000.0, 3000.0, 1.0);
    let pressure = 200.0e3 / 15.0 / (0.035 * 1.0e-3 * 3.0_f64.sqrt() / 2.0);
    let slides = 200.0e3 / 15.0 / 0.035 / 1.4e10 * 0.5;
    let by_hand = 2.0e-15 * 0.5 * pressure * 2.0 * slides;
    assert!((row[slot::WEAR] / by_hand - 1.0).abs() < 1e-9);
    let forecast = bare().forecast(&row, &crate::scenario::event());
    let pins = forecast.readings[1].median[0];
    assert!((pins / (2.0 * by_hand) - 1.0).abs() < 1e-9);
}
