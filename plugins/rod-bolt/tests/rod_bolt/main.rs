//! Checks of the rod-bolt model: laws that hold for any input, loads, convergence, lives over preload, refusals.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::float_cmp,
    reason = "tests: they print what the README quotes, and compare bits"
)]

mod bench;
mod laws;
mod lives;
mod loads;
mod published;
mod refusals;
mod scenario;
