//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_valve::Valve;
use ringland_plugin_valve::card::{mechanism, mechanisms, reading, slot};
use ringland_plugin_valve::spec::{NUMBERS, Spec};
use ringland_trials::{engine, laws, with, with_all};

use crate::scenario::{austenitic, event, exhaust, intake, plain, titanium, treated};

#[test]
fn the_variants_have_nothing_wrong() {
    for specimen in [exhaust(), austenitic(), intake(), titanium(), treated()] {
        laws::nothing_is_wrong::<Valve>(&specimen);
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(Valve::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.engine.bore_m),
        ("exhaust_pressure_pa", |s| s.engine.exhaust_pressure_pa),
        ("limiter_speed_rad_s", |s| s.train.limiter_speed_rad_s),
        ("lash_m", |s| s.train.lash_m),
        ("spring_side_share", |s| s.train.spring_side_share),
        ("oil_factor_pa_s", |s| s.oil.factor_pa_s),
        ("oil_pole_k", |s| s.oil.pole_k),
        ("stem_diameter_m", |s| s.stem_diameter_m),
        ("stem_length_m", |s| s.stem_length_m),
        ("valve_mass_kg", |s| s.valve_mass_kg),
        ("retained_mass_kg", |s| s.retained_mass_kg),
        ("seat_radius_m", |s| s.seat_radius_m),
        ("seat_width_m", |s| s.seat_width_m),
        ("seat_angle_rad", |s| s.seat_angle_rad),
        ("head_thickness_m", |s| s.head_thickness_m),
        ("neck_radius_m", |s| s.neck_radius_m),
        ("rim_stiffness_n_m", |s| s.rim_stiffness_n_m),
        ("groove_area_m2", |s| s.groove.area_m2),
        ("neck_notch_factor", |s| s.neck_notch_factor),
        ("strength_scatter", |s| s.strength_scatter),
        ("slope", |s| s.slope),
        ("guide_length_m", |s| s.guide_length_m),
        ("tip_overhang_m", |s| s.tip_overhang_m),
        ("bearing_length_m", |s| s.bearing_length_m),
        ("port_length_m", |s| s.port_length_m),
        ("guide_rq_m", |s| s.guide_rq_m),
        ("seal_lip_gradient_pa_m", |s| s.seal_lip_gradient_pa_m),
        ("build_margin_m", |s| s.build_margin_m),
        ("recut_stock_m", |s| s.recut_stock_m),
        ("full_load_exhaust_temp_k", |s| s.full_load_exhaust_temp_k),
        ("limit_recession_m", |s| s.limit_recession_m),
        ("limit_lash_m", |s| s.limit_lash_m),
        ("limit_stem_loss_m", |s| s.limit_stem_loss_m),
        ("limit_margin_m", |s| s.limit_margin_m),
        ("limit_run_s", |s| s.limit_run_s),
        ("fuel_cooling_w", |s| s.fuel_cooling_w),
        ("stem.wear_coefficient_m2_n", |s| s.stem_wear_m2_n),
        ("stem.rq_m", |s| s.stem_rq_m),
        ("stem.coating_thickness_m", |s| s.coating_thickness_m),
        ("seat_face.hardness_pa", |s| s.seat_hardness_pa),
        ("seat_face.wear_coefficient_m2_n", |s| s.seat_wear_m2_n),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<Valve, _>(read, entries);
}

/// Indices that the code uses are those of the card, and the names that other models read are these.
#[test]
fn slots_readings_and_mechanisms_stand_where_they_are_read() {
    let card = Valve::card();
    for (name, index) in [
        ("recession_m", slot::RECESSION),
        ("lash_taken_m", slot::LASH_TAKEN),
        ("margin_lost_m", slot::MARGIN_LOST),
        ("stem_top_loss_m", slot::STEM_TOP),
        ("stem_bottom_loss_m", slot::STEM_BOTTOM),
        ("groove_damage", slot::GROOVE),
        ("head_fatigue", slot::HEAD_FATIGUE),
        ("head_creep", slot::HEAD_CREEP),
        ("run_s", slot::RUN),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    assert_eq!(card.condition.len(), slot::COUNT);
    for (name, index) in [
        ("recession_m", reading::RECESSION),
        ("lash_m", reading::LASH),
        ("stem_loss_m", reading::STEM_LOSS),
        ("margin_m", reading::MARGIN),
        ("groove_damage", reading::GROOVE),
        ("head_damage", reading::HEAD),
        ("head_temp_k", reading::HEAD_TEMP),
        ("seating_velocity_m_s", reading::SEATING),
        ("run_s", reading::RUN),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(mechanisms().len(), mechanism::COUNT);
    assert_eq!(card.component_type, "valve");
    let choices: Vec<&str> = card.choices.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(choices, ["follower", "port", "material"]);
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<Valve>();
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("rod_length_m", 0.09),
        ("neck_radius_m", 2.5e-3),
        ("head_thickness_m", 9.0e-3),
        ("groove_area_m2", 4.0e-5),
        ("stem_length_m", 0.06),
        ("tip_overhang_m", 0.010),
        ("valve_mass_kg", 0.011),
        ("limit_lash_m", 0.3e-3),
        ("limit_margin_m", 2.0e-3),
    ];
    let specimen = with_all::<Valve>(&exhaust(), &changes);
    laws::findings_are::<Valve>(&specimen, &changes.map(|change| change.0));
}

/// Bare titanium is refused, in an exhaust port it is warned of; so is a valve heavier than all that moves.
#[test]
fn titanium_needs_its_coating_and_a_cool_port() {
    let bare = with::<Valve>(&titanium(), "stem.coating_thickness_m", 0.0);
    let found = laws::findings_are::<Valve>(&bare, &["stem.coating_thickness_m"]);
    assert_eq!(found[0].severity, Severity::Error);
    let mut hot = titanium();
    hot.choices[1] = 1;
    let found = laws::findings_are::<Valve>(&hot, &["material"]);
    assert_eq!(found[0].severity, Severity::Warning);
    let heavy = with::<Valve>(&exhaust(), "retained_mass_kg", 0.12);
    laws::findings_are::<Valve>(&heavy, &["valve_mass_kg"]);
}

#[test]
fn residual_stress_beyond_the_metal_is_refused() {
    let mut specimen = treated();
    let groove = Valve::card().surface_index("groove").unwrap();
    specimen.surfaces[groove].residual_stress_pa[2] = -2.0e9;
    laws::findings_are::<Valve>(&specimen, &["groove.residual_stress_pa"]);
}

#[test]
fn duty_out_of_range_is_refused_row_by_row() {
    let event = engine::with_over_rev::<Valve>(&event(), 3.0, 9500.0, 300.0);
    laws::bad_duty_is_refused(plain(), &event);
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    laws::bad_requests_are_refused(plain(), &event());
    laws::bad_conditions_and_maps_are_refused(plain(), &event());
}
