//! The rules of the ledger, against a store in memory and plugins written in Rust.

// What a helper of a test cannot do fails the test; its arguments are for one use.
#![allow(clippy::unwrap_used, clippy::needless_pass_by_value)]

mod compare;
mod concurrency;
mod cost;
mod duty;
mod fake;
mod folding;
mod inspections;
mod laws;
mod mates;
mod models;
mod places;
mod plans;
mod prediction;
mod questions;
mod requests;
mod running_in;
mod shop;
mod treatments;
mod walk;
