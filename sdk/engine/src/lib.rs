//! What the models of engine components share: the fields of the spec that describe the engine, the loads of its crank train
//! over the cycle, duty as blocks at operating points, and a map over operating points.
//!
//! A plugin puts [`numbers`] first on its card, reads them with [`Engine::read`], solves whatever it needs from
//! [`CycleLoads`] at each node of a [`MapGrid`] in `prepare`, and looks it up for each [`Block`] of a duty record.
//! Torque becomes indicated pressure with the friction of Chen and Flynn (SAE 650733).
//!
//! Leaves out: differences between cylinders, cycle-to-cycle scatter, torsional vibration of the crank.

mod blocks;
mod fields;
mod loads;
mod map;
pub mod rings;
pub mod valvetrain;

pub use blocks::{Block, bounds, channels, over_rev, points_and_over_revs};
pub use fields::{Engine, NUMBERS, OIL_NUMBERS, numbers, oil, oil_numbers};
pub use loads::{CycleLoads, CycleSolver, POINTS, PinForce};
pub use map::{MapGrid, OperatingMap, prepare};
