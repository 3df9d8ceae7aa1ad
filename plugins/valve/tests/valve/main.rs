//! Checks of the valve model.
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
mod motion;
mod published;
mod refusals;
mod scenario;
