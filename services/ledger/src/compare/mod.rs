//! Comparisons: alternatives of one component on the same duty, and what moves the earliest limit of a unit.
//!
//! Alternatives of a component are drawn with one seed, so that the same index is the same drawn part in each and
//! their difference is that of the alternatives. Nothing is stored.

mod alternatives;
mod catalogue;
mod component;
mod cost;
mod earliest;
mod effects;
mod paired;
mod parts;
mod seating;
mod shuffle;
mod shuffled;
mod subject;
mod unit;
mod verdict;

pub(crate) use cost::Priced;
pub(crate) use earliest::Earliest;
pub(crate) use paired::{Range, mean, odds, quantiles_of};
pub(crate) use parts::alone;
pub(crate) use shuffled::Shuffled;
pub(crate) use unit::cautions_of;
pub(crate) use verdict::{between, bounds_text, events, limits_text, number};
