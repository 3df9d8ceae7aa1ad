//! A real server on a free port, called as any client would call it. The models are fakes whose
//! figures can be worked out by hand; data are invented.

// All of it is tests, the functions that set them up included; figures worked out by hand are exact.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp
)]

mod calls;
mod clients;
mod contract;
mod every_rpc;
mod fake;
mod process;
mod refusals;
mod setup;
mod tls;
mod uploads;
mod watching;
