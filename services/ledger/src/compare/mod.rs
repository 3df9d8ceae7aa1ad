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
mod subject;
mod unit;
mod verdict;

pub(crate) use parts::alone;
