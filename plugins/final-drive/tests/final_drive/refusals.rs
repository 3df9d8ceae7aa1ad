//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_final_drive::FinalDrive;
use ringland_plugin_final_drive::card::{mechanism, mechanisms, reading, slot};
use ringland_plugin_final_drive::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with_all};

use crate::pairs::{event, fine_peened, ground, hypoid, peened, spiral_bevel, superfinished};

#[test]
fn the_pairs_that_are_tried_have_nothing_wrong() {
    for pair in [hypoid(), spiral_bevel()] {
        for specimen in [
            superfinished(&pair),
            fine_peened(&pair),
            peened(&pair),
            pair.clone(),
        ] {
            laws::nothing_is_wrong::<FinalDrive>(&specimen);
        }
    }
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(FinalDrive::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("pinion_teeth", |s| s.pinion_teeth),
        ("ring_teeth", |s| s.ring_teeth),
        ("offset_m", |s| s.offset_m),
        ("ring_outer_diameter_m", |s| s.ring_outer_diameter_m),
        ("face_width_m", |s| s.face_width_m),
        ("pinion_spiral_rad", |s| s.pinion_spiral_rad),
        ("drive_pressure_angle_rad", |s| s.pressure_angle_rad[0]),
        ("coast_pressure_angle_rad", |s| s.pressure_angle_rad[1]),
        ("profile_shift", |s| s.profile_shift),
        ("thickness_shift", |s| s.thickness_shift),
        ("edge_radius", |s| s.edge_radius),
        ("face_load_factor", |s| s.face_load_factor),
        ("dynamic_factor", |s| s.dynamic_factor),
        ("modulus_pa", |s| s.modulus_pa),
        ("contact_limit_pa", |s| s.contact_limit_pa),
        ("root_limit_pa", |s| s.root_limit_pa),
        ("backlash_m", |s| s.backlash_m),
        ("drag_n_m", |s| s.drag_n_m),
        ("preload_m", |s| s.preload_m),
        ("carrier_settling_m", |s| s.carrier_settling_m),
        ("settling_turns", |s| s.settling_turns),
        ("pattern_per_m", |s| s.pattern_per_m),
        ("rated_torque_n_m", |s| s.rated_torque_n_m),
        ("oil_factor_pa_s", |s| s.oil.factor_pa_s),
        ("oil_slope_k", |s| s.oil.slope_k),
        ("oil_pole_k", |s| s.oil.pole_k),
        ("pressure_viscosity_per_pa", |s| s.pressure_viscosity_per_pa),
        ("limit_backlash_m", |s| s.limit_backlash_m),
        ("limit_backlash_growth_m", |s| s.limit_backlash_growth_m),
        ("limit_drag_fraction", |s| s.limit_drag_fraction),
        ("limit_pattern_shift", |s| s.limit_pattern_shift),
        ("limit_contact_temp_k", |s| s.limit_contact_temp_k),
        ("pinion_flank.ra_m", |s| s.pinion.ra_m),
        ("pinion_flank.boundary_friction", |s| {
            s.pinion.boundary_friction
        }),
        ("pinion_flank.wear_coefficient_m2_n", |s| {
            s.pinion.wear_coefficient_m2_n
        }),
        ("pinion_flank.running_in_multiplier", |s| {
            s.pinion.running_in_multiplier
        }),
        ("pinion_flank.hardness_pa", |s| s.pinion.hardness_pa),
        ("pinion_flank.case_depth_m", |s| s.pinion.case_depth_m),
        ("pinion_flank.asperity_radius_m", |s| s.asperity_radius_m),
        ("pinion_flank.asperity_density_per_m2", |s| {
            s.asperity_density_per_m2
        }),
        ("ring_flank.ra_m", |s| s.ring.ra_m),
        ("ring_flank.boundary_friction", |s| s.ring.boundary_friction),
        ("ring_flank.wear_coefficient_m2_n", |s| {
            s.ring.wear_coefficient_m2_n
        }),
        ("ring_flank.running_in_multiplier", |s| {
            s.ring.running_in_multiplier
        }),
        ("ring_flank.hardness_pa", |s| s.ring.hardness_pa),
        ("ring_flank.case_depth_m", |s| s.ring.case_depth_m),
        ("root.ra_m", |s| s.root_ra_m),
    ];
    laws::numbers_are_read_in_order::<FinalDrive, _>(
        |specimen| Spec::read(specimen).unwrap(),
        entries,
    );
}

