//! Pistons: film under the skirt, motion of rings in their grooves, ageing of the alloy.

mod ageing;
mod ring_flight;
mod root;
mod skirt;
mod slider;

pub use ageing::{LarsonMiller, Softening};
pub use ring_flight::{RingInGroove, impacts_j};
pub use skirt::{SkirtFace, SkirtFilm};
pub use slider::{Slider, SliderLoad};

pub(crate) use root::falling_root;
