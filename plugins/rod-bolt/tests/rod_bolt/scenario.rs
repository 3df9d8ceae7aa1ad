//! Bolts tightened by stretch and by torque.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_rod_bolt::RodBolt;
use ringland_plugin_rod_bolt::condition::Bolts;
use ringland_trials::engine::{self, EVENT, Point};
use ringland_trials::with_all;

/// Bolts with their map.
pub type Prepared = ringland_trials::Prepared<RodBolt>;

/// Operating points, warm.
pub fn duty(points: &[Point]) -> Duty {
    engine::record::<RodBolt>(points)
        .channel("oil_temp_k", 379.0)
        .duty()
}

pub fn event() -> Duty {
    duty(&EVENT)
}

/// The event with a missed shift: 0.3 s at a speed \[1/min\], the engine dragged.
pub fn with_missed_shift(rpm: f64) -> Duty {
    engine::with_over_rev::<RodBolt>(&event(), 0.3, rpm, -60.0)
}

pub fn stretched() -> Specimen {
    default_specimen(&RodBolt::card())
}

/// The default with some numbers changed.
pub fn changed(changes: &[(&str, f64)]) -> Specimen {
    with_all::<RodBolt>(&stretched(), changes)
}

/// Tightened by torque.
pub fn torqued() -> Specimen {
    let mut specimen = stretched();
    specimen.choices[0] = 1;
    specimen
}

pub fn bolts(prepared: &Prepared) -> Bolts<'_> {
    Bolts::new(&prepared.specimen, &prepared.map).unwrap()
}

/// Bolts whose median preload was measured \[N\].
pub fn begin_at(prepared: &Prepared, preload_n: f64) -> Vec<f64> {
    prepared.begin_with(&[("assembly_preload_n", preload_n)])
}

/// The map is that of the engine and the cap: other bolts use it too.
pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(stretched()))
}
