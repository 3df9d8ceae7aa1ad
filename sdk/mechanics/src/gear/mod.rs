//! Cylindrical gears: involute geometry, load, and the lives that pitting, tooth-root fatigue and
//! scuffing leave.
//!
//! The standards followed here (ISO 6336 and its parts) were not at hand: their formulas and
//! constants are written from memory and checked against what is published elsewhere, as each
//! test says. A bought copy comes before this code.

pub mod bending;
pub mod geometry;
pub mod life;
pub mod load;
pub mod path;
pub mod pitting;
pub mod scuffing;
