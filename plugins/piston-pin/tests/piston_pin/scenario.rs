//! Untreated and treated pins.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_piston_pin::PistonPin;
use ringland_trials::engine::{self, EVENT, Point};

/// A pin with its map.
pub type Prepared = ringland_trials::Prepared<PistonPin>;

/// Operating points, warm and clean.
pub fn duty(points: &[Point]) -> Duty {
    engine::duty::<PistonPin>(points)
}

pub fn event() -> Duty {
    engine::event::<PistonPin>()
}

/// The event with one channel held at a value.
pub fn event_with(channel: &str, value: f64) -> Duty {
    engine::record::<PistonPin>(&EVENT)
        .channel(channel, value)
        .duty()
}

pub fn untreated() -> Specimen {
    default_specimen(&PistonPin::card())
}

/// Pin superfinished and coated with hard carbon: Rq 0.10 to 0.05 µm, friction × 0.75, 2 µm of coating that wears a twentieth as fast as the pin,
/// bush wear coefficient × 0.6 against it: surface numbers only. The changes are assumed; they were not fitted to a life.
pub fn treated() -> Specimen {
    let mut specimen = untreated();
    specimen.surfaces[0].values = vec![0.05e-6, 0.09, 1.0e-19, 2.0e-6];
    specimen.surfaces[1].values[1] *= 0.6;
    specimen
}

/// A pin with its map, for forecasts of 400 events.
pub fn prepared(specimen: Specimen) -> Prepared {
    let prepared = Prepared::new(specimen).within(400.0);
    prepared.ahead(&[0.0, 1.0, 3.0, 8.0])
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(untreated()))
}

pub fn coated() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(treated()))
}
