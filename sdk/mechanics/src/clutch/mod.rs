//! Friction clutches: torque of annular faces, energy of an engagement, and the heat that it makes in layered plates.
//!
//! Left out: waviness and cone of the faces while they slip, the flow of oil or air in grooves other than as a heat transfer coefficient.

pub mod heat;
pub mod judder;
pub mod torque;
pub mod wet;
