//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_ring_pack::RingPack;

use crate::scenario::{event, plain, request, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    assert_eq!(RingPack::check(untreated()), vec![]);
}

/// The positional reading of the spec follows the card: each number set to a mark has to arrive in its field.
#[test]
fn numbers_are_read_in_card_order() {
    use ringland_plugin_ring_pack::spec::{NUMBERS, Spec};
    let card = RingPack::card();
    assert_eq!(card.numbers.len(), NUMBERS);
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let index = card.number_index(name).unwrap();
        let mut specimen = untreated();
        specimen.numbers[index] = 0.123;
        assert!(
            (of(&Spec::read(&specimen).unwrap()) - 0.123).abs() < 1e-15,
            "{name}"
        );
    };
    read("bore_m", |s| s.rings.pack.bore_m);
    read("rod_length_m", |s| s.rings.pack.rod_length_m);
    read("top_width_m", |s| s.rings.pack.rings[0].width_m);
    read("top_tension_n", |s| s.rings.pack.rings[0].tension_n);
    read("top_gap_m", |s| s.rings.pack.top_gap_m);
    read("second_crown_offset_m", |s| {
        s.rings.pack.rings[1].crown_offset_m
    });
    read("second_gap_m", |s| s.rings.pack.second_gap_m);
    read("oil_ring_tension_n", |s| {
        2.0 * s.rings.pack.rings[2].tension_n
    });
    read("rail_crown_radius_m", |s| {
        s.rings.pack.rings[2].crown_radius_m
    });
    read("minimum_gap_m", |s| s.rings.minimum_gap_m);
    read("land_clearance_m", |s| s.rings.pack.land_clearance_m);
    read("piston_tilt_rad", |s| s.rings.pack.piston_tilt_rad);
    read("full_load_imep_pa", |s| s.rings.pack.full_load_imep_pa);
    read("groove_rise_k", |s| s.rings.pack.groove_rise_k);
    read("oil_pole_k", |s| s.rings.pack.oil.pole_k);
    read("limit_gap_growth_m", |s| s.limit_gap_growth_m);
    read("limit_contact_band_fraction", |s| {
        s.limit_contact_band_fraction
    });
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let card = RingPack::card();
    let mut specimen = untreated();
    specimen.numbers[card.number_index("bore_m").unwrap()] = f64::NAN;
    specimen.numbers[card.number_index("top_tension_n").unwrap()] = 500.0;
    let fields: Vec<String> = RingPack::check(specimen)
        .into_iter()
        .map(|f| f.field)
        .collect();
    assert_eq!(fields, ["bore_m", "top_tension_n"]);

    let mut specimen = untreated();
    specimen.numbers[card.number_index("top_gap_m").unwrap()] = 0.15e-3;
    specimen.numbers[card.number_index("second_gap_m").unwrap()] = 0.32e-3;
    specimen.numbers[card.number_index("rod_length_m").unwrap()] = 0.09;
    specimen.numbers[card.number_index("top_thickness_m").unwrap()] = 6.5e-3;
    let findings = RingPack::check(specimen.clone());
    let fields: Vec<&str> = findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        ["top_gap_m", "second_gap_m", "rod_length_m", "top_tension_n"]
    );
    assert!(findings[0].remedy.contains("seize"));
    assert_eq!(findings[3].severity, Severity::Warning);
    assert!(RingPack::prepare(specimen).is_err());
}

#[test]
fn duty_that_is_not_numbers_is_refused_row_by_row() {
    let model = plain();
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[2][1] = 1e9;
    bad.time_s[3] = -1.0;
    let advanced = RingPack::advance(
        model.specimen.clone(),
        model.map.clone(),
        model.begin(),
        vec![bad],
    );
    let fields: Vec<String> = advanced.unwrap_err().into_iter().map(|f| f.field).collect();
    assert_eq!(
        fields,
        [
            "duty.time_s[3]",
            "duty.engine_speed_rad_s[2]",
            "duty.oil_temp_k[1]"
        ]
    );
    let mut short = event();
    short.points[1].pop();
    assert!(
        RingPack::advance(
            model.specimen.clone(),
            model.map.clone(),
            model.begin(),
            vec![short]
        )
        .is_err()
    );
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    let model = plain();
    let mut wrong = request(model.begin(), event());
    wrong.rates.pop();
    wrong.horizon_events = f64::INFINITY;
    wrong.ahead_events[0] = -1.0;
    let refused = RingPack::forecast(model.specimen.clone(), model.map.clone(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events", "ahead_events"]);
    let worn = vec![f64::NAN, 0.0, 0.0, 0.0, 0.0, 0.0];
    let advanced = RingPack::advance(model.specimen.clone(), model.map.clone(), worn, vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "condition.top_face_wear_m");
    let advanced = RingPack::advance(model.specimen.clone(), vec![1.0; 5], model.begin(), vec![]);
    assert_eq!(advanced.unwrap_err()[0].field, "prepared");
    assert!(RingPack::begin(model.specimen.clone(), model.map.clone(), vec![None; 5]).is_err());
}

/// Far off the map the answer stays finite and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let model = plain();
    let extreme = crate::scenario::duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    let condition = model
        .advance(&model.begin(), &vec![extreme.clone(); 50])
        .pop()
        .unwrap();
    assert!(condition.iter().all(|value| value.is_finite()));
    let forecast = model.forecast(condition, extreme);
    assert!(forecast.notes.iter().any(|note| note.field == "event"));
    let finite = |values: &[f64]| values.iter().all(|value| value.is_finite());
    assert!(
        forecast
            .readings
            .iter()
            .all(|path| finite(&path.low) && finite(&path.median) && finite(&path.high))
    );
    assert!(
        forecast
            .mechanisms
            .iter()
            .all(|m| finite(&m.lives_events) && (0.0..=1.0).contains(&m.risk_next_event))
    );
}
