//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_piston_pin::PistonPin;

use crate::scenario::{coated, event, event_with, plain, request, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    assert_eq!(PistonPin::check(untreated()), vec![]);
}

/// The positional reading of the spec follows the card: each number set to a mark has to arrive in its field.
#[test]
fn numbers_are_read_in_card_order() {
    use ringland_plugin_piston_pin::spec::{NUMBERS, Spec};
    let card = PistonPin::card();
    assert_eq!(card.numbers.len(), NUMBERS);
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let mut specimen = untreated();
        specimen.numbers[card.number_index(name).unwrap()] = 2.123;
        assert_eq!(of(&Spec::read(&specimen).unwrap()), 2.123, "{name}");
    };
    read("bore_m", |s| s.engine.bore_m);
    read("oil_pole_k", |s| s.oil.pole_k);
    read("piston_and_pin_mass_kg", |s| s.piston_and_pin_mass_kg);
    read("pin_outer_m", |s| s.pin.outer_m);
    read("boss_length_m", |s| s.pin.boss_length_m);
    read("oil_patch_m", |s| s.oil_patch_m);
    read("bush_modulus_pa", |s| s.bush_modulus_pa);
    read("pin_strength_pa", |s| s.pin_line.strength_pa());
    read("pin_slope", |s| s.pin_line.slope());
    read("limit_bush_clearance_m", |s| s.limit_bush_clearance_m);
    read("limit_scuff_w_m2", |s| s.limit_scuff_w_m2);
    let property = |surface: &str, name: &str, of: fn(&Spec) -> f64| {
        let mut specimen = untreated();
        let index = card.surface_index(surface).unwrap();
        let place = card.surfaces[index].property_index(name).unwrap();
        specimen.surfaces[index].values[place] = 0.123;
        assert_eq!(
            of(&Spec::read(&specimen).unwrap()),
            0.123,
            "{surface}.{name}"
        );
    };
    property("pin", "rq_m", |s| s.pin_rq_m);
    property("pin", "boundary_friction", |s| s.boundary_friction);
    property("pin", "wear_coefficient_m2_n", |s| s.pin_wear.0);
    property("pin", "coating_thickness_m", |s| s.coating_m);
    property("bush", "wear_coefficient_m2_n", |s| s.bush_wear.0);
    property("bush", "asperity_radius_m", |s| s.summit_radius_m);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let card = PistonPin::card();
    let at = |name: &str| card.number_index(name).unwrap();
    let mut specimen = untreated();
    specimen.numbers[at("bore_m")] = f64::NAN;
    specimen.numbers[at("pin_slope")] = 500.0;
    let fields: Vec<String> = PistonPin::check(specimen)
        .into_iter()
        .map(|f| f.field)
        .collect();
    assert_eq!(fields, ["bore_m", "pin_slope"]);

    let mut specimen = untreated();
    specimen.numbers[at("pin_inner_m")] = 0.017;
    specimen.numbers[at("pin_length_m")] = 0.050;
    specimen.numbers[at("piston_and_pin_mass_kg")] = 0.9;
    specimen.numbers[at("oil_patch_m")] = 0.03;
    specimen.numbers[at("limit_bush_clearance_m")] = 10e-6;
    specimen.numbers[at("pin_tensile_pa")] = 0.51e9;
    specimen.surfaces[1].values[3] = 1.0e12;
    let findings = PistonPin::check(specimen.clone());
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        [
            "pin_inner_m",
            "pin_length_m",
            "piston_and_pin_mass_kg",
            "oil_patch_m",
            "limit_bush_clearance_m",
            "bush.asperity_density_per_m2",
            "pin_strength_pa"
        ]
    );
    assert_eq!(findings[5].severity, Severity::Warning);
    assert!(PistonPin::prepare(specimen).is_err());
}

#[test]
fn duty_that_is_not_numbers_is_refused_row_by_row() {
    let model = plain();
    let refused = |duty| {
        let (specimen, map) = (model.specimen.clone(), model.map.clone());
        let findings = PistonPin::advance(specimen, map, model.begin(), vec![duty]).unwrap_err();
        findings.into_iter().map(|f| f.field).collect::<Vec<_>>()
    };
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[5][1] = 1e9;
    assert_eq!(
        refused(bad),
        ["duty.engine_speed_rad_s[2]", "duty.knock_level[1]"]
    );
    let mut short = event();
    short.points[1].pop();
    assert!(!refused(short).is_empty());
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    let model = plain();
    let mut wrong = request(model.begin(), event());
    wrong.rates.pop();
    wrong.horizon_events = f64::INFINITY;
    let (specimen, map) = (model.specimen.clone(), model.map.clone());
    let refused = PistonPin::forecast(specimen.clone(), map.clone(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events"]);
    let mut worn = model.begin();
    worn[0] = f64::NAN;
    let advanced = PistonPin::advance(specimen.clone(), map.clone(), worn, vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "condition.bush_wear_m");
    let advanced = PistonPin::advance(specimen.clone(), vec![1.0; 5], model.begin(), vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "prepared");
    assert!(PistonPin::begin(specimen.clone(), map.clone(), vec![None; 6]).is_err());
    assert_eq!(
        PistonPin::rework(specimen, map, model.begin(), 7).unwrap_err()[0].field,
        "operation"
    );
}

/// Far off the map the answer stays finite and says so; so do knock and heat.
#[test]
fn extremes_are_answered_with_a_note() {
    let model = plain();
    let mut extreme = event_with(5, 50.0);
    extreme.points[0][0] = 2400.0;
    extreme.points[1][0] = 4000.0;
    extreme.points[1][1] = -900.0;
    let condition = model
        .advance(&model.begin(), &vec![extreme.clone(); 20])
        .pop()
        .unwrap();
    assert!(condition.iter().all(|value| value.is_finite()));
    let forecast = model.forecast(condition, extreme);
    for field in ["event", "event.knock_level", "pin_crack"] {
        assert!(
            forecast.notes.iter().any(|note| note.field == field),
            "{field}"
        );
    }
    let finite = |values: &[f64]| values.iter().all(|value| value.is_finite());
    let paths = forecast.readings.iter();
    assert!(
        paths
            .clone()
            .all(|path| finite(&path.low) && finite(&path.median) && finite(&path.high))
    );
    let mut mechanisms = forecast.mechanisms.iter();
    assert!(
        mechanisms.all(|m| finite(&m.lives_events) && (0.0..=1.0).contains(&m.risk_next_event))
    );
}

/// A new bush starts anew; the pin keeps what it has seen.
#[test]
fn a_new_bush_keeps_the_pin() {
    let model = coated();
    let used = model.after(&event());
    let (specimen, map) = (model.specimen.clone(), model.map.clone());
    let renewed = PistonPin::rework(specimen, map, used.clone(), 0).unwrap();
    assert_eq!(renewed[0], 0.0);
    assert_eq!(renewed[1..], used[1..]);
}
