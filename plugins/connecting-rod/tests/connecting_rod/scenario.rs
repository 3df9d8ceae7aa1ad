//! Untreated and peened rods.

use std::sync::OnceLock;

use ringland_mechanics::fatigue::ResidualProfile;
use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_connecting_rod::ConnectingRod;
use ringland_trials::engine::{self, Point};

/// A rod with its map.
pub type Prepared = ringland_trials::Prepared<ConnectingRod>;

/// Operating points without knock.
pub fn duty(points: &[Point]) -> Duty {
    engine::duty::<ConnectingRod>(points)
}

pub fn event() -> Duty {
    engine::event::<ConnectingRod>()
}

pub fn untreated() -> Specimen {
    default_specimen(&ConnectingRod::card())
}

/// Depths at which a peened surface is given \[m\].
pub fn depths() -> Vec<f64> {
    [
        0.0, 10.0, 25.0, 50.0, 75.0, 100.0, 130.0, 160.0, 200.0, 300.0, 1000.0, 3000.0,
    ]
    .map(|um: f64| 1.0e-6 * um)
    .to_vec()
}

/// Eye and shoulder peened: surface numbers only. −600 `MPa` at 50 µm and about −450 `MPa` at the surface, gone by 0.16 mm, balanced over 8 mm; Ra stays at
/// 1.6 µm. Bores, cap face, spot faces and threads are masked. Usual values of conventional peening (from memory); not fitted to a life.
pub fn treated() -> Specimen {
    let mut specimen = untreated();
    for surface in &mut specimen.surfaces[..2] {
        let peened = ResidualProfile::peened(-6.2e8, 4.5e-5, 1.1e-4, 8.0e-3, &depths()).unwrap();
        (surface.depth_m, surface.residual_stress_pa) = peened.columns();
    }
    specimen
}

/// A rod with its map, for forecasts of 2000 events.
pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen).within(2000.0)
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(untreated()))
}

pub fn peened() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(treated()))
}
