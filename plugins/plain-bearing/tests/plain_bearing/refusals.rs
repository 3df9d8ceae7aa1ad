//! What is refused, and how it says so.

use ringland_plugin::Severity;
use ringland_plugin_plain_bearing::PlainBearing;
use ringland_plugin_plain_bearing::spec::{Position, Spec};
use ringland_trials::{Record, fields, laws, with_all};

use crate::scenario::{bare, coated, duty, main_bearing, plain, with_channel, with_dips};

#[test]
fn the_specs_of_the_scenario_have_nothing_wrong() {
    for specimen in [bare(), coated(), main_bearing()] {
        laws::nothing_is_wrong::<PlainBearing>(&specimen);
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("bore_m", |s| s.engine.bore_m),
        ("oil_pole_k", |s| s.oil.pole_k),
        ("journal_diameter_m", |s| s.journal_diameter_m),
        ("film_width_m", |s| s.film_width_m),
        ("diametral_clearance_m", |s| s.diametral_clearance_m),
        ("wall_thickness_m", |s| s.wall_thickness_m),
        ("overlay_thickness_m", |s| s.overlay_thickness_m),
        ("overlay_wear_coefficient_m2_n", |s| {
            s.overlay_wear_coefficient_m2_n
        }),
        ("overlay_modulus_pa", |s| s.overlay_modulus_pa),
        ("fatigue_strength_pa", |s| s.fatigue_strength_pa),
        ("feed_radius_m", |s| s.feed_radius_m),
        ("cranking_speed_rad_s", |s| s.cranking_speed_rad_s),
        ("neighbour_firing_interval_rad", |s| {
            s.neighbour_firing_interval_rad
        }),
        ("throw_mass_kg", |s| s.throw_mass_kg),
        ("counterweight_fraction", |s| s.counterweight_fraction),
        ("limit_wear_m", |s| s.limit_wear_m),
        ("limit_clearance_growth_m", |s| s.limit_clearance_growth_m),
        ("limit_boundary_heat_w_m2", |s| s.limit_boundary_heat_w_m2),
        ("shell.rq_m", |s| s.shell.rq_m),
        ("shell.boundary_friction", |s| s.shell.boundary_friction),
        ("shell.wear_coefficient_m2_n", |s| {
            s.shell.wear_coefficient_m2_n
        }),
        ("shell.coating_thickness_m", |s| s.shell.coating_thickness_m),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<PlainBearing, _>(read, entries);
    assert_eq!(read(&main_bearing()).position, Position::Main);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("film_width_m", 0.06),
        ("journal_diameter_m", 0.032),
        ("diametral_clearance_m", 1.6e-4),
        ("limit_wear_m", 3.0e-5),
        ("feed_radius_m", 0.059),
        ("shell.asperity_density_per_m2", 1.0e12),
    ];
    let specimen = with_all::<PlainBearing>(&bare(), &changes);
    let expected = [
        "film_width_m",
        "diametral_clearance_m",
        "limit_wear_m",
        "shell.asperity_density_per_m2",
        "feed_radius_m",
    ];
    let findings = laws::findings_are::<PlainBearing>(&specimen, &expected);
    assert_eq!(findings[3].severity, Severity::Warning);
}

/// The starts of the event, dips and an over-rev too.
#[test]
fn bad_input_is_refused() {
    let record = Record::edit::<PlainBearing>(&with_dips(2, 1.5, 1.0e5, 7000.0));
    let event = record.shock("over_rev", &[3.0, 960.0, 100.0]).duty();
    laws::bad_input_is_refused(plain(), &event);
}

/// Far off the map the answer stays sound and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    let extreme = with_channel(&extreme, "oil_temp_k", 460.0);
    let extreme = with_channel(&extreme, "oil_pressure_pa", -1.0e5);
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 50);
    assert!(fields(&forecast.notes).contains(&"event"));
}
