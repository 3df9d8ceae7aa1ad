//! Piston pins and small-end bushes: bending and ovalisation of the pin, squeeze film of the bush.

mod bush;
mod pin;

pub use bush::{Bush, BushCycle, BushFilmError, BushStep};
pub use pin::{Pin, thin_ring_cosine_m, thin_ring_opposite_points_m};
