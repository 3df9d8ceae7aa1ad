//! Bare and coated shells, and the duty of a bearing.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_plain_bearing::PlainBearing;
use ringland_trials::engine::{self, EVENT, Point, rad_s};
use ringland_trials::{Record, with_all};

/// Shells with their map.
pub type Prepared = ringland_trials::Prepared<PlainBearing>;

/// A duty of operating points: oil at 110 °C, 4.9 bar, clean.
pub fn duty(points: &[Point]) -> Duty {
    let record = engine::record::<PlainBearing>(points).channel("oil_temp_k", 383.15);
    record.channel("oil_pressure_pa", 4.9e5).duty()
}

/// The default event: six starts, no dips.
pub fn event() -> Duty {
    let start: &[f64] = &[1.5, 350.0];
    let record = Record::edit::<PlainBearing>(&duty(&EVENT));
    record.shocks("start", &[start; 6]).duty()
}

/// The event with one channel held at a value.
pub fn with_channel(duty: &Duty, channel: &str, value: f64) -> Duty {
    let record = Record::edit::<PlainBearing>(duty);
    record.channel(channel, value).duty()
}

/// The event with dips of so many seconds to a pressure at an engine speed.
pub fn with_dips(count: usize, seconds: f64, pressure_pa: f64, rpm: f64) -> Duty {
    let dip: &[f64] = &[seconds, pressure_pa, rad_s(rpm)];
    let record = Record::edit::<PlainBearing>(&event());
    record.shocks("oil_pressure_dip", &vec![dip; count]).duty()
}

pub fn bare() -> Specimen {
    default_specimen(&PlainBearing::card())
}

/// The same shells with 10 µm of polymer coat, by surface numbers only: boundary friction × 0.6, wear coefficient × 0.7, coat 10 µm,
/// roughness and fatigue strength as they were. The changes are from memory of bench reports (friction −40 %; wear −65 % in start and
/// stop, −30 % over all); they were not fitted to a life.
pub fn coated() -> Specimen {
    let mut specimen = bare();
    let shell = &mut specimen.surfaces[0].values;
    shell[1] *= 0.6;
    shell[2] *= 0.7;
    shell[5] = 10.0e-6;
    specimen
}

/// A main bearing of the same engine: 54 mm, 20 mm.
pub fn main_bearing() -> Specimen {
    let changes = [
        ("journal_diameter_m", 0.054),
        ("film_width_m", 0.020),
        ("diametral_clearance_m", 60.0e-6),
    ];
    let mut specimen = with_all::<PlainBearing>(&bare(), &changes);
    specimen.choices[0] = 1;
    specimen
}

/// Shells with their map, for forecasts of 400 events.
pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen).within(400.0)
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(bare()))
}

pub fn polymer() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(coated()))
}

pub fn mains() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(main_bearing()))
}
