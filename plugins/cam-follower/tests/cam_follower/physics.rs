//! What the model has to show of cams: nose and flank, surge, surfaces, rollers.

use ringland_engine::valvetrain::TrainSolver;
use ringland_plugin::Specimen;
use ringland_plugin_cam_follower::CamFollower;
use ringland_plugin_cam_follower::roller::{Drive, inertia_kg_m2, surface_speeds_m_s};
use ringland_plugin_cam_follower::spec::Spec;
use ringland_plugin_cam_follower::turn::{Lobe, STATIONS, Touch, Turn};
use ringland_trials::{changed, engine, with};

use crate::trains::{bucket, event, flat, prepared, roller, rolling, slider};

const RUNNING_PA_S: f64 = 5.0e-3;

fn solved(specimen: &Specimen, rpm: f64) -> (Turn, Vec<Touch>) {
    let spec = Spec::read(specimen).unwrap();
    let solver = TrainSolver::new(&spec.train);
    let cycle = solver
        .cycle(engine::rad_s(rpm), spec.train.seat_load_n)
        .unwrap();
    let lobe = Lobe::new(&spec, 1.0);
    let touches = lobe.touches(&cycle);
    (lobe.turn(&touches, RUNNING_PA_S), touches)
}

/// Slow, only the spring loads the contact: most on the nose. Near the limiter inertia takes the nose off and loads the flanks (textbook).
#[test]
fn the_nose_is_loaded_slow_and_the_flanks_fast() {
    let most = |rpm: f64| {
        let (_, touches) = solved(&roller(), rpm);
        let loaded = touches
            .iter()
            .max_by(|a, b| a.load_n_m.total_cmp(&b.load_n_m))
            .unwrap();
        let nose = touches.iter().filter(|touch| touch.station == STATIONS / 2);
        (
            loaded.station,
            nose.map(|touch| touch.load_n_m).fold(0.0, f64::max),
        )
    };
    let ((slow, slow_nose), (fast, fast_nose)) = (most(1500.0), most(8000.0));
    println!("nose load {slow_nose:.0} N/m at 1500 1/min, {fast_nose:.0} at 8000");
    assert_eq!(slow, STATIONS / 2);
    assert!(fast != STATIONS / 2 && fast_nose < slow_nose, "{fast}");
}

/// Speed builds film: a turn at idle wears the nose of a flat lobe more than one at 5000 1/min.
#[test]
fn idling_wears_the_nose_of_a_flat_lobe() {
    let nose = |rpm: f64| solved(&bucket(), rpm).0.lobe_dose_pa_m[STATIONS / 2];
    println!(
        "wear of the nose, a turn at 1500 over one at 5000 1/min: {:.2}",
        nose(1500.0) / nose(5000.0)
    );
    assert!(nose(1500.0) > 1.3 * nose(5000.0));
}

/// Surge: pitting of a turn rises and falls with speed. Life is not monotonic in it.
#[test]
fn surge_makes_pitting_rise_and_fall_with_speed() {
    let model = rolling();
    let rate = |rpm: f64| {
        let row = model.after(&engine::duty::<CamFollower>(&[(rpm, 200.0, 6000.0 / rpm)]));
        row[STATIONS..2 * STATIONS]
            .iter()
            .copied()
            .fold(0.0, f64::max)
    };
    let rates: Vec<f64> = (0..44)
        .map(|k| rate(3000.0 + 100.0 * f64::from(k)))
        .collect();
    let falls = rates
        .windows(2)
        .filter(|pair| pair[1] < 0.98 * pair[0])
        .count();
    let rises = rates
        .windows(2)
        .filter(|pair| pair[1] > 1.02 * pair[0])
        .count();
    println!("pitting of a turn, 3000 to 7300 1/min by 100: {rises} rises, {falls} falls");
    assert!(falls >= 3 && rises >= 3, "{rates:?}");
}

/// Rougher, softer, narrower, more eagerly worn, unevenly loaded: never a longer life.
#[test]
fn a_worse_pair_never_lasts_longer() {
    let usual = flat().after(&event());
    for (name, by) in [
        ("lobe.rq_m", 1.2),
        ("follower_face.rq_m", 1.2),
        ("lobe.hardness_pa", 0.95),
        ("follower_face.hardness_pa", 0.95),
        ("lobe.wear_coefficient_m2_n", 1.2),
        ("follower_face.wear_coefficient_m2_n", 1.2),
        ("lobe.running_in_multiplier", 2.0),
        ("contact_width_m", 0.9),
        ("line_load_factor", 1.1),
        ("pressure_viscosity_per_pa", 0.8),
        ("bulk_rise_k", 1.5),
    ] {
        let worse = prepared(changed::<CamFollower>(&bucket(), name, by)).after(&event());
        let sum = |row: &[f64]| row[..2 * STATIONS + 3].iter().sum::<f64>();
        assert!(sum(&worse) > sum(&usual), "{name}");
        for (index, (worse, usual)) in worse.iter().zip(&usual).enumerate().take(2 * STATIONS + 2) {
            // A tappet that turns spreads what the middle has more over its face.
            let spread = name == "line_load_factor" && index == 2 * STATIONS;
            assert!(
                spread || *worse >= usual * 0.999,
                "{name}: slot {index}, {worse} {usual}"
            );
        }
    }
}

