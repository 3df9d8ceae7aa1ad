//! Each shared law holds for a sound model, and fails on one that breaks it.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::float_cmp,
    reason = "tests of figures worked out by hand"
)]

mod accumulation;
mod card;
mod duties;
mod forecasts;
mod refusals;
mod specs;
mod wheel;
