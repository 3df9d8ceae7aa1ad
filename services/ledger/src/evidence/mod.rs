//! What the shop's own parts tell: how lives ended, how long like parts live, whether a treated group outlives
//! an untreated one, how often a unit needs a part. It never takes one engine for proof.

mod analysis;
mod chi_squared;
mod given;
mod groups;
mod lives;
mod replacements;
mod retire;

pub(crate) use retire::{refuse_retired, retirement_of};

/// Most lives, units or replacements in one call.
const MOST: usize = 5000;
