//! Disc springs ([`belleville`]), and helical compression springs of round wire: statics, the wave along the wire, endurance, load loss, heat, and the weakest of a set.
//!
//! Left out: conical and beehive coils, oval wire, ends that come into contact as the spring closes, and the friction of a damper coil other than
//! as work that turns to heat.

pub mod belleville;
pub mod endurance;
pub mod heat;
mod helix;
mod relaxation;
mod set;
pub mod wire;

pub use helix::Spring;
pub use relaxation::{Relaxation, TimeLaw};
pub use set::MatchedSet;
