//! The specimens and the event of the tests. Invented.

use std::sync::LazyLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_cv_joint::CvJoint;
use ringland_plugin_cv_joint::constants as c;
use ringland_trials::{Prepared as Trial, driveline, with_all};

pub type Prepared = Trial<CvJoint>;

/// Ground tracks, as the card has it.
pub fn untreated() -> Specimen {
    default_specimen(&CvJoint::card())
}

/// What isotropic superfinishing of the tracks does, as numbers of the surface.
pub const TREATED: [(&str, f64); 3] = [
    ("track.ra_m", 0.08e-6),
    ("track.boundary_friction", 0.058),
    ("track.wear_coefficient_m2_n", 0.5 * c::TRACK_WEAR_M2_N),
];

/// Treated surfaces.
pub fn treated() -> Specimen {
    with_all::<CvJoint>(&untreated(), &TREATED)
}

/// The untreated joint, prepared once.
pub fn bare() -> &'static Prepared {
    static BARE: LazyLock<Prepared> = LazyLock::new(|| Prepared::new(untreated()));
    &BARE
}

/// The treated joint, prepared once.
pub fn smooth() -> &'static Prepared {
    static SMOOTH: LazyLock<Prepared> = LazyLock::new(|| Prepared::new(treated()));
    &SMOOTH
}

pub fn event() -> Duty {
    driveline::event::<CvJoint>()
}
