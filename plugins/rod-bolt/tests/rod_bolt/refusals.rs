//! What is refused, and how it says so.

use ringland_plugin::{Model, Severity};
use ringland_plugin_rod_bolt::RodBolt;
use ringland_plugin_rod_bolt::card::{mechanism, reading, slot};
use ringland_plugin_rod_bolt::spec::Spec;

use crate::scenario::{changed, duty, event, plain, request, stretched, torqued};

#[test]
fn the_default_spec_has_nothing_wrong() {
    assert_eq!(RodBolt::check(stretched()), vec![]);
    assert_eq!(RodBolt::check(torqued()), vec![]);
}

/// The positional reading of the spec follows the card: a number set to a mark has to arrive in its field.
#[test]
fn numbers_are_read_in_card_order() {
    let read = |name: &str, of: fn(&Spec) -> f64| {
        let specimen = changed(&[(name, 0.123)]);
        assert_eq!(of(&Spec::read(&specimen).unwrap()), 0.123, "{name}");
    };
    read("bore_m", |s| s.engine.bore_m);
    read("exhaust_pressure_pa", |s| s.engine.exhaust_pressure_pa);
    read("bolts_per_rod", |s| s.bolts_per_rod);
    read("cap_mass_kg", |s| s.cap_mass_kg);
    read("thread_diameter_m", |s| s.thread_diameter_m);
    read("thread_pitch_m", |s| s.thread_pitch_m);
    read("shank_diameter_m", |s| s.shank_diameter_m);
    read("shank_length_m", |s| s.shank_length_m);
    read("free_thread_m", |s| s.free_thread_m);
    read("bearing_diameter_m", |s| s.bearing_diameter_m);
    read("hole_diameter_m", |s| s.hole_diameter_m);
    read("boss_diameter_m", |s| s.boss_diameter_m);
    read("load_introduction", |s| s.load_introduction);
    read("load_offset_m", |s| s.load_offset_m);
    read("edge_distance_m", |s| s.edge_distance_m);
    read("bolt_modulus_pa", |s| s.bolt_modulus_pa);
    read("rod_modulus_pa", |s| s.rod_modulus_pa);
    read("bolt_expansion_per_k", |s| s.bolt_expansion_per_k);
    read("rod_expansion_per_k", |s| s.rod_expansion_per_k);
    read("assembly_temp_k", |s| s.assembly_temp_k);
    read("yield_strength_pa", |s| s.yield_strength_pa);
    read("tensile_strength_pa", |s| s.tensile_strength_pa);
    read("tightening_stretch_m", |s| s.tightening_stretch_m);
    read("tightening_torque_n_m", |s| s.tightening_torque_n_m);
    read("specified_friction", |s| s.specified_friction);
    read("embedding_m", |s| s.embedding_m);
    read("stretch_ln_sd", |s| s.stretch_ln_sd);
    read("torque_ln_sd", |s| s.torque_ln_sd);
    read("tightenings_per_build", |s| s.tightenings_per_build);
    read("tightening_interval_s", |s| s.tightening_interval_s);
    read("redline_rad_s", |s| s.redline_rad_s);
    read("limit_permanent_stretch_m", |s| s.limit_permanent_stretch_m);
    read("limit_tightenings", |s| s.limit_tightenings);
    read("limit_over_redline", |s| s.limit_over_redline);
}

/// Outputs are filled by fixed index: the indices are those of the card.
#[test]
fn outputs_are_in_card_order() {
    let card = RodBolt::card();
    assert_eq!(card.condition.len(), slot::COUNT);
    assert_eq!(card.readings.len(), reading::COUNT);
    assert_eq!(card.mechanisms.len(), mechanism::COUNT);
    for (name, index) in [
        ("assembly_preload_n", slot::ASSEMBLY_PRELOAD),
        ("embedding_m", slot::EMBEDDING),
        ("peak_load_n", slot::PEAK_LOAD),
        ("opening_load_n", slot::OPENING_LOAD),
        ("kept_stretch_m", slot::KEPT_STRETCH),
        ("tightenings", slot::TIGHTENINGS),
        ("running_s", slot::RUNNING),
        ("highest_speed_rad_s", slot::HIGHEST_SPEED),
        ("damage_5_sd_below", slot::FIRST_DAMAGE),
        ("damage_median", slot::FIRST_DAMAGE + 5),
    ] {
        assert_eq!(card.slot_index(name), Some(index));
    }
    for (name, index) in [
        ("least_preload_n", reading::LEAST_PRELOAD),
        ("least_stretch_m", reading::LEAST_STRETCH),
        ("permanent_stretch_m", reading::PERMANENT_STRETCH),
        ("tightenings", reading::TIGHTENINGS),
        ("highest_speed_rad_s", reading::HIGHEST_SPEED),
        ("loosening_torque_n_m", reading::LOOSENING_TORQUE),
        ("damaging_preload_n", reading::DAMAGING_PRELOAD),
        ("opening_preload_n", reading::OPENING_PRELOAD),
        ("stress_use", reading::STRESS_USE),
    ] {
        assert_eq!(card.reading_index(name), Some(index));
    }
    for (name, index) in [
        ("fatigue", mechanism::FATIGUE),
        ("opening", mechanism::OPENING),
        ("stretch", mechanism::STRETCH),
        ("reuse", mechanism::REUSE),
    ] {
        assert_eq!(card.mechanism_index(name), Some(index));
    }
}