/// Boundary friction heats: both faces have to shear hard for it, the easier one rules.
#[test]
fn the_easier_face_rules_the_flash_temperature() {
    let flash = |lobe: f64, follower: f64| {
        let specimen = with::<CamFollower>(&bucket(), "lobe.boundary_friction", lobe);
        let specimen = with::<CamFollower>(&specimen, "follower_face.boundary_friction", follower);
        solved(&specimen, 8000.0).0.flash_k
    };
    assert!(flash(0.12, 0.12) > flash(0.10, 0.10));
    assert_eq!(flash(0.12, 0.10), flash(0.10, 0.10));
}

/// A weaker spring (retainer sunk, valve receded) presses less on a slow nose.
#[test]
fn a_sunken_retainer_unloads_a_slow_nose() {
    let at = |sink_m: f64| {
        let record = engine::record::<CamFollower>(&[(1500.0, 50.0, 30.0)]);
        let duty = record.mate("spring_retainer.sink_m", sink_m).duty();
        flat().after(&duty)[STATIONS / 2]
    };
    assert!(at(3.0e-4) < at(0.0));
}

/// A pad wears deeper than its lobe, a bucket that turns less deep (plane geometry: where the travel is spread).
#[test]
fn a_pad_wears_more_than_a_bucket_that_turns() {
    let ratio = |specimen: &Specimen| {
        let turn = solved(specimen, 6000.0).0;
        turn.follower_dose_pa_m / turn.lobe_dose_pa_m.iter().copied().fold(0.0, f64::max)
    };
    let (pad, turning) = (ratio(&slider()), ratio(&bucket()));
    println!("follower over lobe: pad {pad:.2}, bucket {turning:.2}");
    assert!(pad > 1.0 && turning < 1.0);
}

/// At steady speed a roller slips only by what its needles ask: `tanh(s/s0) = drag/traction` (balance of forces).
#[test]
fn a_roller_at_steady_speed_slips_by_its_needles_drag() {
    let spec = Spec::read(&roller()).unwrap();
    let drive = Drive {
        load_n: 1000.0,
        cam_m_s: 8.0,
        travel_m_s: 0.0,
    };
    let speeds = surface_speeds_m_s(&spec, &vec![drive; 720], 4.0e-5);
    let slip = 1.0 - speeds[719] / 8.0;
    let drag = spec.needle_friction * spec.roller_bore_radius_m / spec.train.follower_radius_m;
    let expected = 0.01 * (drag / 0.045).atanh();
    assert!((slip / expected - 1.0).abs() < 0.02, "{slip} {expected}");
    // A solid disc of the same size: m R²/2.
    let solid = Spec {
        roller_bore_radius_m: 0.0,
        ..spec
    };
    let (r, l) = (solid.train.follower_radius_m, solid.contact_width_m);
    let disc = 0.5 * 7800.0 * std::f64::consts::PI * r * r * l * r * r;
    assert!((inertia_kg_m2(&solid) / disc - 1.0).abs() < 1e-12);
}

/// Half of a fresh surface's extra wear comes in the first ln 2 × 7500 turns (the law of running-in, integrated by hand).
#[test]
fn a_fresh_lobe_wears_in() {
    let model = flat();
    let minutes = |turns: f64| turns / (4000.0 / 2.0);
    let at = |turns: f64| engine::duty::<CamFollower>(&[(4000.0, 100.0, minutes(turns))]);
    let wear = |start: f64, turns: f64| {
        let begun = model.begin_with(&[("cam_turns", start)]);
        model.then(&begun, &at(turns))[STATIONS / 2]
    };
    let steady = wear(1.0e7, 7500.0);
    let fresh = wear(0.0, 7500.0);
    let expected = 1.0 + 9.0 * (1.0 - (-1.0_f64).exp());
    assert!(
        (fresh / steady / expected - 1.0).abs() < 1e-6,
        "{}",
        fresh / steady
    );
}
