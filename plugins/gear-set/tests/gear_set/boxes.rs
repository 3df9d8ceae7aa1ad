//! The boxes that are tried.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_gear_set::GearSet;
use ringland_trials::{driveline, with_all};

/// A box, prepared.
pub type Prepared = ringland_trials::Prepared<GearSet>;

/// The card's default: ground flanks, roots as carburised.
pub fn ground() -> Specimen {
    default_specimen(&GearSet::card())
}

/// Flanks superfinished on both members.
pub fn superfinished() -> Specimen {
    with_all::<GearSet>(
        &ground(),
        &[
            ("flank.ra_m", 0.08e-6),
            ("flank.wear_coefficient_m2_n", 1.5e-17),
        ],
    )
}

/// Depth and residual stress of a carburised root, shot-peened (invented).
pub const PEENED_ROOT: [(f64, f64); 7] = [
    (0.0, -5.5e8),
    (2.0e-5, -7.5e8),
    (4.0e-5, -8.5e8),
    (8.0e-5, -7.0e8),
    (1.4e-4, -4.0e8),
    (2.0e-4, -2.5e8),
    (5.0e-4, -2.0e8),
];

/// A box with its roots peened.
pub fn peened(specimen: &Specimen) -> Specimen {
    let mut peened = specimen.clone();
    let root = GearSet::card().surface_index("root").unwrap();
    peened.surfaces[root].depth_m = PEENED_ROOT.map(|node| node.0).to_vec();
    peened.surfaces[root].residual_stress_pa = PEENED_ROOT.map(|node| node.1).to_vec();
    peened
}

pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen).within(3000.0)
}

/// The default box.
pub fn plain() -> &'static Prepared {
    static PLAIN: OnceLock<Prepared> = OnceLock::new();
    PLAIN.get_or_init(|| prepared(ground()))
}

/// The default race event.
pub fn event() -> Duty {
    driveline::event::<GearSet>()
}
