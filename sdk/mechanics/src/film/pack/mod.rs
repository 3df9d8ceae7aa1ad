//! The rings of one cylinder: gas past them and the film under each over the cycle, and what their contact does to both
//! sides of it.
//!
//! One solution serves ring and bore. Asperity load times sliding distance is the dose of a surface: averaged over the width of
//! a face it wears the face ([`RingCycle::dose_pa_m`]), laid along the bore where it happened it wears the bore
//! ([`StrokeContact`]). Both have the same integral, so worn volumes are as the wear coefficients.

mod solve;
mod spec;
mod stroke;
mod unsolved;
mod wear_law;

pub use solve::{GasSide, Grid, Pack, RingCycle, Running};
pub use spec::{
    BoreFinish, CROWN_LOSS, FLANK_AREA_M2, FORM_DEPTH_M, FilmTemperature, NOMINAL_COOLANT_K,
    NOMINAL_OIL_K, OIL_SHARE, PEAK_SHARE, PEAK_VARIANCE, PackSpec, RISE_EXPONENT, Ring,
    UNSEATED_AREA_M2,
};
pub use stroke::StrokeContact;
pub use unsolved::Unsolved;
pub use wear_law::{POWERS, STATE_OF, STATES, StateRate};
