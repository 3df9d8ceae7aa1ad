//! Rainflow counting of load histories: one pass, memory of the residue only.
//!
//! [`Rainflow`] is the three-point count of ASTM E1049-85 (2017) clause 5.4.4, [`FourPoint`] the
//! four-point count whose residue can be closed for a history that repeats. Both take the history
//! sample by sample, and their state can be stored and taken up again: a history fed in pieces gives
//! the same cycles, in the same order, as the history fed whole. [`RangeMeanHistogram`] gathers the
//! cycles in bounded memory.

mod four_point;
mod histogram;
mod rainflow;
mod reversals;

pub use four_point::{FourPoint, closed_residue};
pub use histogram::{CycleClass, RangeMeanHistogram};
pub use rainflow::{Rainflow, rainflow};
pub use reversals::NotFinite;

use serde::{Deserialize, Serialize};

/// A counted cycle, in the unit of the history.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cycle {
    /// Peak minus valley, at least 0.
    pub range: f64,
    /// Halfway between peak and valley.
    pub mean: f64,
    /// 1 for a full cycle, 0.5 for a half.
    pub count: f64,
}

impl Cycle {
    fn between(a: f64, b: f64, count: f64) -> Self {
        Self {
            range: (a - b).abs(),
            // Halved first: the sum of two large samples may overflow.
            mean: a / 2.0 + b / 2.0,
            count,
        }
    }
}
