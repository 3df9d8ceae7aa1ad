//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_plain_bearing::PlainBearing;
use ringland_plugin_plain_bearing::spec::{Position, Spec};

use crate::scenario::{bare, coated, duty, event, main_bearing, plain, request};

#[test]
fn the_specs_of_the_scenario_have_nothing_wrong() {
    for specimen in [bare(), coated(), main_bearing()] {
        assert_eq!(PlainBearing::check(specimen), vec![]);
    }
}

/// The positional reading of the spec follows the card: each number set to a mark has to arrive in its field.
#[test]
fn numbers_are_read_in_card_order() {
    let card = PlainBearing::card();
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let mut specimen = bare();
        specimen.numbers[card.number_index(name).unwrap()] = 0.123;
        let found = of(&Spec::read(&specimen).unwrap());
        assert!((found - 0.123).abs() < 1e-15, "{name}");
    };
    read("bore_m", |s| s.engine.bore_m);
    read("oil_pole_k", |s| s.oil.pole_k);
    read("journal_diameter_m", |s| s.journal_diameter_m);
    read("film_width_m", |s| s.film_width_m);
    read("diametral_clearance_m", |s| s.diametral_clearance_m);
    read("wall_thickness_m", |s| s.wall_thickness_m);
    read("overlay_thickness_m", |s| s.overlay_thickness_m);
    read("overlay_wear_coefficient_m2_n", |s| {
        s.overlay_wear_coefficient_m2_n
    });
    read("overlay_modulus_pa", |s| s.overlay_modulus_pa);
    read("fatigue_strength_pa", |s| s.fatigue_strength_pa);
    read("feed_radius_m", |s| s.feed_radius_m);
    read("cranking_speed_rad_s", |s| s.cranking_speed_rad_s);
    read("neighbour_firing_interval_rad", |s| {
        s.neighbour_firing_interval_rad
    });
    read("throw_mass_kg", |s| s.throw_mass_kg);
    read("counterweight_fraction", |s| s.counterweight_fraction);
    read("limit_wear_m", |s| s.limit_wear_m);
    read("limit_clearance_growth_m", |s| s.limit_clearance_growth_m);
    read("limit_boundary_heat_w_m2", |s| s.limit_boundary_heat_w_m2);
    let surfaces = [
        ("rq_m", (|s: &Spec| s.shell.rq_m) as fn(&Spec) -> f64),
        ("boundary_friction", |s| s.shell.boundary_friction),
        ("wear_coefficient_m2_n", |s| s.shell.wear_coefficient_m2_n),
        ("coating_thickness_m", |s| s.shell.coating_thickness_m),
    ];
    for (name, of) in surfaces {
        let mut specimen = bare();
        let index = card.surfaces[0].property_index(name).unwrap();
        specimen.surfaces[0].values[index] = 0.123;
        assert!(
            (of(&Spec::read(&specimen).unwrap()) - 0.123).abs() < 1e-15,
            "{name}"
        );
    }
    assert_eq!(
        Spec::read(&main_bearing()).unwrap().position,
        Position::Main
    );
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let card = PlainBearing::card();
    let at = |name: &str| card.number_index(name).unwrap();
    let mut specimen = bare();
    specimen.numbers[at("bore_m")] = f64::NAN;
    specimen.numbers[at("diametral_clearance_m")] = 0.056;
    specimen.surfaces[0].values[2] = -1.0;
    let fields: Vec<String> = PlainBearing::check(specimen)
        .into_iter()
        .map(|f| f.field)
        .collect();
    assert_eq!(
        fields,
        [
            "bore_m",
            "diametral_clearance_m",
            "shell.wear_coefficient_m2_n"
        ]
    );

    let mut specimen = bare();
    specimen.numbers[at("film_width_m")] = 0.06;
    specimen.numbers[at("journal_diameter_m")] = 0.032;
    specimen.numbers[at("diametral_clearance_m")] = 1.6e-4;
    specimen.numbers[at("limit_wear_m")] = 3.0e-5;
    specimen.numbers[at("feed_radius_m")] = 0.059;
    specimen.surfaces[0].values[4] = 1.0e12;
    let findings = PlainBearing::check(specimen.clone());
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        [
            "film_width_m",
            "diametral_clearance_m",
            "limit_wear_m",
            "shell.asperity_density_per_m2",
            "feed_radius_m"
        ]
    );
    assert_eq!(findings[3].severity, Severity::Warning);
    assert!(PlainBearing::prepare(specimen).is_err());
}

#[test]
fn duty_that_is_not_numbers_is_refused_row_by_row() {
    let model = plain();
    let refused = |duty| {
        let (specimen, map) = (model.specimen.clone(), model.map.clone());
        PlainBearing::advance(specimen, map, model.begin(), vec![duty]).unwrap_err()
    };
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[2][1] = 1e9;
    bad.shocks[2].columns[0][3] = -1.0;
    let fields: Vec<String> = refused(bad).into_iter().map(|f| f.field).collect();
    assert_eq!(
        fields,
        [
            "duty.engine_speed_rad_s[2]",
            "duty.oil_temp_k[1]",
            "duty.start.duration_s[3]"
        ]
    );
    let mut short = event();
    short.points[1].pop();
    assert_eq!(refused(short)[0].field, "duty.points");
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    let model = plain();
    let (specimen, map) = (|| model.specimen.clone(), || model.map.clone());
    let mut wrong = request(model.begin(), event());
    wrong.rates.pop();
    wrong.horizon_events = f64::INFINITY;
    wrong.ahead_events[0] = -1.0;
    let refused = PlainBearing::forecast(specimen(), map(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events", "ahead_events"]);
    let worn = vec![f64::NAN, 0.0, 0.0, 0.0, 0.0, 0.0];
    let advanced = PlainBearing::advance(specimen(), map(), worn, vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "condition.upper_wear_m");
    let advanced = PlainBearing::advance(specimen(), vec![1.0; 5], model.begin(), vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "prepared");
    assert!(PlainBearing::begin(specimen(), map(), vec![None; 5]).is_err());
}

/// Far off the map the answer stays finite and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let model = plain();
    let mut extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    extreme.points[2].fill(460.0);
    extreme.points[3].fill(-1.0e5);
    let condition = model
        .advance(&model.begin(), &vec![extreme.clone(); 50])
        .pop()
        .unwrap();
    assert!(condition.iter().all(|value| value.is_finite()));
    let forecast = model.forecast(condition, extreme);
    assert!(forecast.notes.iter().any(|note| note.field == "event"));
    let finite = |values: &[f64]| values.iter().all(|value| value.is_finite());
    let paths = &forecast.readings;
    assert!(
        paths
            .iter()
            .all(|p| finite(&p.low) && finite(&p.median) && finite(&p.high))
    );
    let sound = |risk: f64| (0.0..=1.0).contains(&risk);
    let mechanisms = &forecast.mechanisms;
    assert!(
        mechanisms
            .iter()
            .all(|m| finite(&m.lives_events) && sound(m.risk_next_event))
    );
}
