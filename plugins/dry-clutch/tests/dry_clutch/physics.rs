//! Physics of the model against closed forms and balances.

use ringland_driveline::Engagement;
use ringland_plugin_dry_clutch::DryClutch;
use ringland_plugin_dry_clutch::card::{reading, slot};
use ringland_plugin_dry_clutch::duty::cooling_w_k;
use ringland_plugin_dry_clutch::engagement::effect;
use ringland_plugin_dry_clutch::heat_check::{heat_check, look_up, table};
use ringland_plugin_dry_clutch::readings::{heat_check_m, judder_index};
use ringland_plugin_dry_clutch::response_map::ResponseMap;
use ringland_plugin_dry_clutch::spec::Spec;
use ringland_plugin_dry_clutch::stack::{Stack, capacity_j_k};
use ringland_trials::{Record, driveline, with_all};

use crate::clutches::{one_launch, organic, prepared, sintered, usual};

fn spec() -> Spec {
    Spec::read(&sintered()).unwrap()
}

fn launch(energy_j: f64) -> Engagement {
    Engagement {
        launch: true,
        start_s: 0.0,
        duration_s: 1.6,
        energy_j,
        peak_power_w: energy_j / 0.8,
        peak_torque_n_m: 550.0,
    }
}

/// Over a long slip every plate and lining rises by the heat over the heat capacity (first law).
#[test]
fn a_long_slip_heats_the_whole_stack_alike() {
    let spec = spec();
    let response = Stack::new(&spec, 6).response(2000.0, 1.0, 400);
    let bulk = 1.0 / (capacity_j_k(&spec) / spec.area_m2());
    assert!(
        (response.plate_mean / bulk - 1.0).abs() < 0.01,
        "{} {bulk}",
        response.plate_mean
    );
}

/// The stack's mass and heat capacity are those of its layers, added up by hand: linings 39.6, cores 23.4, floaters 78, plates 93.6 kg/m2.
#[test]
fn the_heat_capacity_is_that_of_the_layers() {
    let by_hand = (39.6 * 430.0 + (23.4 + 78.0 + 93.6) * 540.0) * std::f64::consts::PI * 0.0024;
    assert!((capacity_j_k(&spec()) / by_hand - 1.0).abs() < 1e-9);
}

/// Heat that is carried over falls by exp(−t h A / (m c)): the second of two launches starts that much warmer.
#[test]
fn the_second_launch_starts_from_what_the_first_left() {
    let spec = spec();
    let clutch = usual();
    let after = |gap_s: f64| {
        let launch = |start_s: f64| [start_s, 1.6, 100e3, 125e3, 300.0];
        let rows = [launch(10.0), launch(11.6 + gap_s)];
        let point = driveline::Point {
            minutes: 10.0,
            rpm: 5920.0,
            torque_n_m: 0.0,
            gear: 2,
            slip_rad_s: 0.0,
        };
        let record =
            driveline::record::<DryClutch>(&[point]).shocks("launch", &[&rows[0], &rows[1]]);
        clutch.after(&record.duty())[slot::HOTTEST]
    };
    let speed_rad_s = 5920.0 * std::f64::consts::PI / 30.0;
    let per_s = cooling_w_k(&spec, speed_rad_s) / capacity_j_k(&spec);
    println!(
        "time constant {:.1} s at {speed_rad_s:.0} rad/s",
        1.0 / per_s
    );
    let alone = after(1.0e5);
    let rise = 100e3 / capacity_j_k(&spec);
    for gap_s in [0.0, 30.0, 120.0] {
        let expected = alone + rise * libm::exp(-gap_s * per_s);
        assert!((after(gap_s) - expected).abs() < 1e-6 * expected, "{gap_s}");
    }
}

/// Rises are in proportion to heat, and start temperatures add.
#[test]
fn conduction_is_linear() {
    let (spec, clutch) = (spec(), usual());
    let map = ResponseMap::read(&clutch.map, &spec).unwrap();
    let capacity = capacity_j_k(&spec);
    let at =
        |energy_j: f64, start_k: f64| effect(&spec, &map, capacity, &launch(energy_j), start_k);
    let (one, two, warm) = (at(1e5, 300.0), at(2e5, 300.0), at(1e5, 400.0));
    assert!(((two.band_k - 300.0) / (one.band_k - 300.0) - 2.0).abs() < 1e-9);
    assert!((warm.band_k - one.band_k - 100.0).abs() < 1e-9);
}

/// A cold lining wears by its cold coefficient: volume k/μ times heat, over the area of one face for the whole stack.
#[test]
fn cold_wear_is_heat_times_the_coefficient() {
    let clutch = usual();
    let small = one_launch(1.0, 1.0e3);
    let used = clutch.begin_with(&[("slip_energy_j", 1.0e9)]);
    let worn_m = clutch.then(&used, &small)[slot::STACK_WEAR];
    let expected_m = 1.11e-14 / 0.30 * 1.0e3 / (std::f64::consts::PI * 0.0024);
    assert!(
        (worn_m / expected_m - 1.0).abs() < 1e-9,
        "{worn_m} {expected_m}"
    );
}

/// New linings wear by the running-in multiplier at first.
#[test]
fn new_linings_wear_faster() {
    let clutch = usual();
    let small = one_launch(1.0, 1.0e3);
    let run_in =
        clutch.then(&clutch.begin_with(&[("slip_energy_j", 1.0e9)]), &small)[slot::STACK_WEAR];
    let fresh = clutch.after(&small)[slot::STACK_WEAR];
    assert!((fresh / run_in - 1.5).abs() < 1e-3, "{}", fresh / run_in);
}

