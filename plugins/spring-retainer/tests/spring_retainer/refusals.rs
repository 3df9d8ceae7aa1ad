//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_spring_retainer::SpringRetainer;
use ringland_plugin_spring_retainer::card::{mechanism, reading, slot};
use ringland_plugin_spring_retainer::spec::{NUMBERS, Spec};
use ringland_trials::{engine, laws, with_all};

use crate::scenario::{bare, event, treated, untreated};

#[test]
fn the_default_and_the_treated_spec_have_nothing_wrong() {
    laws::nothing_is_wrong::<SpringRetainer>(&untreated());
    laws::nothing_is_wrong::<SpringRetainer>(&treated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(SpringRetainer::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("wire_m", |s| s.train.spring.wire_m),
        ("retainer_mass_kg", |s| s.retainer_mass_kg),
        ("cone_half_angle_rad", |s| s.cone_half_angle_rad),
        ("cone_mean_m", |s| s.cone_mean_m),
        ("cone_length_m", |s| s.cone_length_m),
        ("stem_m", |s| s.stem_m),
        ("tip_height_m", |s| s.tip_height_m),
        ("hub_outer_m", |s| s.hub_outer_m),
        ("flange_outer_m", |s| s.flange_outer_m),
        ("flange_m", |s| s.flange_m),
        ("flange_fillet_m", |s| s.flange_fillet_m),
        ("load_at", |s| s.load_at),
        ("groove_at", |s| s.groove_at),
        ("end_coil_turns", |s| s.end_coil_turns),
        ("end_coil_face_m", |s| s.end_coil_face_m),
        ("coil_clearance_m", |s| s.coil_clearance_m),
        ("limit_sink_m", |s| s.limit_sink_m),
        ("limit_step_m", |s| s.limit_step_m),
        ("taper.boundary_friction", |s| s.taper.friction),
        ("taper.wear_coefficient_m2_n", |s| s.taper.wear_m2_n),
        ("taper.coating_thickness_m", |s| s.taper.coating_m),
        ("keeper.wear_coefficient_m2_n", |s| s.keeper_wear_m2_n),
        ("spring_seat.boundary_friction", |s| s.seat.friction),
        ("spring_seat.wear_coefficient_m2_n", |s| s.seat.wear_m2_n),
        ("spring_seat.coating_thickness_m", |s| s.seat.coating_m),
        ("body.ra_m", |s| s.ra_m),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<SpringRetainer, _>(read, entries);
}

/// Indices that the code uses are those of the card; the spring reads `sink_m` by its name.
#[test]
fn slots_readings_and_mechanisms_stand_where_they_are_read() {
    let card = SpringRetainer::card();
    for (name, index) in [
        ("sink_m", slot::SINK),
        ("taper_wear_m", slot::TAPER),
        ("step_m", slot::STEP),
        ("flange_damage", slot::FLANGE),
        ("hub_damage", slot::HUB),
        ("highest_force_n", slot::FORCE),
        ("driven_force_n", slot::DRIVEN),
        ("galling_hazard", slot::GALLING),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    assert_eq!(card.condition.len(), slot::COUNT);
    for (name, index) in [
        ("sink_m", reading::SINK),
        ("step_m", reading::STEP),
        ("pull_through_share", reading::PULL_SHARE),
        ("lost_seat_load_n", reading::LOST_SEAT_LOAD),
        ("slid_m", reading::SLID),
        ("force_share", reading::FORCE_SHARE),
        ("taper_pressure_pa", reading::PRESSURE),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    for (name, index) in [
        ("sink", mechanism::SINK),
        ("step", mechanism::STEP),
        ("flange_crack", mechanism::FLANGE),
        ("hub_crack", mechanism::HUB),
        ("pull_through", mechanism::PULL_THROUGH),
        ("galling", mechanism::GALLING),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index), "{name}");
    }
    assert_eq!(card.component_type, "spring_retainer");
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<SpringRetainer>();
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("cone_mean_m", 6.2e-3),
        ("hub_outer_m", 7.2e-3),
        ("flange_outer_m", 20.0e-3),
        ("end_coil_face_m", 5.0e-3),
        ("flange_fillet_m", 2.0e-3),
        ("retainer_mass_kg", 0.08),
        ("taper.boundary_friction", 0.03),
    ];
    let specimen = with_all::<SpringRetainer>(&untreated(), &changes);
    let specimen = with_all::<SpringRetainer>(&specimen, &[("moving_mass_kg", 0.07)]);
    let findings = SpringRetainer::check(specimen);
    let found = ringland_trials::fields(&findings);
    for (name, _) in changes {
        assert!(found.contains(&name), "{name} not in {found:?}");
    }
    let friction = findings
        .iter()
        .find(|f| f.field == "taper.boundary_friction");
    assert_eq!(friction.unwrap().severity, Severity::Warning);
    let mut torn = untreated();
    torn.surfaces[3].depth_m = vec![0.0];
    torn.surfaces[3].residual_stress_pa = vec![9.0e8];
    laws::findings_are::<SpringRetainer>(&torn, &["body.residual_stress_pa"]);
}

#[test]
fn duty_out_of_range_is_refused_row_by_row() {
    let event = engine::with_over_rev::<SpringRetainer>(&event(), 3.0, 9500.0, 300.0);
    laws::bad_duty_is_refused(bare(), &event);
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    laws::bad_requests_are_refused(bare(), &event());
    laws::bad_conditions_and_maps_are_refused(bare(), &event());
}
