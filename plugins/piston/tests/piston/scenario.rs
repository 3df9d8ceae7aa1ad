//! Untreated and treated pistons.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_piston::Piston;
use ringland_trials::engine::{self, EVENT, Point};

/// A piston with its map.
pub type Prepared = ringland_trials::Prepared<Piston>;

/// Operating points, warm and clean.
pub fn duty(points: &[Point]) -> Duty {
    engine::duty::<Piston>(points)
}

pub fn event() -> Duty {
    engine::event::<Piston>()
}

/// The event with one channel held at a value.
pub fn event_with(channel: &str, value: f64) -> Duty {
    engine::record::<Piston>(&EVENT)
        .channel(channel, value)
        .duty()
}

pub fn untreated() -> Specimen {
    default_specimen(&Piston::card())
}

/// Flanks peened with fine particles and dry lubricant (wear coefficient × 0.7, Rpk halved), skirt with a dry-film coat, 12 µm as
/// applied and 6 µm once bedded in: surface numbers only. The changes are assumed; they were not fitted to a life.
pub fn treated() -> Specimen {
    let mut specimen = untreated();
    specimen.surfaces[0].values[0] *= 0.7;
    specimen.surfaces[0].values[1] *= 0.5;
    specimen.surfaces[1].values[0] *= 0.7;
    specimen.surfaces[3].values[0] = 6.0e-6;
    specimen
}

/// A piston with its map, for forecasts of 400 events.
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
