//! Published values through the plugin's own code path.

use ringland_mechanics::bevel::{BevelPair, Blank, Cylinders, Teeth};
use ringland_plugin_final_drive::FinalDrive;
use ringland_plugin_final_drive::card::slot;
use ringland_plugin_final_drive::constants::{CASE_RESIDUAL_PA, OIL_KG_M3};
use ringland_plugin_final_drive::gears::Gears;
use ringland_plugin_final_drive::mesh::Running;
use ringland_plugin_final_drive::spec::Spec;
use ringland_plugin_final_drive::strength::{
    Strength, median_over_limit, oil_factor, root_roughness_factor, roughness_factor, speed_factor,
};
use ringland_trials::{Record, with, with_all};

use crate::pairs;

fn strength() -> (Spec, Gears, Strength) {
    let spec = Spec::read(&pairs::hypoid()).unwrap();
    let gears = Gears::new(&spec).unwrap();
    let strength = Strength::new(&spec, &gears);
    (spec, gears, strength)
}

/// ISO 6336-2 and -3, knees of case-hardened steel (from memory): 1.6 of the strength at 1e5 passes and 1 at 5e7 in pitting; 2.5 at 1e3 and 1 at
/// 3e6 in bending. Slopes worked out from them: 13.2225 and 8.7378, 32.60 and 49.91 beyond. On test gears: influences of 1.
#[test]
fn published_knees_of_the_life_factors() {
    let (spec, gears, strength) = test_gears();
    let contact_pa = spec.contact_limit_pa * median_over_limit();
    let root_pa = spec.root_limit_pa * median_over_limit();
    let pitting = |ratio: f64| 1.0 / strength.pitting(0, ratio * contact_pa, 10.0, 1.0);
    let bending = |ratio: f64| 1.0 / strength.bending(0, ratio * root_pa, 1.0);
    assert!((strength.root_influence[0] - 1.0).abs() < 1e-9);
    for (found, expected) in [
        (pitting(1.6), 1.0e5),
        (bending(2.5), 1.0e3),
        (bending(1.0), 3.0e6),
    ] {
        assert!((found / expected - 1.0).abs() < 1e-6, "{found} {expected}");
    }
    // The influence of oil, finish and speed is 1 to within what its formulas give at their reference.
    let influence = oil_factor(&spec)
        * speed_factor(10.0)
        * roughness_factor(&spec, &gears.flanks[0], 1.0)
        * gears.flanks[0].hypoid;
    assert!((influence - 1.0).abs() < 0.005, "{influence}");
    assert!((pitting(influence) / 5.0e7 - 1.0).abs() < 1e-6);
    let slope = |few: f64, many: f64, by: f64| (many / few).ln() / by.ln();
    assert!((slope(bending(2.0), bending(1.2), 2.0 / 1.2) - 8.7378).abs() < 1e-3);
    assert!((slope(bending(0.9), bending(0.8), 0.9 / 0.8) - 49.91).abs() < 0.01);
    let tilted = (5.0e7_f64 / 1.0e5).ln() / (1.6 / influence).ln();
    assert!((slope(pitting(1.4), pitting(1.2), 1.4 / 1.2) - tilted).abs() < 1e-3);
    assert!((tilted - 13.2225).abs() < 0.15);
}

/// A spectrum summed after ISO 6336-6: 1600 `MPa` 1e3 times, 1300 2e4 times, 1100 3e5 times, on the bending line of 1000 `MPa` at 3e6 (knees from memory; the sum
/// 0.3162227612 worked out elsewhere).
#[test]
fn published_damage_sum_of_a_spectrum() {
    let (spec, _, strength) = test_gears();
    let weak = strength.of_one_in_a_hundred();
    assert!((spec.root_limit_pa - 1.0e9).abs() < 1.0);
    let sum: f64 = [(1.6e9, 1.0e3), (1.3e9, 2.0e4), (1.1e9, 3.0e5)]
        .iter()
        .map(|(stress_pa, passes)| weak.bending(1, *stress_pa, *passes))
        .sum();
    println!("damage sum {sum:.10}");
    assert!((sum - 0.316_222_761_2).abs() < 1e-6);
}

