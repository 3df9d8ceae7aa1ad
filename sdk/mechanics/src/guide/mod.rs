//! A valve stem in its guide: forces at both ends, oil, wear of both partners, the bell-mouth it makes, temperature, hot clearance, galling.
//!
//! # The contact law that guide and stem share
//!
//! The stem tilts within the clearance and touches the guide at its two ends. For each step of the cam revolution
//!
//! 1. [`press`] gives the force of the stem on the guide at `top` (the spring's side) and `bottom` (the port's side) by equilibrium of
//!    moments, with the overhang of the tip at that lift. A force is positive towards the side to which a positive side force pushes.
//! 2. [`SlideDose::add`] adds force times sliding distance (the step's change of lift) \[N·m\], apart for each end and each side of the bore.
//! 3. The dose of a cycle, times cycles, times the asperity share of that end ([`Oil::asperity_share`]), times the specific wear
//!    coefficient of a partner \[m²/N\] is the volume that this partner loses there \[m³\] ([`worn_m3`]).
//!
//! Guide and stem see the same dose and the same asperity share; each has its own wear coefficient. The guide does not turn: it keeps the
//! dose of each side apart and wears into a bell-mouth ([`BellMouth`]). The stem turns a little with every lift, so its dose at an end is
//! that of both sides together ([`SlideDose::top_n_m`], [`SlideDose::bottom_n_m`]) and its volume comes off all round, over the stroke
//! and the length that bears ([`stem_loss_m`]).
//!
//! What it leaves out: bending of the stem, side force of the exhaust gas on the head, contact along the guide between its ends, the seat's
//! grip near closing, debris. The forces are those of the guide as built: a bell-mouth moves the contact inward, which raises them by up to 15 %.

mod bell_mouth;
mod fit;
mod galling;
mod oil;
mod press;
mod stem_heat;

pub use bell_mouth::{BellMouth, WornDepths, WornVolumes};
pub use fit::{PressedGuide, Solid};
pub use galling::GallingPair;
pub use oil::Oil;
pub use press::{EndForces, SlideDose, press, stem_loss_m, worn_m3};
pub use stem_heat::{HeatPath, StemHeat, guide_conductance_w_m2_k};