/// Strain of a held band (S. S. Manson): half of its damage curve's range at the reversals it gives; a check at damage 1 has reached the edge.
#[test]
fn heat_checks_follow_the_strain_life_curve() {
    let spec = spec();
    let plate = spec.materials.plate;
    let above_k = 400.0;
    let damage = heat_check(&spec, above_k);
    // A tenth of the cycles in heat; two reversals a cycle.
    let reversals = 2.0 / (0.1 * damage);
    let amplitude = plate.strain_life.amplitude(reversals, 0.0);
    let expected = 0.5 * plate.expansion_per_k * above_k / (1.0 - plate.poisson);
    assert!(
        (amplitude / expected - 1.0).abs() < 1e-6,
        "{amplitude} {expected}"
    );
    let nodes: Vec<f64> = table(&spec).collect();
    for above_k in [37.0, 150.0, 333.0, 640.0, 1400.0] {
        let off = look_up(&nodes, above_k) / heat_check(&spec, above_k) - 1.0;
        assert!(off.abs() < 0.01, "{above_k} {off}");
    }
    assert!((heat_check_m(&spec, 1.0) - 0.01).abs() < 1e-12);
    assert!((heat_check_m(&spec, 0.5) - (0.1e-3_f64 * 0.01).sqrt()).abs() < 1e-9);
}

/// Stick-slip starts where the clutch feeds in what the driveline takes out: n F r² (−dμ/dv) = c with a fixed end (textbook, worked by hand).
#[test]
fn judder_starts_at_the_balance_of_damping() {
    let mut spec = spec();
    let pull = 6.0 * 9000.0 * 0.06 * 0.06;
    spec.driveline.load_kg_m2 = f64::INFINITY;
    spec.slope_s_m = -spec.driveline.damping_n_m_s / pull;
    assert!((judder_index(&spec, 0.0, 0.0) - 1.0).abs() < 1e-12);
    spec.slope_s_m = 0.001;
    assert!(judder_index(&spec, 0.0, 0.0) < 0.0);
}

/// Glazing takes friction and steepens its slope; both are told.
#[test]
fn glazing_weakens_and_judders() {
    let clutch = prepared(organic());
    let [new, glazed] = [0.0, 3.0].map(|dose| {
        let row = clutch.begin_with(&[("glaze_dose", dose)]);
        clutch.forecast(&row, &one_launch(1.0, 1.0e3))
    });
    let of =
        |forecast: &ringland_plugin::LifeForecast, index: usize| forecast.readings[index].median[0];
    assert!(of(&glazed, reading::CAPACITY) < 0.7 * of(&new, reading::CAPACITY));
    assert!(of(&glazed, reading::JUDDER) > 1.5 * of(&new, reading::JUDDER));
    assert!(glazed.notes.iter().any(|note| note.field == "judder_index"));
}

/// A clutch that no longer holds the engine has no capacity life left, and is told to slip.
#[test]
fn a_clutch_that_slips_at_full_torque_is_told() {
    let weak = with_all::<DryClutch>(&organic(), &[("clamp_n", 4500.0)]);
    let clutch = prepared(weak);
    let row = clutch.begin_with(&[("glaze_dose", 5.0)]);
    let forecast = clutch.forecast(&row, &crate::clutches::event());
    assert!(forecast.readings[reading::CAPACITY].median[0] < 440.0);
    assert!(ringland_trials::median(&forecast.mechanisms[1].lives_events) <= 0.0);
    let slips = |note: &ringland_plugin::Finding| note.field == "event.engine_torque_n_m";
    assert!(forecast.notes.iter().any(slips));
}

/// The life to slipping is the one after which wear and glazing, each times the drawn rate, leave just the engine's torque.
#[test]
fn capacity_ends_where_wear_and_glazing_leave_the_engines_torque() {
    let weak = with_all::<DryClutch>(&organic(), &[("clamp_n", 6000.0)]);
    let clutch = prepared(weak.clone());
    let spec = Spec::read(&weak).unwrap();
    // Friction left where 1 − 0.4 (1 − exp(−dose)) of the torque is the engine's: by hand.
    let new_n_m = spec.capacity_n_m(0.0, 0.0);
    let dose = -libm::log(1.0 - (1.0 - 440.0 / new_n_m) / 0.4);
    let row = clutch.begin_with(&[("glaze_dose", dose)]);
    let mut request = clutch.request(&row, &driveline::duty::<DryClutch>(&[]));
    request.rates.iter_mut().for_each(|rate| rate.ln_sd = 0.0);
    let risk = |ln_mean: f64| {
        let mut request = request.clone();
        request.rates[1].ln_mean = ln_mean;
        clutch.asked(request).mechanisms[1].risk_next_event
    };
    assert!((risk(0.0) - 0.5).abs() < 1e-6, "{}", risk(0.0));
    assert!(risk(0.5) > 0.9 && risk(-0.5) < 0.1);
}

/// Slip that is longer than any on the map is told.
#[test]
fn slip_off_the_map_is_told() {
    let long = Record::edit::<DryClutch>(&one_launch(1.0, 1.0e4))
        .shock("launch", &[100.0, 60.0, 1.0e5, 4.0e3, 100.0]);
    let forecast = usual().forecast(&usual().begin(), &long.duty());
    assert!(
        forecast
            .notes
            .iter()
            .any(|note| note.field == "event.duration_s")
    );
}
