//! Checks of the cylinder-bore model: laws that hold for any input, agreement with the ring pack's model, lives over the default duty.
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
mod refusals;
mod rings;
mod scenario;
mod valleys;
