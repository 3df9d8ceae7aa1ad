//! The rules of the ledger, against a store in memory and plugins written in Rust.

mod concurrency;
mod cost;
mod duty;
mod fake;
mod folding;
mod laws;
mod mates;
mod models;
mod places;
mod prediction;
mod requests;
mod shop;
mod walk;
