//! Rolling bearings: rated life with its modifying factors, lubrication, contamination, loads, and the load of each rolling element.
//!
//! ISO 281:2007 (dynamic ratings and rating life), ISO 76 (static ratings), and the load distribution of ISO/TS 16281 without tilt and
//! without roller profile. All factors and formulas of these standards are from memory.

pub mod contamination;
pub mod distribution;
pub mod life;
pub mod loads;
pub mod lubrication;
pub mod row;

pub use contamination::{Cleaning, contamination_factor};
pub use distribution::{Reaction, pair, single};
pub use life::{Kind, LifeModification, a_iso, a1, basic_life_revs, spectrum_load_n, system_life};
pub use lubrication::{Walther, reference_viscosity_m2_s, smoothed_kappa};
pub use row::{Elements, Loading, Row};
