//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_crankshaft::Crankshaft;
use ringland_plugin_crankshaft::card::slot;
use ringland_plugin_crankshaft::spec::{NUMBERS, Spec};
use ringland_trials::{engine, fields, laws, with, with_all};

use crate::scenario::{duty, event, nitrided, plain, untreated};

#[test]
fn the_default_spec_has_nothing_wrong() {
    laws::nothing_is_wrong::<Crankshaft>(&untreated());
    laws::nothing_is_wrong::<Crankshaft>(&nitrided());
}

#[test]
fn numbers_are_read_in_card_order() {
    let card = Crankshaft::card();
    assert_eq!(card.numbers.len(), NUMBERS);
    assert_eq!(card.condition.len(), slot::COUNT);
    assert_eq!(card.condition[slot::NOSE].name, "nose_damage");
    let entries: &[(&str, laws::Read<Spec>)] = &[
        ("exhaust_pressure_pa", |s| s.engine.exhaust_pressure_pa),
        ("oil_pole_k", |s| s.oil.pole_k),
        ("pin_diameter_m", |s| s.pin_diameter_m),
        ("web_width_m", |s| s.web_width_m),
        ("journal_fillet_m", |s| s.journal_fillet_m),
        ("throw_unbalance_kg_m", |s| s.throw_unbalance_kg_m),
        ("nose_length_m", |s| s.nose_length_m),
        ("flywheel_inertia_kg_m2", |s| s.flywheel_inertia_kg_m2),
        ("damper_half_life_s", |s| s.damper_half_life_s),
        ("shear_modulus_pa", |s| s.shear_modulus_pa),
        ("strength_pa", |s| s.strength_pa),
        ("sn_slope", |s| s.sn_slope),
        ("torsion_ln_sd", |s| s.torsion_ln_sd),
        ("bearing_film_m", |s| s.bearing_film_m),
        ("regrind_step_m", |s| s.regrind_step_m),
        ("limit_journal_ra_m", |s| s.limit_journal_ra_m),
    ];
    let read = |specimen: &_| Spec::read(specimen).unwrap();
    laws::numbers_are_read_in_order::<Crankshaft, _>(read, entries);
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let odd = [
        ("cylinders", 6.0),
        ("main_spacing_m", 0.06),
        ("pin_fillet_m", 0.9e-3),
        ("strength_pa", 5.5e8),
        ("fillet.hardness_pa", 7.0e9),
    ];
    let odd = with_all::<Crankshaft>(&untreated(), &odd);
    let expected = [
        "throws",
        "main_spacing_m",
        "pin_fillet_m",
        "strength_pa",
        "fillet.case_depth_m",
    ];
    let findings = laws::findings_are::<Crankshaft>(&odd, &expected);
    assert_eq!(findings[3].severity, Severity::Warning);

    let soft = [
        ("journal.hardness_pa", 2.0e9),
        ("journal.wear_coefficient_m2_n", 1.0e-18),
    ];
    let specimen = with_all::<Crankshaft>(&untreated(), &soft);
    let findings = laws::findings_are::<Crankshaft>(&specimen, &soft.map(|change| change.0));
    assert!(findings.iter().all(|f| f.severity == Severity::Warning));

    let thick_nose = with::<Crankshaft>(&untreated(), "nose_diameter_m", 0.052);
    assert_eq!(Crankshaft::check(thick_nose)[0].field, "nose_diameter_m");
}

#[test]
fn bad_input_is_refused() {
    let event = engine::with_over_rev::<Crankshaft>(&event(), 3.0, 9800.0, 250.0);
    laws::bad_input_is_refused(plain(), &event);
}

/// Far off the map the answer stays sound and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 50);
    assert!(fields(&forecast.notes).contains(&"event"));
}
