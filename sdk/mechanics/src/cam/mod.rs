//! Plate cams: the lift curve over cam angle, a textbook lift law, and the contact of cam and follower.
//!
//! Angles are of the cam \[rad\], growing as it turns; lift is that of the follower along its own axis \[m\].
//! Derivatives are by cam angle \[m/rad\], \[m/rad²\]. The follower translates along a line through the cam's
//! axis: an offset, and the arc on which a finger follower swings, are left out.

mod contact;
mod error;
mod event_lift;
mod lift_curve;

pub use contact::{CamContact, Follower, contact};
pub use error::CamError;
pub use event_lift::EventLift;
pub use lift_curve::{Lift, LiftCurve};