#[test]
fn every_finding_comes_at_once_and_names_its_field() {
    let fields = |specimen| -> Vec<String> {
        RodBolt::check(specimen)
            .into_iter()
            .map(|f| f.field)
            .collect()
    };
    let out = changed(&[("bore_m", f64::NAN), ("embedding_m", 1.0)]);
    assert_eq!(fields(out), ["bore_m", "embedding_m"]);
    let wrong = changed(&[
        ("rod_length_m", 0.09),
        ("hole_diameter_m", 9.0e-3),
        ("cap_mass_kg", 0.5),
        ("tensile_strength_pa", 1.38e9),
        ("limit_tightenings", 2.0),
    ]);
    let expected = [
        "rod_length_m",
        "hole_diameter_m",
        "hole_diameter_m",
        "cap_mass_kg",
        "tensile_strength_pa",
        "limit_tightenings",
    ];
    assert_eq!(fields(wrong.clone())[..6], expected);
    assert!(RodBolt::prepare(wrong).is_err());
}

/// Too tight is refused where it yields, told where it comes near; too loose is told.
#[test]
fn a_preload_out_of_reason_is_told() {
    for (stretch_m, severity, says) in [
        (0.35e-3, Severity::Error, "yields the bolt"),
        (0.25e-3, Severity::Warning, "90 % of yield"),
        (0.10e-3, Severity::Warning, "60 to 75 %"),
        (0.05e-3, Severity::Warning, "stay closed"),
    ] {
        let findings = RodBolt::check(changed(&[("tightening_stretch_m", stretch_m)]));
        let found = findings.iter().find(|f| f.expected.contains(says));
        let found = found.unwrap_or_else(|| panic!("{stretch_m}: {findings:?}"));
        assert_eq!(
            (found.field.as_str(), found.severity),
            ("tightening_stretch_m", severity)
        );
    }
}

#[test]
fn duty_that_is_not_numbers_is_refused_row_by_row() {
    let model = plain();
    let mut bad = event();
    bad.points[0][2] = f64::NAN;
    bad.points[2][1] = 1e9;
    bad.time_s[3] = -1.0;
    let (specimen, map) = (model.specimen.clone(), model.map.clone());
    let refused = RodBolt::advance(specimen, map, model.begin(), vec![bad]).unwrap_err();
    let fields: Vec<String> = refused.into_iter().map(|f| f.field).collect();
    assert_eq!(
        fields,
        [
            "duty.time_s[3]",
            "duty.engine_speed_rad_s[2]",
            "duty.oil_temp_k[1]"
        ]
    );
}

#[test]
fn requests_conditions_and_maps_out_of_range_are_refused() {
    let model = plain();
    let (specimen, map) = (|| model.specimen.clone(), || model.map.clone());
    let mut wrong = request(&model.begin(), event());
    wrong.rates.pop();
    wrong.horizon_events = f64::INFINITY;
    let refused = RodBolt::forecast(specimen(), map(), wrong).unwrap_err();
    let fields: Vec<&str> = refused.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(fields, ["rates", "horizon_events"]);
    let mut broken = model.begin();
    broken[0] = f64::NAN;
    let refused = RodBolt::advance(specimen(), map(), broken, vec![]).unwrap_err();
    assert_eq!(refused[0].field, "condition.assembly_preload_n");
    let refused = RodBolt::advance(specimen(), vec![1.0; 5], model.begin(), vec![]).unwrap_err();
    assert_eq!(refused[0].field, "prepared");
    assert!(RodBolt::begin(specimen(), map(), vec![None; 3]).is_err());
}

/// Far off the map the answer stays finite and says so.
#[test]
fn extremes_are_answered_with_a_note() {
    let model = plain();
    let extreme = duty(&[(20_000.0, 4000.0, 600.0), (1.0, -900.0, 1.0)]);
    let condition = model
        .advance(&model.begin(), &vec![extreme.clone(); 50])
        .remove(49);
    let forecast = model.forecast(&condition, extreme);
    assert!(forecast.notes.iter().any(|note| note.field == "event"));
    for found in &forecast.mechanisms {
        assert!(found.lives_events.iter().all(|life| life.is_finite()));
        assert!((0.0..=1.0).contains(&found.risk_next_event));
    }
}
