//! Helical compression springs of round wire: statics, the wave along the wire, endurance, load loss, heat, and the weakest of a set.
//!
//! Left out: conical and beehive coils, oval wire, ends that come into contact as the spring closes, and the friction of a damper coil other than
//! as a share of the work .

mod helix;

pub use helix::Spring;
