//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_wet_clutch::WetClutch;
use ringland_plugin_wet_clutch::card::{mechanism, mechanisms, reading, slot};
use ringland_plugin_wet_clutch::spec::{NUMBERS, Spec};
use ringland_trials::{laws, with_all};

use crate::scenario::{event, ground, treated, untreated};

#[test]
fn the_packs_that_are_tried_have_nothing_wrong() {
    laws::nothing_is_wrong::<WetClutch>(&untreated());
    laws::nothing_is_wrong::<WetClutch>(&treated());
}

#[test]
fn numbers_are_read_in_card_order() {
    assert_eq!(WetClutch::card().numbers.len(), NUMBERS);
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("faces", |s| s.faces),
        ("outer_diameter_m", |s| s.outer_m),
        ("inner_diameter_m", |s| s.inner_m),
        ("clamp_n", |s| s.clamp_n),
        ("lining_m", |s| s.lining_m),
        ("core_m", |s| s.core_m),
        ("separator_m", |s| s.separator_m),
        ("flatness_m", |s| s.flatness_m),
        ("groove_count", |s| s.groove_count),
        ("groove_width_m", |s| s.groove_width_m),
        ("groove_depth_m", |s| s.groove_depth_m),
        ("oil_flow_m3_s", |s| s.oil_flow_m3_s),
        ("oil_volume_m3", |s| s.oil_volume_m3),
        ("lining_conductivity_w_m_k", |s| s.lining_conductivity_w_m_k),
        ("lining_heat_capacity_j_m3_k", |s| {
            s.lining_heat_capacity_j_m3_k
        }),
        ("lining_modulus_pa", |s| s.lining_modulus_pa),
        ("activation_j_mol", |s| s.activation_j_mol),
        ("glaze_time_s", |s| s.glaze_time_s),
        ("energy_life", |s| s.energy_life),
        ("energy_exponent", |s| s.energy_exponent),
        ("launch_share", |s| s.launch_share),
        ("shift_share", |s| s.shift_share),
        ("judder_torque_n_m", |s| s.judder_torque_n_m),
        ("driven_kg_m2", |s| s.driven_kg_m2),
        ("load_kg_m2", |s| s.load_kg_m2),
        ("stiffness_n_m", |s| s.stiffness_n_m),
        ("damping_n_m_s", |s| s.damping_n_m_s),
        ("limit_friction", |s| s.limit_friction),
        ("limit_wear_m", |s| s.limit_wear_m),
        ("limit_flatness_m", |s| s.limit_flatness_m),
        ("limit_judder", |s| s.limit_judder),
        ("limit_acid", |s| s.limit_acid),
        ("lining.boundary_friction", |s| s.friction),
        ("lining.friction_slope_s_m", |s| s.slope_s_m),
        ("lining.wear_coefficient_m2_n", |s| s.wear_m2_n),
        ("separator.ra_m", |s| s.ra_m),
    ];
    assert_eq!(entries.len(), NUMBERS + 4);
    laws::numbers_are_read_in_order::<WetClutch, _>(
        |specimen| Spec::read(specimen).unwrap(),
        entries,
    );
}

/// Indices that the code uses are those of the card.
#[test]
fn entries_stand_where_they_are_read() {
    let card = WetClutch::card();
    for (name, index) in [
        ("glaze", slot::GLAZE),
        ("lining_damage", slot::LINING),
        ("lining_wear_m", slot::WEAR),
        ("unevenness_m", slot::FLATNESS),
        ("oil_age", slot::OIL_AGE),
        ("oil_oxidation", slot::OXIDATION),
        ("hottest_k", slot::HOTTEST),
    ] {
        assert_eq!(card.slot_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("lining_m", reading::LINING),
        ("flatness_m", reading::FLATNESS),
        ("friction", reading::FRICTION),
        ("judder_index", reading::JUDDER),
        ("acid_rise", reading::ACID),
        ("modifier_left", reading::MODIFIER),
        ("friction_slope_s_m", reading::SLOPE),
        ("capacity_n_m", reading::CAPACITY),
        ("hottest_k", reading::HOTTEST),
    ] {
        assert_eq!(card.reading_index(name), Some(index), "{name}");
    }
    for (name, index) in [
        ("capacity", mechanism::CAPACITY),
        ("lining", mechanism::LINING),
        ("thickness", mechanism::THICKNESS),
        ("flatness", mechanism::FLATNESS),
        ("judder", mechanism::JUDDER),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index), "{name}");
    }
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(card.condition.len(), slot::COUNT);
    assert_eq!(mechanisms().len(), mechanism::COUNT);
    let kinds: Vec<&str> = card
        .duty
        .shocks
        .iter()
        .map(|need| need.kind.as_str())
        .collect();
    assert_eq!(kinds, ["launch", "clutch_engagement", "shift"]);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let changes = [
        ("faces", 13.5),
        ("groove_count", 72.5),
        ("groove_width_m", 5.0e-3),
        ("groove_depth_m", 0.8e-3),
        ("limit_friction", 0.13),
        ("limit_wear_m", 0.9e-3),
        ("flatness_m", 0.1e-3),
        ("lining.friction_slope_s_m", -0.006),
    ];
    let specimen = with_all::<WetClutch>(&untreated(), &changes);
    let names: Vec<&str> = changes.iter().map(|change| change.0).collect();
    let findings = laws::findings_are::<WetClutch>(&specimen, &names);
    for finding in &findings {
        let warned = finding.field == "limit_wear_m";
        assert_eq!(finding.severity == Severity::Warning, warned, "{finding:?}");
    }
    let damped = with_all::<WetClutch>(&untreated(), &[("damping_n_m_s", 5.0)]);
    laws::findings_are::<WetClutch>(&damped, &["damping_n_m_s"]);
    let narrow = with_all::<WetClutch>(&untreated(), &[("inner_diameter_m", 0.161)]);
    laws::findings_are::<WetClutch>(&narrow, &["inner_diameter_m"]);
}

#[test]
fn bad_input_is_refused() {
    laws::bad_input_is_refused(ground(), &event());
}
