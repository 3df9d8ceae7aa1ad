//! Fatigue: S-N lines with mean stress, notches, residual stress over depth, damage sums, defects, strain life.
//!
//! Stresses are amplitudes of local or nominal stress \[Pa\], as the line they are compared with. Sources are named
//! at each function; what was quoted from memory says so.

pub mod damage;
pub mod defect;
pub mod marin;
pub mod mean_stress;
pub mod near_surface;
pub mod notch;
pub mod residual_stress;
pub mod sn_line;
pub mod strain_life;

pub use near_surface::{NearSurface, Utilisation};
pub use residual_stress::{CyclicRelaxation, ResidualProfile};
pub use sn_line::{BelowKnee, SnLine};
pub use strain_life::{CyclicCurve, StrainLife};
