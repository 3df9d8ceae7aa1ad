//! Pairs that the tests try, as ground and treated, prepared once.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_final_drive::FinalDrive;
use ringland_trials::{driveline, with_all};

/// A specimen with its map.
pub type Prepared = ringland_trials::Prepared<FinalDrive>;

/// The default event.
pub fn event() -> Duty {
    driveline::event::<FinalDrive>()
}

/// The card's hypoid pair.
pub fn hypoid() -> Specimen {
    default_specimen(&FinalDrive::card())
}

/// A spiral bevel pair of the same ring gear and teeth.
pub fn spiral_bevel() -> Specimen {
    with_all::<FinalDrive>(
        &hypoid(),
        &[("offset_m", 0.0), ("pinion_spiral_rad", 0.611)],
    )
}

/// Flanks superfinished.
pub fn superfinished(pair: &Specimen) -> Specimen {
    let changes = [
        ("pinion_flank.ra_m", 0.08e-6),
        ("ring_flank.ra_m", 0.08e-6),
        ("pinion_flank.boundary_friction", 0.068),
        ("ring_flank.boundary_friction", 0.068),
        ("pinion_flank.running_in_multiplier", 1.5),
        ("ring_flank.running_in_multiplier", 1.5),
        ("pinion_flank.asperity_radius_m", 5.0e-5),
        ("pinion_flank.asperity_density_per_m2", 7.0e9),
    ];
    with_all::<FinalDrive>(pair, &changes)
}

/// Flanks peened with fine particles, not polished.
pub fn fine_peened(pair: &Specimen) -> Specimen {
    let changes = [
        ("pinion_flank.boundary_friction", 0.064),
        ("ring_flank.boundary_friction", 0.064),
        ("pinion_flank.wear_coefficient_m2_n", 0.7 * wear(pair)),
        ("ring_flank.wear_coefficient_m2_n", 0.7 * wear(pair)),
    ];
    with_all::<FinalDrive>(pair, &changes)
}

fn wear(pair: &Specimen) -> f64 {
    ringland_trials::value::<FinalDrive>(pair, "pinion_flank.wear_coefficient_m2_n")
}

/// Roots shot peened.
pub fn peened(pair: &Specimen) -> Specimen {
    let mut specimen = with_all::<FinalDrive>(pair, &[("root.ra_m", 1.6e-6)]);
    specimen.surfaces[2].depth_m = PEENED.iter().map(|node| node.0).collect();
    specimen.surfaces[2].residual_stress_pa = PEENED.iter().map(|node| node.1).collect();
    specimen
}

/// Residual stress of a peened case over depth \[m, Pa\]: usual figures, from memory.
const PEENED: [(f64, f64); 6] = [
    (0.0, -4.5e8),
    (3.0e-5, -7.0e8),
    (6.0e-5, -8.0e8),
    (1.2e-4, -5.5e8),
    (2.0e-4, -3.0e8),
    (3.0e-4, -2.0e8),
];

/// The default pair, prepared once.
pub fn ground() -> &'static Prepared {
    static PAIR: OnceLock<Prepared> = OnceLock::new();
    PAIR.get_or_init(Prepared::default_spec)
}

/// Prepares another.
pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen)
}
