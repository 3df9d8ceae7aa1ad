//! Published values through the plugin's own code path. Each says its source and how far it was seen.

use std::f64::consts::PI;

use ringland_engine::valvetrain::TrainSolver;
use ringland_mechanics::wear::{archard_volume_m3, specific_coefficient_m2_n};
use ringland_plugin_valve_guide::ValveGuide;
use ringland_plugin_valve_guide::constants::BORE_WEAR_M2_N;
use ringland_plugin_valve_guide::heat;
use ringland_plugin_valve_guide::solve::{GuideCycle, end_forces};
use ringland_plugin_valve_guide::spec::Spec;
use ringland_trials::{Record, engine::rad_s, with};

use crate::scenario::{choosing, on_same_map, untreated};
use ringland_plugin_valve_guide::card::option;

/// Archard's law in numbers: K = 1e-6, 200 N, 1000 km, 6 GPa: 33.3333 mm³ (worked by hand). Here a dry guide with the specific coefficient of that K and H runs until its
/// top mouth has borne 200 N × 1000 km, by the dose that the train gives a cycle, and `advance` has to find the volume.
#[test]
fn a_dry_guide_wears_as_archard_says() {
    let coefficient = specific_coefficient_m2_n(1e-6, 6e9);
    assert!((coefficient / 1.666_666_7e-16 - 1.0).abs() < 1e-7);
    let dry = choosing(untreated(), option::SEAL, 2);
    let dry = with::<ValveGuide>(&dry, "bore.wear_coefficient_m2_n", coefficient);
    let spec = Spec::read(&dry).unwrap();
    let model = on_same_map(dry);
    let node = ringland_plugin_valve_guide::solve::GRID.speed_rad_s(&spec.train, 100);
    let turn = TrainSolver::new(&spec.train)
        .cycle(node, spec.train.seat_load_n)
        .unwrap();
    let dose = GuideCycle::of(&spec.own, &turn).dose.top_n_m();
    let cycles = 200.0 * 1.0e6 / dose;
    let seconds = cycles * 4.0 * PI / node;
    let record = Record::of::<ValveGuide>(&[seconds]).channel("engine_speed_rad_s", node);
    let after = model.after(&record.duty());
    let volume = after[0] + after[1];
    println!(
        "{:.0} h at {node:.0} rad/s: {:.4} mm3",
        seconds / 3600.0,
        1e9 * volume
    );
    assert!((volume / 33.333_333e-9 - 1.0).abs() < 1e-6, "{volume}");
    let law = archard_volume_m3(1e-6, 200.0, 1e6, 6e9);
    assert!((volume / law - 1.0).abs() < 1e-6);
}

/// Handbook range of the dimensionless wear coefficient of metals in boundary lubrication, 1e-7 to 1e-5 (from memory): the calibrated one times
/// the bronze's hardness lies within it.
#[test]
fn the_calibrated_coefficient_is_one_of_boundary_lubrication() {
    let number = BORE_WEAR_M2_N * Spec::read(&untreated()).unwrap().bore.hardness_pa;
    println!("dimensionless wear coefficient {number:.1e}");
    assert!((1e-7..1e-5).contains(&number), "{number}");
}

/// Beam on two supports with an overhanging load (beam tables, from memory): 30 N 30 mm above a guide of 40 mm press its ends with 52.5 and −22.5 N; 600 N
/// 1 mm off the axis turn with 15 N at each. Through the guide's own geometry at a lift of 2 mm.
#[test]
fn the_guide_carries_the_stem_as_a_beam_with_an_overhang() {
    let own = Spec::read(&untreated()).unwrap().own;
    let forces = end_forces(&own, 2.0e-3, 30.0, 0.0);
    assert!((forces.top_n - 52.5).abs() < 1e-9 && (forces.bottom_n + 22.5).abs() < 1e-9);
    let turned = end_forces(&own, 2.0e-3, 0.0, 0.6);
    assert!((turned.top_n - 15.0).abs() < 1e-9 && (turned.bottom_n + 15.0).abs() < 1e-9);
}

/// Side forces and stroke that practice names for a guide (common practice, no source): some 10 to 80 N, 22 mm slid for each cycle of an 11 mm lift
/// (here 12.6 mm); stem temperatures 120 to 300 °C, about 230 °C at the exhaust guide's hot end.
#[test]
fn forces_strokes_and_temperatures_are_of_the_usual_size() {
    let spec = Spec::read(&untreated()).unwrap();
    let turn = TrainSolver::new(&spec.train)
        .cycle(rad_s(7250.0), spec.train.seat_load_n)
        .unwrap();
    let found = GuideCycle::of(&spec.own, &turn);
    let slid = turn.instants.iter().filter(|at| at.point.lift_m > 0.0);
    let side = slid.map(|at| at.side_n.abs() * at.point.velocity_m_s.abs() * turn.instant_s());
    let side_n = side.sum::<f64>() / found.path_m;
    let heat = heat::full_load(&spec);
    println!(
        "mean side force {side_n:.1} N, path {:.1} mm, dose {:.3?}, peak power {:.0?} W, {heat:.0?}, hot clearance {:.1} um",
        1e3 * found.path_m,
        found.dose,
        found.power_w,
        1e6 * heat::hot_clearance_m(&spec, &heat)
    );
    assert!((10.0..80.0).contains(&side_n), "{side_n}");
    let lift_m = spec.train.lift.largest_m();
    assert!((found.path_m / (2.0 * lift_m) - 1.0).abs() < 0.05);
    assert!((483.0..543.0).contains(&heat.stem_bottom_k), "{heat:?}");
    assert!((363.0..453.0).contains(&heat.stem_top_k), "{heat:?}");
}
