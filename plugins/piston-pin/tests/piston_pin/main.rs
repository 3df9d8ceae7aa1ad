//! Checks of the piston-pin model.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    clippy::print_stdout,
    missing_docs
)]

mod bench;
mod laws;
mod lives;
mod map;
mod published;
mod refusals;
mod scenario;
