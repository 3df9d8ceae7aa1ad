//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_crankshaft::Crankshaft;
use ringland_plugin_crankshaft::card::slot;
use ringland_plugin_crankshaft::spec::{NUMBERS, Spec};

use crate::scenario::{duty, event, nitrided, plain, request, set, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    assert_eq!(Crankshaft::check(untreated()), vec![]);
    assert_eq!(Crankshaft::check(nitrided()), vec![]);
}

/// The positional reading of the spec follows the card: each number set to a mark has to arrive in its field.
#[test]
fn numbers_are_read_in_card_order() {
    let card = Crankshaft::card();
    assert_eq!(card.numbers.len(), NUMBERS);
    assert_eq!(card.condition.len(), slot::COUNT);
    assert_eq!(card.condition[slot::NOSE].name, "nose_damage");
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let mut specimen = untreated();
        set(&mut specimen, name, 0.123);
        assert!(
            (of(&Spec::read(&specimen).unwrap()) - 0.123).abs() < 1e-15,
            "{name}"
        );
    };
    read("exhaust_pressure_pa", |s| s.engine.exhaust_pressure_pa);
    read("oil_pole_k", |s| s.oil.pole_k);
    read("pin_diameter_m", |s| s.pin_diameter_m);
    read("web_width_m", |s| s.web_width_m);
    read("journal_fillet_m", |s| s.journal_fillet_m);
    read("throw_unbalance_kg_m", |s| s.throw_unbalance_kg_m);
    read("nose_length_m", |s| s.nose_length_m);
    read("flywheel_inertia_kg_m2", |s| s.flywheel_inertia_kg_m2);
    read("damper_half_life_s", |s| s.damper_half_life_s);
    read("shear_modulus_pa", |s| s.shear_modulus_pa);
    read("strength_pa", |s| s.strength_pa);
    read("sn_slope", |s| s.sn_slope);
    read("torsion_ln_sd", |s| s.torsion_ln_sd);
    read("bearing_film_m", |s| s.bearing_film_m);
    read("regrind_step_m", |s| s.regrind_step_m);
    read("limit_journal_ra_m", |s| s.limit_journal_ra_m);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let mut broken = untreated();
    set(&mut broken, "pin_diameter_m", f64::NAN);
    set(&mut broken, "sn_slope", 99.0);
    let fields: Vec<String> = Crankshaft::check(broken)
        .into_iter()
        .map(|f| f.field)
        .collect();
    assert_eq!(fields, ["pin_diameter_m", "sn_slope"]);

    let mut odd = untreated();
    set(&mut odd, "cylinders", 6.0);
    set(&mut odd, "main_spacing_m", 0.06);
    set(&mut odd, "pin_fillet_m", 0.9e-3);
    set(&mut odd, "strength_pa", 5.5e8);
    odd.surfaces[0].values[0] = 7.0e9;
    let findings = Crankshaft::check(odd.clone());
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    let expected = [
        "throws",
        "main_spacing_m",
        "pin_fillet_m",
        "strength_pa",
        "fillet.case_depth_m",
    ];
    assert_eq!(fields, expected);
    assert_eq!(findings[3].severity, Severity::Warning);
    assert!(Crankshaft::prepare(odd).is_err());

    let mut soft = untreated();
    soft.surfaces[1].values[0] = 2.0e9;
    soft.surfaces[1].values[2] = 1.0e-18;
    let findings = Crankshaft::check(soft);
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        ["journal.hardness_pa", "journal.wear_coefficient_m2_n"]
    );
    assert!(findings.iter().all(|f| f.severity == Severity::Warning));

    let mut thick_nose = untreated();
    set(&mut thick_nose, "nose_diameter_m", 0.052);
    assert_eq!(Crankshaft::check(thick_nose)[0].field, "nose_diameter_m");
}

#[test]
fn duty_that_is_not_numbers_is_refused_row_by_row() {
    let model = plain();
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[1][1] = 1e9;
    bad.time_s[3] = -1.0;
    let advanced = Crankshaft::advance(
        model.specimen.clone(),
        model.map.clone(),
        model.begin(),
        vec![bad],
    );
    let fields: Vec<String> = advanced.unwrap_err().into_iter().map(|f| f.field).collect();
    let expected = [
        "duty.time_s[3]",
        "duty.engine_speed_rad_s[2]",
        "duty.engine_torque_n_m[1]",
    ];
    assert_eq!(fields, expected);
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    let model = plain();
    let mut wrong = request(model.begin(), event());
    wrong.rates.pop();
    wrong.horizon_events = f64::INFINITY;
    let refused =
        Crankshaft::forecast(model.specimen.clone(), model.map.clone(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events"]);
    let advance = |map: Vec<f64>, condition: Vec<f64>| {
        Crankshaft::advance(model.specimen.clone(), map, condition, vec![])
    };
    let mut worn = model.begin();
    worn[slot::NOSE + 1] = f64::NAN;
    let refused = advance(model.map.clone(), worn).unwrap_err();
    assert_eq!(refused[0].field, "condition.journal_wear_m");
    let refused = advance(vec![1.0; 5], model.begin()).unwrap_err();
    assert_eq!(refused[0].field, "prepared");
    assert!(Crankshaft::begin(model.specimen.clone(), model.map.clone(), vec![None; 5]).is_err());
}

/// Far off the map the answer stays finite and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let model = plain();
    let extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    let condition = model
        .advance(&model.begin(), &vec![extreme.clone(); 50])
        .pop()
        .unwrap();
    for (slot, value) in Crankshaft::card().condition.iter().zip(&condition) {
        assert!(
            (slot.minimum..=slot.maximum).contains(value),
            "{}",
            slot.name
        );
    }
    let forecast = model.forecast(condition, extreme);
    assert!(forecast.notes.iter().any(|note| note.field == "event"));
    let finite = |values: &[f64]| values.iter().all(|value| value.is_finite());
    let mut paths = forecast.readings.iter();
    assert!(paths.all(|p| finite(&p.low) && finite(&p.median) && finite(&p.high)));
    let mut lives = forecast.mechanisms.iter();
    assert!(lives.all(|m| finite(&m.lives_events) && (0.0..=1.0).contains(&m.risk_next_event)));
}
