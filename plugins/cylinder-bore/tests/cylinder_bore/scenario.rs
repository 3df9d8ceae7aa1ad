//! Untreated and treated bores.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_trials::engine::{self, Point};

/// A bore with its map.
pub type Prepared = ringland_trials::Prepared<CylinderBore>;

/// Operating points, warm and clean, under new rings.
pub fn duty(points: &[Point]) -> Duty {
    engine::duty::<CylinderBore>(points)
}

pub fn event() -> Duty {
    engine::event::<CylinderBore>()
}

pub fn untreated() -> Specimen {
    default_specimen(&CylinderBore::card())
}

/// Plateau-honed bore in a stress-relieved casting, faces peened with fine particles and dry lubricant: surface numbers and the casting's
/// shift only, the surfaces as in the ring pack's treated set. Assumed; chosen there among trials, not here.
pub fn treated() -> Specimen {
    let mut specimen = untreated();
    for face in &mut specimen.surfaces[..3] {
        face.values[1] *= 0.8;
        face.values[2] *= 0.7;
    }
    let bore = &mut specimen.surfaces[3];
    (bore.values[0], bore.values[1], bore.values[5]) = (0.19e-6, 0.15e-6, 5.1e9);
    let shift = CylinderBore::card().number_index("shift_m").unwrap();
    specimen.numbers[shift] = 1.0e-5;
    specimen
}

/// A bore with its map, for forecasts of 200 events.
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
