//! Taper joints: a ring on a cone under an axial force, as a spring retainer on its keepers.
//!
//! [`Cone`] has the wedge with friction, [`Ring`] the thick-walled hub about it, [`Roll`] how its section turns, [`MicroSlip`] what slides where when the force alternates and the
//! joint as a whole holds. [`Flange`] bends under the ring load of a spring, and [`EndCoil`] slides on it.

mod cone;
mod end_coil;
mod flange;
mod micro_slip;
mod ring;
mod roll;

pub use cone::Cone;
pub use end_coil::EndCoil;
pub use flange::Flange;
pub use micro_slip::{EndTraction, MicroSlip, SlipCycle};
pub use ring::{Ring, core_approach_m_pa};
pub use roll::{Band, Roll};
