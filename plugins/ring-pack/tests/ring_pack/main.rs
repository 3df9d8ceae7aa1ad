//! Checks of the ring-pack model: laws that hold for any input, convergence, interpolation, lives over the default duty.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

mod bench;
mod laws;
mod lives;
mod map;
mod refusals;
mod scenario;