/// A pair on which every influence is 1, as on the test gears of ISO 6336: no offset, oil of 167.5 mm²/s at 40 °C, Rz10 of 3 µm, and a root whose roughness factor is 1 with
/// nothing stronger below it.
fn test_gears() -> (Spec, Gears, Strength) {
    let mut spec = Spec::read(&pairs::spiral_bevel()).unwrap();
    spec.oil.factor_pa_s *= 167.5e-6 * OIL_KG_M3 / spec.oil.viscosity_pa_s(313.15);
    let gears = Gears::new(&spec).unwrap();
    let to_ten_mm = libm::cbrt(0.01 / gears.flanks[0].contact.radius_m);
    spec.pinion.ra_m = 0.5e-6 / to_ten_mm;
    spec.ring.ra_m = spec.pinion.ra_m;
    // 1.674 − 0.529 (Rz + 1)^0.1 = 1.
    let rz_um = (0.674_f64 / 0.529).powi(10) - 1.0;
    spec.root_ra_m = 1.0e-6 * rz_um / 6.0;
    let strength = Strength::new(&spec, &gears);
    (spec, gears, strength)
}

/// The influence factors of ISO 6336 are 1 for the gears and the oil that its strengths were found with (from memory): an oil of 100 mm²/s at
/// 50 °C (167.5 at 40 °C by the formulas' own two forms), 10 m/s, Rz10 of 3 µm, root Rz of 10 µm.
#[test]
fn published_reference_conditions_give_factors_of_one() {
    let mut spec = Spec::read(&pairs::hypoid()).unwrap();
    spec.oil.factor_pa_s *= 167.5e-6 * OIL_KG_M3 / spec.oil.viscosity_pa_s(313.15);
    assert!(
        (oil_factor(&spec) - 1.0).abs() < 0.04,
        "{}",
        oil_factor(&spec)
    );
    assert!((speed_factor(10.0) - 1.0).abs() < 0.002);
    let gears = Gears::new(&spec).unwrap();
    let flank = &gears.flanks[0];
    let to_ten_mm = libm::cbrt(0.01 / flank.contact.radius_m);
    let mean_ra_um = 0.5e6 * (spec.pinion.ra_m + spec.ring.ra_m);
    let by = 3.0 / (6.0 * mean_ra_um * to_ten_mm);
    assert!((roughness_factor(&spec, flank, by) - 1.0).abs() < 1e-9);
    assert!((root_roughness_factor(10.0e-6 / 6.0) - 1.0).abs() < 0.003);
}

/// Closed form: without offset the plugin's pair is a spiral bevel pair, its cylinders the back cones; the sliding of the traces is none.
#[test]
fn published_limit_of_no_offset() {
    let spec = Spec::read(&pairs::spiral_bevel()).unwrap();
    let gears = Gears::new(&spec).unwrap();
    let (pair, cylinders) = (gears.pair, gears.flanks[0].cylinders);
    assert!((pair.ring_angle_rad.tan() - 4.1).abs() < 1e-8);
    assert!((cylinders.virtual_teeth[0] * pair.pinion_angle_rad.cos() - 10.0).abs() < 1e-6);
    assert!((cylinders.virtual_teeth[1] * pair.ring_angle_rad.cos() - 41.0).abs() < 1e-6);
    assert!(pair.lengthwise_m_s(100.0).abs() < 1e-9);
    assert!((gears.flanks[0].hypoid - 1.0).abs() < 1e-12);
    // Torque over radius, over both angles' cosines: the normal force of a helical gear.
    let normal = 1.0 / (pair.ring_radius_m * 0.611_f64.cos() * 0.367_f64.cos());
    assert!((gears.flanks[0].normal_per_torque / normal - 1.0).abs() < 1e-8);
}

