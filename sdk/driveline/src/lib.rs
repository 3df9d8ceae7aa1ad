//! What the models of driveline components share: what they read of duty, by name, with the defaults of a warm car.
//!
//! A plugin puts [`required`] and [`optional`] channels, [`launch`], [`clutch_engagement`], [`shift`], [`impact`] and
//! [`AXLE_TORQUE_CYCLES`] on its card as it needs them, and takes a record apart with [`read`].
//!
//! The energy of a slipping clutch is in its shocks, never in the operating points: mean slip times mean torque is not the
//! mean of their product. Slip across the differential is signed and an operating point holds one sign of it.

mod block;
mod needs;
mod shocks;
mod usage;

pub use block::Block;
pub use needs::{
    AXLE_TORQUE_CYCLES, bounds, clutch_engagement, impact, launch, optional, required, shift,
};
pub use shocks::{Engagement, Impact, Shift};
pub use usage::{TorqueCycle, Use, read};
