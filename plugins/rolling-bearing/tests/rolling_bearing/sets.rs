//! The sets that are tried.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_rolling_bearing::RollingBearing;
use ringland_trials::{driveline, with_all};

/// A specimen with its map.
pub type Prepared = ringland_trials::Prepared<RollingBearing>;

/// Numbers of both bearings, and others.
fn set(
    choices: [u32; 3],
    a: &[(&str, f64)],
    b: &[(&str, f64)],
    others: &[(&str, f64)],
) -> Specimen {
    let mut specimen = default_specimen(&RollingBearing::card());
    specimen.choices = choices.to_vec();
    let named = |name: &str, fields: &[(&str, f64)]| -> Vec<(String, f64)> {
        let full = |(field, value): &(&str, f64)| (format!("{name}_{field}"), *value);
        fields.iter().map(full).collect()
    };
    let numbers = [named("a", a), named("b", b)].concat();
    for (name, value) in &numbers {
        specimen = ringland_trials::with::<RollingBearing>(&specimen, name, *value);
    }
    with_all::<RollingBearing>(&specimen, others)
}

/// The card's default: deep groove balls on the shaft at engine speed, filtered oil.
pub fn shaft() -> Specimen {
    default_specimen(&RollingBearing::card())
}

/// Tapers of a hypoid pinion in splash, preloaded to about 1 N·m.
pub fn pinion() -> Specimen {
    let head = [
        ("rating_n", 98.0e3),
        ("static_rating_n", 112.0e3),
        ("fatigue_limit_n", 13.5e3),
        ("pitch_m", 0.062),
        ("element_m", 11.0e-3),
        ("elements", 16.0),
        ("contact_angle_rad", 0.35),
        ("roller_length_m", 18.0e-3),
    ];
    let tail = [
        ("rating_n", 72.0e3),
        ("static_rating_n", 76.0e3),
        ("fatigue_limit_n", 8.8e3),
        ("pitch_m", 0.053),
        ("element_m", 9.5e-3),
        ("elements", 16.0),
        ("contact_angle_rad", 0.30),
        ("roller_length_m", 15.0e-3),
    ];
    let others = [
        ("spread_m", 0.085),
        ("play_m", -10.0e-6),
        ("helix_angle_rad", 0.70),
        ("viscosity_40c_m2_s", 190.0e-6),
        ("viscosity_100c_m2_s", 24.0e-6),
        ("limiting_speed_rad_s", 840.0),
        ("impact_mass_kg", 5.0),
    ];
    set([2, 2, 1], &head, &tail, &others)
}

/// Angular contact balls of a wheel hub, greased.
pub fn hub() -> Specimen {
    let row = [
        ("rating_n", 40.0e3),
        ("static_rating_n", 36.0e3),
        ("fatigue_limit_n", 1.6e3),
        ("pitch_m", 0.064),
        ("element_m", 12.7e-3),
        ("elements", 13.0),
        ("contact_angle_rad", 0.61),
    ];
    let others = [
        ("spread_m", 0.085),
        ("play_m", -15.0e-6),
        ("viscosity_40c_m2_s", 100.0e-6),
        ("viscosity_100c_m2_s", 12.0e-6),
        ("cleanliness_code", 15.0),
        ("temp_rise_k", 70.0),
        ("limiting_speed_rad_s", 500.0),
        ("impact_mass_kg", 290.0),
    ];
    set([3, 1, 2], &row, &row, &others)
}

/// Raceways superfinished, as the shop's treatment leaves them (invented).
pub fn superfinished(specimen: &Specimen) -> Specimen {
    with_all::<RollingBearing>(
        specimen,
        &[("raceway.rq_m", 0.045e-6), ("element.rq_m", 0.03e-6)],
    )
}

/// With cleaner oil: two numbers of ISO 4406.
pub fn cleaner(specimen: &Specimen) -> Specimen {
    let code = ringland_trials::value::<RollingBearing>(specimen, "cleanliness_code");
    with_all::<RollingBearing>(specimen, &[("cleanliness_code", code - 2.0)])
}

fn kept(cell: &'static OnceLock<Prepared>, specimen: fn() -> Specimen) -> &'static Prepared {
    cell.get_or_init(|| Prepared::new(specimen()))
}

/// [`shaft`] with its map.
pub fn on_shaft() -> &'static Prepared {
    static CELL: OnceLock<Prepared> = OnceLock::new();
    kept(&CELL, shaft)
}

/// [`pinion`] with its map.
pub fn on_pinion() -> &'static Prepared {
    static CELL: OnceLock<Prepared> = OnceLock::new();
    kept(&CELL, pinion)
}

/// [`hub`] with its map.
pub fn on_hub() -> &'static Prepared {
    static CELL: OnceLock<Prepared> = OnceLock::new();
    kept(&CELL, hub)
}

/// All three.
pub fn all() -> [&'static Prepared; 3] {
    [on_shaft(), on_pinion(), on_hub()]
}

/// The default event.
pub fn event() -> Duty {
    driveline::event::<RollingBearing>()
}
