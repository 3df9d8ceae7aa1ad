//! Shafts: torsion and bending stress, shoulders, grooves, splines, torsion beyond yield, crank webs, torsional vibration.
//!
//! Stresses are elastic unless a function says otherwise. Nominal stress is that of the bare section, local stress is nominal stress times a
//! stress-concentration factor. The torsional model is a chain of discs and shafts, solved for each harmonic of the exciting
//! torque as a complex linear system.

mod complex;
mod crank_web;
mod groove;
mod grooved;
mod harmonics;
mod plastic_torsion;
mod section;
mod shoulder;
mod spline;
mod torsional;

pub use complex::Complex;
pub use crank_web::{CrankWeb, WebFactors, forging_strength_pa};
pub use groove::groove_concentration_torsion;
pub use grooved::{GroovedTorsion, grooved_torsion};
pub use harmonics::{Harmonics, inertia_torque_coefficients};
pub use plastic_torsion::{PlasticBar, notch_mean_pa, notch_set_pa};
pub use section::{
    TORSION_FATIGUE_RATIO, TORSION_FATIGUE_RATIO_VON_MISES, bending_stress_pa, polar_moment_m4,
    torsion_stress_pa, torsional_stiffness_n_m_rad, von_mises_pa,
};
pub use shoulder::{CHART_TOLERANCE, ShoulderLoad, shoulder_concentration};
pub use spline::{SPLINE_PRESSURE_ANGLE_RAD, Spline, TOOTH_STIFFNESS_N_M2};
pub use torsional::{Disc, Shaft, TorsionalChain};
