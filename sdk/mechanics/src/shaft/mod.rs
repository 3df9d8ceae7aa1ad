//! Shafts: torsion and bending stress, shoulders, crank webs, torsional vibration.
//!
//! Stresses are elastic. Nominal stress is that of the bare section, local stress is nominal stress times a
//! stress-concentration factor. The torsional model is a chain of discs and shafts, solved for each harmonic of the exciting
//! torque as a complex linear system.

mod complex;
mod crank_web;
mod harmonics;
mod section;
mod shoulder;
mod torsional;

pub use complex::Complex;
pub use crank_web::{CrankWeb, WebFactors, forging_strength_pa};
pub use harmonics::{Harmonics, inertia_torque_coefficients};
pub use section::{
    TORSION_FATIGUE_RATIO, TORSION_FATIGUE_RATIO_VON_MISES, bending_stress_pa, polar_moment_m4,
    torsion_stress_pa, torsional_stiffness_n_m_rad, von_mises_pa,
};
pub use shoulder::{CHART_TOLERANCE, ShoulderLoad, shoulder_concentration};
pub use torsional::{Disc, Shaft, TorsionalChain};
