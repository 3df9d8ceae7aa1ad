//! Published and hand-worked values through the plugin's own code.

use ringland_driveline::Engagement;
use ringland_mechanics::clutch::torque::Synchronisation;
use ringland_plugin::Specimen;
use ringland_plugin_dry_clutch::DryClutch;
use ringland_plugin_dry_clutch::card::{reading, slot};
use ringland_plugin_dry_clutch::material::Thermal;
use ringland_plugin_dry_clutch::slip::Slip;
use ringland_plugin_dry_clutch::spec::Spec;
use ringland_plugin_dry_clutch::stack::Stack;
use ringland_trials::{driveline, with_all};

use crate::clutches::{prepared, sintered};

/// Textbook clutch (uniform wear, worked by hand): friction 0.3, 4 kN, radii 100 and 70 mm give 102.000 N.m a face.
#[test]
fn torque_of_two_faces_is_the_textbook_one() {
    let changes = [
        ("discs", 1.0),
        ("outer_diameter_m", 0.2),
        ("inner_diameter_m", 0.14),
        ("clamp_n", 4000.0),
        ("engine_torque_n_m", 100.0),
    ];
    let clutch = prepared(with_all::<DryClutch>(&sintered(), &changes));
    let forecast = clutch.forecast(&clutch.begin(), &crate::clutches::event());
    let capacity_n_m = forecast.readings[reading::CAPACITY].median[0];
    assert!((capacity_n_m - 204.0).abs() < 1e-9, "{capacity_n_m}");
}

/// Two free inertias under a constant torque (rigid-body mechanics, worked by hand: 0.2 and 1.5 kg.m2, 400 and 100 rad/s, 300 N.m give 0.1764706 s and
/// 7941.1765 J): logged with their peak power of 300 N.m times 300 rad/s, power falls straight from the start over the whole time.
#[test]
fn a_synchronisation_is_a_slip_that_falls_straight() {
    let two = Synchronisation {
        driving_kg_m2: 0.2,
        driven_kg_m2: 1.5,
        driving_rad_s: 400.0,
        driven_rad_s: 100.0,
        torque_n_m: 300.0,
    };
    let (duration_s, energy_j) = (two.duration_s(), two.energy_j());
    assert!((duration_s - 0.176_470_6).abs() < 1e-7 && (energy_j - 7941.1765).abs() < 1e-4);
    let slip = Slip::of(&Engagement {
        duration_s,
        energy_j,
        peak_power_w: 300.0 * 300.0,
        peak_torque_n_m: 300.0,
        ..Engagement::default()
    });
    assert!(
        (slip.duration_s / duration_s - 1.0).abs() < 1e-12,
        "{slip:?}"
    );
    assert!(slip.hold < 1e-12, "{slip:?}");
    assert!((slip.power_w(0.5 * duration_s) / 45e3 - 1.0).abs() < 1e-9);
}

/// A thick stack of one material: k = 50 W/(m.K), diffusivity 1.4e-5 m2/s.
fn one_material() -> Specimen {
    let changes = [
        ("discs", 1.0),
        ("lining_m", 5.0e-3),
        ("core_m", 4.0e-3),
        ("pressure_plate_m", 20.0e-3),
        ("flywheel_m", 20.0e-3),
        ("side_imbalance", 0.0),
        ("hot_band_factor", 1.0),
    ];
    with_all::<DryClutch>(&sintered(), &changes)
}

fn half_spaces() -> Stack {
    let mut spec = Spec::read(&one_material()).unwrap();
    let thermal = Thermal {
        conductivity_w_m_k: 50.0,
        density_kg_m3: 7800.0,
        heat_capacity_j_kg_k: 50.0 / (7800.0 * 1.4e-5),
    };
    spec.materials.lining.thermal = thermal;
    spec.materials.core = thermal;
    spec.materials.plate.thermal = thermal;
    Stack::new(&spec, 100)
}

/// Half-space under a flux (H. S. Carslaw and J. C. Jaeger, from memory; worked out beforehand): 1 MW/m2 for 0.5 s gives 59.708213 K. A face between two
/// half-spaces of one material makes twice that flux: 1e6 J/m2 in 0.5 s. The halves meet in the core only after the slip.
#[test]
fn constant_power_heats_as_a_half_space() {
    let response = half_spaces().response(0.5, 1.0, 400);
    let peak_k = 1.0e6 * response.face_peak;
    println!("constant flux: {peak_k:.4} K against 59.7082 K");
    assert!((peak_k / 59.708_213 - 1.0).abs() < 1e-3, "{peak_k}");
}

/// The same with 2 MW/m2 each side falling straight to 0 in 0.5 s, 1e6 J/m2 in all: 56.293443 K at half time.
#[test]
fn falling_power_heats_as_a_half_space() {
    let response = half_spaces().response(0.5, 0.0, 400);
    let peak_k = 1.0e6 * response.face_peak;
    println!("decaying flux: {peak_k:.4} K against 56.2934 K");
    assert!((peak_k / 56.293_443 - 1.0).abs() < 1e-3, "{peak_k}");
}

/// J. F. Archard through the splines: k = 1e-6 with H = 6 GPa is 1.66667e-16 m2/N; over 2e8 Pa (200 N on 1 mm2) and 1e6 m it is
/// 33.3333 mm of depth, which is 33.3333 mm3 on 1 mm2 (worked by hand). Here a millionth of that sliding.
#[test]
fn splines_wear_by_archard() {
    let minutes = 10.0;
    let rpm = 3000.0;
    // Pressure: 2000 N.m over 3 discs, 10 mm, 3.3333e-4 m2 is 2e8 Pa; sliding: 4 offsets a turn.
    let changes = [
        ("spline_radius_m", 0.01),
        ("spline_area_m2", 1.0 / 3000.0),
        ("axis_offset_m", 1.0e-5),
        ("lugs.wear_coefficient_m2_n", 1.666_67e-16),
    ];
    let clutch = prepared(with_all::<DryClutch>(&sintered(), &changes));
    let point = driveline::Point {
        minutes,
        rpm,
        torque_n_m: 2000.0,
        gear: 1,
        slip_rad_s: 0.0,
    };
    let worn_m = clutch.after(&driveline::duty::<DryClutch>(&[point]))[slot::SPLINE_WEAR];
    let slid_m = 4.0e-5 * rpm * minutes;
    let expected_m = 33.3333e-3 * slid_m / 1.0e6;
    assert!(
        (worn_m / expected_m - 1.0).abs() < 1e-5,
        "{worn_m} {expected_m}"
    );
}
