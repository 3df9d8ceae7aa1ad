//! Growth of cracks: stress intensity factors, thresholds, growth law.
//!
//! Linear elastic, one crack, constant amplitude. Leaves out closure, the effect of mean stress and overloads, short cracks (below
//! some tenths of a millimetre growth is faster than the long-crack law and the threshold is lower) and yielding of the ligament.
//!
//! ```
//! use ringland_mechanics::crack::{ParisLaw, critical_size_m};
//!
//! let steel = ParisLaw { rate_m: 6.9e-12, exponent: 3.0, threshold_pa_sqrt_m: 0.0 };
//! let (factor, range_pa) = (1.12, 200e6);
//! let last_m = critical_size_m(60e6, range_pa, factor);
//! let cycles = steel.cycles(range_pa, (1e-3, last_m), |_| factor);
//! assert!((cycles / 115_810.941 - 1.0).abs() < 1e-6);
//! ```

mod geometry;
mod growth;

pub use geometry::{SurfaceCrack, centre_crack, edge_crack};
pub use growth::{ParisLaw, critical_size_by_m, critical_size_m, threshold_size_m};
