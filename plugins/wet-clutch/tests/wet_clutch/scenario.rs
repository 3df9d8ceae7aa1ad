//! The pack and its events.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_wet_clutch::WetClutch;
use ringland_trials::{Record, driveline, with_all};

/// A prepared pack.
pub type Prepared = ringland_trials::Prepared<WetClutch>;

/// The card's defaults.
pub fn untreated() -> Specimen {
    default_specimen(&WetClutch::card())
}

/// Superfinished separators: by surface numbers alone.
pub const TREATED: [(&str, f64); 3] = [
    ("lining.boundary_friction", 0.126),
    ("lining.friction_slope_s_m", 0.004),
    ("separator.ra_m", 0.08e-6),
];

/// The card's defaults with superfinished separators.
pub fn treated() -> Specimen {
    let mut specimen = with_all::<WetClutch>(&untreated(), &TREATED);
    specimen.surfaces[1].ln_sd[0] = 0.35;
    specimen
}

/// [`untreated`], prepared once.
pub fn ground() -> &'static Prepared {
    static PREPARED: OnceLock<Prepared> = OnceLock::new();
    PREPARED.get_or_init(|| Prepared::new(untreated()))
}

/// [`treated`], prepared once.
pub fn superfinished() -> &'static Prepared {
    static PREPARED: OnceLock<Prepared> = OnceLock::new();
    PREPARED.get_or_init(|| Prepared::new(treated()))
}

/// The default event: 5 launches of 264 kJ, 6 pit exits of 40 kJ, 1360 shifts.
pub fn event() -> Duty {
    driveline::event::<WetClutch>()
}

/// A launch: from its start \[s\], with an energy \[J\].
pub const fn launch(start_s: f64, energy_j: f64) -> [f64; 5] {
    [start_s, 1.6, energy_j, 1.25 * energy_j, 550.0]
}

/// The default event with another number of launches, far apart.
pub fn with_launches(count: usize) -> Duty {
    let mut duty = event();
    duty.shocks[0].columns.iter_mut().for_each(Vec::clear);
    let rows: Vec<[f64; 5]> = (0..count)
        .map(|i| launch(50.0 + 900.0 * i as f64, 264.0e3))
        .collect();
    let rows: Vec<&[f64]> = rows.iter().map(<[f64; 5]>::as_slice).collect();
    Record::edit::<WetClutch>(&duty)
        .shocks("launch", &rows)
        .duty()
}

/// An hour at an operating point with some engagements.
pub fn hour(launches: &[[f64; 5]]) -> Duty {
    let rows: Vec<&[f64]> = launches.iter().map(<[f64; 5]>::as_slice).collect();
    Record::of::<WetClutch>(&[3600.0])
        .channel("engine_torque_n_m", 100.0)
        .shocks("launch", &rows)
        .duty()
}
