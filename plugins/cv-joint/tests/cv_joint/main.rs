//! Checks of the joint's model: published values, laws that hold for any input, lives over the default duty.
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
mod map;
mod physics;
mod published;
mod refusals;
mod scenario;
