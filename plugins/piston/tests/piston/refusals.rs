//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_piston::Piston;

use crate::scenario::{event, event_with, plain, request, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    assert_eq!(Piston::check(untreated()), vec![]);
}

/// The positional reading of the spec follows the card: each number set to a mark has to arrive in its field.
#[test]
fn numbers_are_read_in_card_order() {
    use ringland_plugin_piston::spec::{NUMBERS, Spec};
    let card = Piston::card();
    assert_eq!(card.numbers.len(), NUMBERS);
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let mut specimen = untreated();
        specimen.numbers[card.number_index(name).unwrap()] = 2.123;
        assert_eq!(of(&Spec::read(&specimen).unwrap()), 2.123, "{name}");
    };
    read("bore_m", |s| s.engine.bore_m);
    read("oil_pole_k", |s| s.oil.pole_k);
    read("piston_mass_kg", |s| s.piston_mass_kg);
    read("skirt_clearance_m", |s| s.skirt_clearance_m);
    read("skirt_oil_film_m", |s| s.skirt_oil_film_m);
    read("ring_thickness_m", |s| s.ring_thickness_m);
    read("third_land_share", |s| s.third_land_share);
    read("jet_cooling_k", |s| s.jet_cooling_k);
    read("hardness_pa", |s| s.hardness_pa);
    read("boss_strength_pa", |s| s.boss_line.strength_pa());
    read("boss_slope", |s| s.boss_line.slope());
    read("bore_modulus_pa", |s| s.bore_modulus_pa);
    read("limit_side_clearance_m", |s| s.limit_side_clearance_m);
    read("limit_pin_bore_m", |s| s.limit_pin_bore_m);
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
    property("top_groove", "rpk_m", |s| s.top_groove.rpk_m);
    property("second_groove", "wear_coefficient_m2_n", |s| {
        s.second_groove.wear_m2_n
    });
    property("skirt", "boundary_friction", |s| s.skirt.boundary_friction);
    property("skirt_coat", "coating_thickness_m", |s| {
        s.skirt_coat_thickness_m
    });
    property("skirt_coat", "wear_coefficient_m2_n", |s| {
        s.skirt_coat.wear_m2_n
    });
    property("bore", "rq_m", |s| s.bore_rq_m);
    property("pin_boss", "wear_coefficient_m2_n", |s| {
        s.pin_bore_wear_m2_n
    });
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let card = Piston::card();
    let at = |name: &str| card.number_index(name).unwrap();
    let mut specimen = untreated();
    specimen.numbers[at("bore_m")] = f64::NAN;
    specimen.numbers[at("boss_slope")] = 500.0;
    let fields: Vec<String> = Piston::check(specimen)
        .into_iter()
        .map(|f| f.field)
        .collect();
    assert_eq!(fields, ["bore_m", "boss_slope"]);

    let mut specimen = untreated();
    specimen.surfaces[3].values[0] = 40e-6;
    specimen.numbers[at("limit_side_clearance_m")] = 0.04e-3;
    specimen.numbers[at("piston_mass_kg")] = 0.9;
    specimen.numbers[at("third_land_share")] = 0.5;
    specimen.numbers[at("soft_hardness_pa")] = 0.8e9;
    specimen.numbers[at("hardness_pa")] = 0.7e9;
    specimen.surfaces[2].values[4] = 1.0e12;
    let findings = Piston::check(specimen.clone());
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        [
            "skirt_clearance_m",
            "limit_side_clearance_m",
            "piston_mass_kg",
            "third_land_share",
            "soft_hardness_pa",
            "skirt.asperity_density_per_m2"
        ]
    );
    assert_eq!(findings[5].severity, Severity::Warning);
    assert!(Piston::prepare(specimen).is_err());
}

#[test]
fn duty_that_is_not_numbers_is_refused_row_by_row() {
    let model = plain();
    let refused = |duty| {
        let (specimen, map) = (model.specimen.clone(), model.map.clone());
        let findings = Piston::advance(specimen, map, model.begin(), vec![duty]).unwrap_err();
        findings.into_iter().map(|f| f.field).collect::<Vec<_>>()
    };
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[7][1] = 1e9;
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
    let refused = Piston::forecast(specimen.clone(), map.clone(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events"]);
    let mut worn = model.begin();
    worn[0] = f64::NAN;
    let advanced = Piston::advance(specimen.clone(), map.clone(), worn, vec![]);
    assert_eq!(
        advanced.unwrap_err()[0].field,
        "condition.top_groove_wear_m"
    );
    let advanced = Piston::advance(specimen.clone(), vec![1.0; 5], model.begin(), vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "prepared");
    assert!(Piston::begin(specimen.clone(), map.clone(), vec![None; 5]).is_err());
    assert_eq!(
        Piston::rework(specimen, map, model.begin(), 0).unwrap_err()[0].field,
        "operation"
    );
}

/// Far off the map the answer stays finite and says so; so do knock and heat.
#[test]
fn extremes_are_answered_with_a_note() {
    let model = plain();
    let mut extreme = event_with(7, 50.0);
    extreme.points[0][0] = 2400.0;
    extreme.points[1][0] = 4000.0;
    extreme.points[1][1] = -900.0;
    let condition = model
        .advance(&model.begin(), &vec![extreme.clone(); 20])
        .pop()
        .unwrap();
    assert!(condition.iter().all(|value| value.is_finite()));
    let forecast = model.forecast(condition, extreme);
    for field in [
        "event",
        "event.knock_level",
        "groove_temp_k",
        "micro_welding_index",
    ] {
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
