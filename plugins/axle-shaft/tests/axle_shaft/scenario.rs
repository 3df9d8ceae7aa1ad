//! The specimens and the event of the tests. Invented.

use std::sync::LazyLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_axle_shaft::AxleShaft;
use ringland_plugin_axle_shaft::constants as c;
use ringland_trials::{Prepared as Trial, driveline, with_all};

pub type Prepared = Trial<AxleShaft>;

/// Machined and hardened, as the card has it.
pub fn untreated() -> Specimen {
    default_specimen(&AxleShaft::card())
}

/// What shot peening all over, a dry film on the spline and a polish of the body do, as numbers of the surfaces.
pub const TREATED: [(&str, f64); 4] = [
    ("spline.ra_m", 1.0e-6),
    ("spline.boundary_friction", 0.12),
    ("spline.wear_coefficient_m2_n", 0.6 * c::SPLINE_WEAR_M2_N),
    ("body.ra_m", 0.3e-6),
];
/// Depths of the residual stress \[m\].
pub const DEPTH_M: [f64; 7] = [0.0, 2e-5, 5e-5, 1e-4, 1.5e-4, 2.2e-4, 1e-3];
/// Residual stress of shot peening \[Pa\].
pub const PEENED_PA: [f64; 7] = [-5.0e8, -6.0e8, -7.0e8, -5.0e8, -2.0e8, 0.1e8, 0.1e8];

/// Treated surfaces.
pub fn treated() -> Specimen {
    let mut specimen = with_all::<AxleShaft>(&untreated(), &TREATED);
    for surface in &mut specimen.surfaces {
        surface.depth_m = DEPTH_M.to_vec();
        surface.residual_stress_pa = PEENED_PA.to_vec();
    }
    specimen
}

/// The untreated shaft, prepared once.
pub fn bare() -> &'static Prepared {
    static BARE: LazyLock<Prepared> = LazyLock::new(|| Prepared::new(untreated()));
    &BARE
}

/// The treated shaft, prepared once.
pub fn peened() -> &'static Prepared {
    static PEENED: LazyLock<Prepared> = LazyLock::new(|| Prepared::new(treated()));
    &PEENED
}

pub fn event() -> Duty {
    driveline::event::<AxleShaft>()
}
