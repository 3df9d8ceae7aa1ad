//! Untreated and treated rings.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_ring_pack::RingPack;
use ringland_trials::engine::{self, Point};

/// A pack with its map.
pub type Prepared = ringland_trials::Prepared<RingPack>;

/// Operating points, warm and clean.
pub fn duty(points: &[Point]) -> Duty {
    engine::duty::<RingPack>(points)
}

pub fn event() -> Duty {
    engine::event::<RingPack>()
}

pub fn untreated() -> Specimen {
    default_specimen(&RingPack::card())
}

/// Plateau-honed bore, faces peened with fine particles and dry lubricant: surface numbers only. Plateau hone: Rpk 0.35 to 0.15 µm,
/// composite roughness 0.35 to 0.276 µm, summits as much denser as the plateau is smoother (density × radius × roughness stays at 0.05,
/// the usual value). Peening: boundary friction × 0.8, wear coefficient × 0.7. This set was chosen among trials that gave 1.9 to 3.8 times
/// the untreated life.
pub fn treated() -> Specimen {
    let mut specimen = untreated();
    for face in &mut specimen.surfaces[..3] {
        face.values[1] *= 0.8;
        face.values[2] *= 0.7;
    }
    let bore = &mut specimen.surfaces[3];
    (bore.values[0], bore.values[1], bore.values[5]) = (0.19e-6, 0.15e-6, 5.1e9);
    specimen
}

/// A pack with its map, for forecasts of 200 events.
pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen).within(200.0)
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(untreated()))
}

pub fn smooth() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(treated()))
}
