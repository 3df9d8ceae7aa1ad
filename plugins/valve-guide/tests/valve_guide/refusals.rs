//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_valve_guide::ValveGuide;
use ringland_plugin_valve_guide::card::{channel, option, reading, slot};
use ringland_plugin_valve_guide::spec::{NUMBERS, Spec};
use ringland_trials::{Record, laws, with};

use crate::scenario::{choosing, dry, event, intake, plain, treated, untreated};

#[test]
fn the_usual_specs_have_nothing_wrong() {
    for specimen in [untreated(), treated(), intake(), dry()] {
        laws::nothing_is_wrong::<ValveGuide>(&specimen);
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(ValveGuide::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("limiter_speed_rad_s", |s| s.train.limiter_speed_rad_s),
        ("spring_side_share", |s| s.train.spring_side_share),
        ("oil_factor_pa_s", |s| s.vogel.factor_pa_s),
        ("oil_pole_k", |s| s.vogel.pole_k),
        ("stem_diameter_m", |s| s.own.stem_diameter_m),
        ("clearance_m", |s| s.own.clearance_m),
        ("guide_length_m", |s| s.own.guide_length_m),
        ("guide_outer_m", |s| s.own.guide_outer_m),
        ("boss_outer_m", |s| s.own.boss_outer_m),
        ("interference_m", |s| s.own.interference_m),
        ("tip_overhang_m", |s| s.own.tip_overhang_m),
        ("port_length_m", |s| s.own.port_length_m),
        ("gauge_below_m", |s| s.own.gauge_below_m),
        ("neck_heat_share", |s| s.own.neck_heat_share),
        ("gas_heat_share", |s| s.own.gas_heat_share),
        ("gas_w_m2_k", |s| s.own.gas_w_m2_k),
        ("stem_w_m_k", |s| s.own.stem_w_m_k),
        ("stem_expansion_per_k", |s| s.own.stem_expansion_per_k),
        ("full_load_exhaust_temp_k", |s| {
            s.own.full_load_exhaust_temp_k
        }),
        ("limit_clearance_m", |s| s.own.limit_clearance_m),
        ("limit_wobble_m", |s| s.own.limit_wobble_m),
        ("limit_hot_clearance_m", |s| s.own.limit_hot_clearance_m),
        ("bore.rq_m", |s| s.bore.rq_m),
        ("bore.hardness_pa", |s| s.bore.hardness_pa),
        ("bore.boundary_friction", |s| s.bore.boundary_friction),
        ("bore.wear_coefficient_m2_n", |s| {
            s.bore.wear_coefficient_m2_n
        }),
        ("stem.rq_m", |s| s.stem_rq_m),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<ValveGuide, _>(read, entries);
}

/// Indices that the code uses are those of the card.
#[test]
fn entries_stand_where_they_are_read() {
    let card = ValveGuide::card();
    for (name, index) in [
        ("top_plus_wear_m3", slot::TOP_PLUS),
        ("top_minus_wear_m3", slot::TOP_MINUS),
        ("bottom_plus_wear_m3", slot::BOTTOM_PLUS),
        ("bottom_minus_wear_m3", slot::BOTTOM_MINUS),
        ("worst_galling_index", slot::GALLING),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("mouth_clearance_m", reading::MOUTH),
        ("top_clearance_m", reading::TOP),
        ("bottom_clearance_m", reading::BOTTOM),
        ("wobble_m", reading::WOBBLE),
        ("worst_galling_index", reading::GALLING),
        ("hot_clearance_m", reading::HOT_CLEARANCE),
        ("stem_temp_k", reading::STEM_TEMP),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(card.condition.len(), slot::COUNT);
    assert_eq!(
        card.channel_index("exhaust_temp_k"),
        Some(channel::EXHAUST_TEMP)
    );
    let choices: Vec<&str> = card.choices.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(
        choices,
        ["follower", "guide_alloy", "stem_surface", "oil_supply"]
    );
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<ValveGuide>();
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let set = |specimen, (name, value): (&str, f64)| with::<ValveGuide>(&specimen, name, value);
    let changes = [
        ("guide_outer_m", 0.0072),
        ("stem_diameter_m", 0.007),
        ("boss_outer_m", 0.0105),
        ("tip_overhang_m", 0.0105),
        ("limit_clearance_m", 45.0e-6),
        ("limit_wobble_m", 120.0e-6),
        ("bore.wear_coefficient_m2_n", 1.0e-12),
    ];
    let specimen = changes.into_iter().fold(untreated(), set);
    let specimen = choosing(choosing(specimen, option::ALLOY, 4), option::STEM, 3);
    let expected = [
        "guide_outer_m",
        "tip_overhang_m",
        "limit_clearance_m",
        "limit_wobble_m",
        "bore.wear_coefficient_m2_n",
        "guide_alloy",
    ];
    laws::findings_are::<ValveGuide>(&specimen, &expected);
    assert!(ValveGuide::prepare(specimen).is_err());
}

/// Hot clearance: too little warns, none refuses; a guide that comes loose warns.
#[test]
fn a_stem_that_would_stick_is_found_before_it_runs() {
    let severity = |clearance_m: f64| {
        let specimen = with::<ValveGuide>(&untreated(), "clearance_m", clearance_m);
        let findings = ValveGuide::check(specimen);
        findings
            .first()
            .map(|found| (found.field.clone(), found.severity))
    };
    let clearance = |severity| Some(("clearance_m".to_string(), severity));
    assert_eq!(severity(50.0e-6), None);
    let hot_m = {
        let spec = Spec::read(&untreated()).unwrap();
        let heat = ringland_plugin_valve_guide::heat::full_load(&spec);
        50.0e-6 - ringland_plugin_valve_guide::heat::hot_clearance_m(&spec, &heat)
    };
    println!(
        "an exhaust guide loses {:.1} um of its clearance to heat",
        1e6 * hot_m
    );
    assert_eq!(severity(15.0e-6), clearance(Severity::Warning));
    let hotter = with::<ValveGuide>(&untreated(), "clearance_m", 9.0e-6);
    let hotter = with::<ValveGuide>(&hotter, "full_load_exhaust_temp_k", 1450.0);
    let hotter = with::<ValveGuide>(&hotter, "stem_expansion_per_k", 22.0e-6);
    laws::findings_are::<ValveGuide>(&hotter, &["clearance_m"]);
    assert!(ValveGuide::prepare(hotter).is_err());
    let iron = choosing(untreated(), option::ALLOY, 4);
    let loose = with::<ValveGuide>(&iron, "interference_m", 0.0);
    laws::findings_are::<ValveGuide>(&loose, &["interference_m"]);
}

#[test]
fn a_poor_pair_is_told_and_runs() {
    let poor = choosing(choosing(untreated(), option::ALLOY, 4), option::STEM, 3);
    laws::findings_are::<ValveGuide>(&poor, &["guide_alloy"]);
    let unknown = choosing(untreated(), option::STEM, 9);
    assert!(Spec::read(&unknown).is_err());
    laws::findings_are::<ValveGuide>(&unknown, &["stem_surface"]);
}

#[test]
fn duty_out_of_range_is_refused_row_by_row() {
    let record = Record::edit::<ValveGuide>(&event());
    let event = record.shock("over_rev", &[3.0, 950.0, 300.0]).duty();
    laws::bad_duty_is_refused(plain(), &event);
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    laws::bad_requests_are_refused(plain(), &event());
    laws::bad_conditions_and_maps_are_refused(plain(), &event());
}
