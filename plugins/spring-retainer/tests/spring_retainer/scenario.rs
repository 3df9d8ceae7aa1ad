//! The specimens and the event of the tests. Invented.

use std::sync::LazyLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_spring_retainer::SpringRetainer;
use ringland_plugin_spring_retainer::constants as c;
use ringland_trials::engine::{self, Point};
use ringland_trials::{Prepared as Trial, with_all};

pub type Prepared = Trial<SpringRetainer>;

/// Bare titanium, as the card has it.
pub fn untreated() -> Specimen {
    default_specimen(&SpringRetainer::card())
}

/// What fine-particle peening does to taper and spring seat, nitriding to the keepers, shot peening to the flange, as numbers of the surfaces.
pub const TREATED: [(&str, f64); 5] = [
    ("taper.boundary_friction", 0.102),
    ("taper.wear_coefficient_m2_n", 0.6 * c::TAPER_WEAR_M2_N),
    (
        "keeper.wear_coefficient_m2_n",
        0.5 * c::KEEPER_SHARE * c::TAPER_WEAR_M2_N,
    ),
    ("spring_seat.boundary_friction", 0.102),
    ("spring_seat.wear_coefficient_m2_n", 0.6 * c::SEAT_WEAR_M2_N),
];

/// Treated surfaces.
pub fn treated() -> Specimen {
    let mut specimen = with_all::<SpringRetainer>(&untreated(), &TREATED);
    let body = &mut specimen.surfaces[3];
    body.depth_m = vec![0.0, 2e-5, 5e-5, 1e-4, 1.5e-4, 2e-4, 1e-3];
    body.residual_stress_pa = vec![-3.5e8, -4.5e8, -5.0e8, -2.5e8, -6.0e7, 6.0e6, 6.0e6];
    specimen
}

/// The untreated retainer, solved once.
pub fn bare() -> &'static Prepared {
    static BARE: LazyLock<Prepared> = LazyLock::new(|| Prepared::new(untreated()));
    &BARE
}

/// The treated retainer, solved once.
pub fn peened() -> &'static Prepared {
    static PEENED: LazyLock<Prepared> = LazyLock::new(|| Prepared::new(treated()));
    &PEENED
}

pub fn duty(points: &[Point]) -> Duty {
    engine::duty::<SpringRetainer>(points)
}

pub fn event() -> Duty {
    engine::event::<SpringRetainer>()
}