/// Contact ratio of straight miter gears by the textbook formula of spur gears with their virtual teeth (any machine design text; 25 teeth, 20
/// degrees: 35.36 virtual teeth, contact ratio 1.69).
#[test]
fn published_contact_ratio_of_virtual_spur_gears() {
    let pair = BevelPair::new(Blank {
        pinion_teeth: 25.0,
        ring_teeth: 25.0,
        offset_m: 0.0,
        ring_outer_diameter_m: 0.127,
        face_width_m: 0.02794,
        pinion_spiral_rad: 0.0,
    })
    .unwrap();
    let teeth = Teeth {
        pressure_angle_rad: 20.0_f64.to_radians(),
        addendum: 1.0,
        dedendum: 1.25,
        profile_shift: 0.0,
        thickness_shift: 0.0,
        edge_radius: 0.3,
    };
    let found = Cylinders::new(&pair, teeth, 0.85).unwrap().profile_ratio;
    let virtual_teeth = 25.0 * 2.0_f64.sqrt();
    let (sine, cosine) = 20.0_f64.to_radians().sin_cos();
    let (tip, base) = (0.5 * virtual_teeth + 1.0, 0.5 * virtual_teeth * cosine);
    let path = 2.0 * ((tip * tip - base * base).sqrt() - 0.5 * virtual_teeth * sine);
    let expected = path / (std::f64::consts::PI * cosine);
    println!("contact ratio {found:.4}, by the textbook {expected:.4}");
    assert!((found - expected).abs() < 1e-6 && (expected - 1.69).abs() < 0.005);
}

/// Archard (J. Appl. Phys. 24, 1953, 981) through the condition: depth is coefficient times asperity load times sliding, for each pass.
#[test]
fn published_wear_law_through_the_condition() {
    let specimen = with_all::<FinalDrive>(
        &pairs::hypoid(),
        &[
            ("pinion_flank.running_in_multiplier", 1.0),
            ("ring_flank.running_in_multiplier", 1.0),
            ("carrier_settling_m", 0.0),
        ],
    );
    let prepared = pairs::prepared(specimen);
    let (spec, gears, _) = strength();
    let duty = Record::of::<FinalDrive>(&[100.0])
        .channel("wheel_speed_left_rad_s", 60.0)
        .channel("wheel_speed_right_rad_s", 60.0)
        .channel("axle_torque_n_m", 2000.0)
        .duty();
    let row = prepared.after(&duty);
    let map = ringland_plugin_final_drive::mesh_map::MeshMap::read(&prepared.map).unwrap();
    let running = Running {
        ring_rad_s: 60.0,
        torque_n_m: 2000.0,
        oil_k: 378.15,
    };
    let (mesh, _) = map.at(0, &running);
    let ring_turns = 6000.0 / std::f64::consts::TAU;
    let pinion_m = spec.pinion.wear_coefficient_m2_n * mesh.pinion_dose_n_m * 4.1 * ring_turns;
    let ring_m = spec.ring.wear_coefficient_m2_n * mesh.ring_dose_n_m * ring_turns;
    assert!((row[slot::PINION_WEAR] / pinion_m - 1.0).abs() < 1e-9);
    assert!((row[slot::RING_WEAR] / ring_m - 1.0).abs() < 1e-9);
    let backlash_m = (pinion_m + ring_m) * gears.flanks[0].backlash_per_wear;
    assert!((row[slot::BACKLASH_GROWTH] / backlash_m - 1.0).abs() < 1e-9);
}

/// FKM's linear Haigh line (from memory): a uniform residual stress shifts the pulsating strength of a root by `2 M/(1 + M)` of what is retained.
#[test]
fn published_shift_by_residual_stress() {
    let (spec, _, plain) = strength();
    // Small enough that the surface stays the weaker place.
    let mut specimen = with::<FinalDrive>(&pairs::hypoid(), "root.ra_m", 1.0e-6);
    specimen.surfaces[2].depth_m = vec![0.0, 2.0e-3];
    specimen.surfaces[2].residual_stress_pa = vec![CASE_RESIDUAL_PA - 1.0e8; 2];
    let shifted = Spec::read(&specimen).unwrap();
    let gears = Gears::new(&shifted).unwrap();
    let found = Strength::new(&shifted, &gears);
    let rough = root_roughness_factor(spec.root_ra_m);
    let strength_pa = rough * spec.root_limit_pa * median_over_limit();
    let expected = 1.0 + 2.0 * 0.32 / 1.32 * 0.85 * 1.0e8 / strength_pa;
    let gain = found.root_influence[0] / plain.root_influence[0];
    println!("strength x {gain:.5}, by the line {expected:.5}");
    assert!((gain / expected - 1.0).abs() < 1e-6);
}
