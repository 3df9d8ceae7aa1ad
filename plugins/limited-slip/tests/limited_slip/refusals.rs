//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_limited_slip::LimitedSlip;
use ringland_plugin_limited_slip::card::{mechanism, mechanisms, reading, slot};
use ringland_plugin_limited_slip::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with_all};

use crate::differentials::{event, ground, peened, sprayed, superfinished, usual};

#[test]
fn the_packs_that_are_tried_have_nothing_wrong() {
    for specimen in [ground(), peened(), superfinished(), sprayed()] {
        laws::nothing_is_wrong::<LimitedSlip>(&specimen);
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(LimitedSlip::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("faces", |s| s.faces),
        ("outer_diameter_m", |s| 2.0 * s.face.outer_m),
        ("inner_diameter_m", |s| 2.0 * s.face.inner_m),
        ("steel_m", |s| s.steel_m),
        ("lining_m", |s| s.lining_m),
        ("core_m", |s| s.core_m),
        ("ramp_radius_m", |s| s.ramp_radius_m),
        ("drive_ramp_rad", |s| s.drive_ramp_rad),
        ("coast_ramp_rad", |s| s.coast_ramp_rad),
        ("spring_outer_m", |s| s.spring.outer_m),
        ("spring_inner_m", |s| s.spring.inner_m),
        ("spring_thickness_m", |s| s.spring.thickness_m),
        ("spring_height_m", |s| s.spring.height_m),
        ("spring_deflection_m", |s| s.spring_deflection_m),
        ("oil_m3", |s| s.oil_m3),
        ("modifier_share", |s| s.modifier_share),
        ("corner_s", |s| s.corner_s),
        ("cooling_w_m2_k", |s| s.cooling_w_m2_k),
        ("hot_band_factor", |s| s.hot_band_factor),
        ("flatness_m", |s| s.flatness_m),
        ("hub_kg_m2", |s| s.side.driven_kg_m2),
        ("wheel_kg_m2", |s| s.side.load_kg_m2),
        ("shaft_n_m", |s| s.side.stiffness_n_m),
        ("shaft_damping_n_m_s", |s| s.side.damping_n_m_s),
        ("chatter_torque_n_m", |s| s.chatter_torque_n_m),
        ("tab_radius_m", |s| s.tab_radius_m),
        ("tab_area_m2", |s| s.tab_area_m2),
        ("axial_n_m", |s| s.axial_n_m),
        ("limit_stack_wear_m", |s| s.limit_stack_wear_m),
        ("limit_breakaway_n_m", |s| s.limit_breakaway_n_m),
        ("limit_flatness_m", |s| s.limit_flatness_m),
        ("limit_tab_wear_m", |s| s.limit_tab_wear_m),
        ("springs_nested", |s| s.spring.modulus_pa / 2.06e11),
        ("steel.boundary_friction", |s| s.friction),
        ("steel.friction_slope_s_m", |s| s.slope_s_m),
        ("steel.wear_coefficient_m2_n", |s| s.steel_wear_m2_n),
        ("steel.ra_m", |s| s.ra_m),
        ("lining.wear_coefficient_m2_n", |s| s.lining_wear_m2_n),
        ("tabs.wear_coefficient_m2_n", |s| s.tab_wear_m2_n),
    ];
    laws::numbers_are_read_in_order::<LimitedSlip, _>(
        |specimen| Spec::read(specimen).unwrap(),
        entries,
    );
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_and_readings_stand_where_they_are_read() {
    let card = LimitedSlip::card();
    for (name, index) in [
        ("stack_wear_m", slot::STACK_WEAR),
        ("oil_dose_j_m3", slot::OIL_DOSE),
        ("glaze_dose", slot::GLAZE),
        ("scoring_m", slot::SCORING),
        ("band_strain", slot::BAND_STRAIN),
        ("tab_wear_m", slot::TAB_WEAR),
        ("slip_energy_j", slot::ENERGY),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("stack_wear_m", reading::STACK_WEAR),
        ("breakaway_n_m", reading::BREAKAWAY),
        ("flatness_m", reading::FLATNESS),
        ("chatter_index", reading::CHATTER),
        ("chatter_index_no_modifier", reading::CHATTER_WITHOUT),
        ("modifier_share", reading::MODIFIER),
        ("tab_wear_m", reading::TAB_WEAR),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("stack_wear", mechanism::STACK_WEAR),
        ("preload", mechanism::PRELOAD),
        ("chatter", mechanism::CHATTER),
        ("plates", mechanism::PLATES),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index), "{name}");
    }
    assert_eq!(
        (
            card.condition.len(),
            card.readings.len(),
            mechanisms().len()
        ),
        (slot::COUNT, reading::COUNT, mechanism::COUNT)
    );
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<LimitedSlip>();
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("faces", 7.0),
        ("inner_diameter_m", 0.102),
        ("spring_deflection_m", 0.9e-3),
        ("limit_breakaway_n_m", 290.0),
        ("limit_flatness_m", 0.02e-3),
        ("limit_stack_wear_m", 2.9e-3),
        ("steel.friction_slope_s_m", -0.05),
    ];
    let specimen = with_all::<LimitedSlip>(&ground(), &changes);
    let names: Vec<&str> = changes.iter().map(|change| change.0).collect();
    let findings = laws::findings_are::<LimitedSlip>(&specimen, &names);
    let errors = findings
        .iter()
        .filter(|found| found.severity == Severity::Error);
    assert_eq!(errors.count(), 6);
}

#[test]
fn a_disc_spring_needs_a_ring() {
    let specimen = with_all::<LimitedSlip>(&ground(), &[("spring_inner_m", 0.104)]);
    let findings = LimitedSlip::check(specimen);
    assert!(findings.iter().any(|found| found.field == "spring_inner_m"));
}

#[test]
fn duty_out_of_range_is_refused_row_by_row() {
    laws::bad_duty_is_refused(usual(), &event());
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    laws::bad_requests_are_refused(usual(), &event());
    laws::bad_conditions_and_maps_are_refused(usual(), &event());
}
