//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_plugin_cylinder_bore::card::slot;
use ringland_plugin_cylinder_bore::spec::{NUMBERS, Spec};

use crate::scenario::{duty, event, plain, request, treated, untreated};

#[test]
fn the_default_specs_have_nothing_wrong() {
    assert_eq!(CylinderBore::check(untreated()), vec![]);
    assert_eq!(CylinderBore::check(treated()), vec![]);
}

/// The positional reading of the spec follows the card: each number set to a mark has to arrive in its field.
#[test]
fn numbers_are_read_in_card_order() {
    let card = CylinderBore::card();
    assert_eq!(card.numbers.len(), NUMBERS);
    assert_eq!(card.condition.len(), slot::COUNT);
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let index = card.number_index(name).unwrap();
        let mut specimen = untreated();
        specimen.numbers[index] = 0.123;
        assert_eq!(of(&Spec::read(&specimen).unwrap()), 0.123, "{name}");
    };
    read("bore_m", |s| s.rings.pack.bore_m);
    read("oil_pole_k", |s| s.rings.pack.oil.pole_k);
    read("clearance_m", |s| s.clearance_m);
    read("shift_m", |s| s.shift_m);
    read("thrust_share", |s| s.thrust_share);
    read("limit_taper_m", |s| s.limit_taper_m);
    read("limit_roundness_m", |s| s.limit_roundness_m);
    read("limit_oil_retention_m", |s| s.limit_oil_retention_m);
    read("limit_clearance_growth_m", |s| s.limit_clearance_growth_m);
    read("limit_removed_m", |s| s.limit_removed_m);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let card = CylinderBore::card();
    let at = |name: &str| card.number_index(name).unwrap();
    let mut specimen = untreated();
    specimen.numbers[at("bore_m")] = f64::NAN;
    specimen.numbers[at("shift_m")] = 0.05;
    specimen.surfaces[3].values[7] = 76.0;
    let fields: Vec<String> = CylinderBore::check(specimen)
        .into_iter()
        .map(|finding| finding.field)
        .collect();
    assert_eq!(fields, ["bore_m", "shift_m", "bore.mr2_fraction"]);

    let mut specimen = untreated();
    specimen.numbers[at("top_gap_m")] = 0.15e-3;
    specimen.numbers[at("shift_m")] = 8.0e-5;
    specimen.surfaces[3].values[1] = 0.03e-6;
    let findings = CylinderBore::check(specimen.clone());
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["top_gap_m", "bore.rpk_m", "shift_m"]);
    assert_eq!(findings[0].severity, Severity::Error);
    assert_eq!(findings[2].severity, Severity::Warning);
    assert!(CylinderBore::prepare(specimen).is_err());
}

#[test]
fn duty_requests_conditions_and_maps_out_of_range_are_refused() {
    let model = plain();
    let (specimen, map) = (&model.specimen, &model.map);
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[2][1] = 1e9;
    let advanced = CylinderBore::advance(specimen.clone(), map.clone(), model.begin(), vec![bad]);
    let fields: Vec<String> = advanced.unwrap_err().into_iter().map(|f| f.field).collect();
    assert_eq!(fields, ["duty.engine_speed_rad_s[2]", "duty.oil_temp_k[1]"]);
    let mut without_mates = event();
    without_mates.mates.clear();
    let refused = CylinderBore::advance(
        specimen.clone(),
        map.clone(),
        model.begin(),
        vec![without_mates],
    );
    assert!(refused.is_err());
    let mut wrong = request(model.begin(), event());
    wrong.rates.pop();
    wrong.horizon_events = f64::INFINITY;
    let refused = CylinderBore::forecast(specimen.clone(), map.clone(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events"]);
    let mut worn = model.begin();
    worn[0] = f64::NAN;
    let advanced = CylinderBore::advance(specimen.clone(), map.clone(), worn, vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "condition.wear_reversal_m");
    let advanced = CylinderBore::advance(specimen.clone(), vec![1.0; 5], model.begin(), vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "prepared");
    assert!(CylinderBore::rework(specimen.clone(), map.clone(), model.begin(), 7).is_err());
    assert!(CylinderBore::begin(specimen.clone(), map.clone(), vec![None; 5]).is_err());
}

/// Far off the map the answer stays finite and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let model = plain();
    let mut extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    extreme.mates = vec![1.0];
    let condition = model
        .advance(&model.begin(), &vec![extreme.clone(); 50])
        .pop()
        .unwrap();
    for (slot, value) in CylinderBore::card().condition.iter().zip(&condition) {
        assert!(
            (slot.minimum..=slot.maximum).contains(value),
            "{}",
            slot.name
        );
    }
    let forecast = model.forecast(condition, extreme);
    assert!(forecast.notes.iter().any(|note| note.field == "event"));
    let finite = |values: &[f64]| values.iter().all(|value| value.is_finite());
    for path in &forecast.readings {
        assert!(finite(&path.low) && finite(&path.median) && finite(&path.high));
    }
    for mechanism in &forecast.mechanisms {
        assert!(finite(&mechanism.lives_events));
        assert!((0.0..=1.0).contains(&mechanism.risk_next_event));
    }
}
