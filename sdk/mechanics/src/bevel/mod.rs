//! Spiral bevel and hypoid gears: pitch cones, the cylindrical gears that stand for them, sliding, contact and root stress.
//!
//! Shaft angle 90 degrees. Everything is at the middle of the face width, as in the ISO 10300 series; equations quoted from it are from
//! memory. Without offset a pair is a spiral bevel pair; without spiral too a straight one.
//!
//! Left out: machine settings and the flank's true form (mismatch, pattern), deflection of shafts and housing, tip and root relief but for
//! the load's fall towards the ends of the path, spacing errors, the limit pressure angle (both flanks are given by the effective angle
//! that they have against it), other shaft angles.

mod cylinders;
mod pitch;
mod root;
mod sliding;
mod stress;

pub use cylinders::{Cylinders, Teeth};
pub use pitch::{BevelPair, Blank};
pub use root::RootSection;
pub use sliding::{Path, Surfaces};
pub use stress::{ContactFactors, RootFactors, hypoid_factor};
