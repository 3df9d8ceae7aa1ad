//! Plugins: the contract that they meet, and the sandbox that runs them.
//!
//! This crate knows WebAssembly, limits and digests. It never knows units, builds, duty logs on
//! disk, gRPC or sled. Without the feature `wasm` it is the contract alone: plain types and the
//! [`Models`](contract::Models) trait, which is all that the ledger sees.

pub mod contract;
#[cfg(feature = "wasm")]
mod wasm;

#[cfg(feature = "wasm")]
pub use wasm::{Limits, WasmModels};
