//! What the models of the parts of a cylinder head share: the fields of the spec that describe one valve with its train, its motion at a
//! speed with the forces on every part of it, and a map over engine speed and seat load. The motion is that of
//! `ringland_mechanics::valve_train`.
//!
//! A plugin puts [`numbers`] first on its card, [`follower`] as its first choice and [`lift`] as its first table, reads them with [`ValveTrain::read`], solves
//! whatever it needs from [`TrainCycle`] at each node of a [`SpeedGrid`] in `prepare`, and looks it up for each [`crate::Block`] of duty.
//!
//! Surge makes loads rise and fall with speed: nodes are close (0.75 % of the limiter's speed) and interpolation is linear.
//!
//! Leaves out: gas force on the head (an exhaust valve opens against cylinder pressure), differences between cylinders, torsion and bending of
//! the camshaft, modes of rocker and stem, hydraulic lash, nested springs.

mod cycle;
mod fields;
mod map;
#[cfg(test)]
mod tests;

pub use cycle::{FLOAT_LOFT_M, Instant, TrainCycle, TrainSolver};
pub use fields::{FLAT, NUMBERS, ROLLER, SLIDER, ValveTrain, follower, lift, numbers};
pub use map::{LOAD_SHARES, SpeedGrid, SpeedMap, prepare};