/// Indices that the code uses are those of the card.
#[test]
fn slots_and_readings_stand_where_they_are_read() {
    let card = FinalDrive::card();
    for (name, index) in [
        ("drive_pitting", slot::DRIVE_PITTING),
        ("coast_pitting", slot::COAST_PITTING),
        ("pinion_root", slot::PINION_ROOT),
        ("ring_root", slot::RING_ROOT),
        ("pinion_wear_m", slot::PINION_WEAR),
        ("ring_wear_m", slot::RING_WEAR),
        ("backlash_growth_m", slot::BACKLASH_GROWTH),
        ("settling", slot::SETTLING),
        ("scuff_severity", slot::SCUFF),
        ("pinion_turns", slot::PINION_TURNS),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    assert_eq!(card.condition.len(), slot::COUNT);
    for (name, index) in [
        ("backlash_m", reading::BACKLASH),
        ("backlash_growth_m", reading::BACKLASH_GROWTH),
        ("drag_n_m", reading::DRAG),
        ("pattern_shift", reading::PATTERN_SHIFT),
        ("drive_pitting_sum", reading::DRIVE_PITTING),
        ("coast_pitting_sum", reading::COAST_PITTING),
        ("root_sum", reading::ROOT),
        ("scuff_severity", reading::SCUFF),
        ("contact_stress_pa", reading::CONTACT_STRESS),
        ("root_stress_pa", reading::ROOT_STRESS),
        ("film_ratio", reading::FILM_RATIO),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(mechanisms().len(), mechanism::COUNT);
    for (name, index) in [
        ("drive_pitting", mechanism::DRIVE_PITTING),
        ("coast_pitting", mechanism::COAST_PITTING),
        ("root_fatigue", mechanism::ROOT_FATIGUE),
        ("scuff", mechanism::SCUFF),
        ("backlash", mechanism::BACKLASH),
        ("preload_loss", mechanism::PRELOAD),
        ("pattern_drift", mechanism::PATTERN),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index), "{name}");
    }
    let channels = &card.duty.channels;
    assert_eq!(channels[3].name, "axle_oil_temp_k");
}

#[test]
fn bad_numbers_are_all_named() {
    laws::bad_numbers_are_all_named::<FinalDrive>();
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("limit_backlash_m", 1.35e-4),
        ("pinion_flank.asperity_density_per_m2", 9.0e10),
        ("pinion_flank.wear_coefficient_m2_n", 5.0e-14 / 2.0),
        ("pinion_flank.hardness_pa", 5.0e9),
        ("ring_flank.hardness_pa", 5.0e9),
        ("ring_flank.case_depth_m", 3.0e-4),
    ];
    let changed = with_all::<FinalDrive>(&hypoid(), &changes);
    let mut changed =
        with_all::<FinalDrive>(&changed, &[("pinion_flank.wear_coefficient_m2_n", 9.0e-15)]);
    changed = with_all::<FinalDrive>(&changed, &[("pinion_flank.hardness_pa", 1.15e10)]);
    let names = [
        "limit_backlash_m",
        "pinion_flank.asperity_density_per_m2",
        "pinion_flank.wear_coefficient_m2_n",
        "ring_flank.hardness_pa",
        "ring_flank.case_depth_m",
    ];
    let findings = laws::findings_are::<FinalDrive>(&changed, &names);
    assert_eq!(findings[0].severity, Severity::Error);
    assert!(
        findings[1..]
            .iter()
            .all(|finding| finding.severity == Severity::Warning)
    );
}

/// A pair too small for its torque is told; what makes no pair is refused.
#[test]
fn a_pair_must_be_a_pair() {
    let small = with_all::<FinalDrive>(
        &hypoid(),
        &[("ring_outer_diameter_m", 0.13), ("face_width_m", 0.018)],
    );
    laws::findings_are::<FinalDrive>(
        &small,
        &[
            "rated_torque_n_m",
            "rated_torque_n_m",
            "pinion_flank.case_depth_m",
            "ring_flank.case_depth_m",
        ],
    );
    let offset = with_all::<FinalDrive>(
        &hypoid(),
        &[
            ("ring_outer_diameter_m", 0.13),
            ("offset_m", 0.045),
            ("face_width_m", 0.018),
        ],
    );
    laws::findings_are::<FinalDrive>(&offset, &["offset_m"]);
    let straight = with_all::<FinalDrive>(&hypoid(), &[("pinion_spiral_rad", 0.05)]);
    laws::findings_are::<FinalDrive>(&straight, &["pinion_spiral_rad"]);
    let pointed = [
        ("pinion_teeth", 6.0),
        ("profile_shift", 0.7),
        ("thickness_shift", -0.2),
    ];
    let pointed = with_all::<FinalDrive>(&hypoid(), &pointed);
    laws::findings_are::<FinalDrive>(&pointed, &["profile_shift"]);
    let fewer = with_all::<FinalDrive>(&hypoid(), &[("pinion_teeth", 25.0), ("ring_teeth", 20.0)]);
    laws::findings_are::<FinalDrive>(&fewer, &["ring_teeth"]);
}

/// A profile whose depths do not rise is refused.
#[test]
fn a_broken_profile_is_refused() {
    let mut specimen = peened(&hypoid());
    specimen.surfaces[2].depth_m[2] = specimen.surfaces[2].depth_m[1];
    assert!(!FinalDrive::check(specimen).is_empty());
}

#[test]
fn bad_input_is_refused() {
    laws::bad_input_is_refused(ground(), &event());
}
