//! Checks of the limited-slip differential: published values, laws that hold for any input, convergence, lives over the default duty.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::float_cmp,
    reason = "tests: they print what the README quotes, and compare bits"
)]

mod bench;
mod differentials;
mod laws;
mod lives;
mod map;
mod physics;
mod published;
mod refusals;
