//! Trials of the cam and follower model.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod bench;
mod lives;
mod trains;
