//! The sandbox: [`WasmModels`] runs plugins as WebAssembly components.
//!
//! What may a plugin touch? Its own memory, up to [`Limits::memory_bytes`]. Every import is met by
//! a trap that names it, so there is no clock, file, network, environment or entropy to reach.
//! Each call gets a fresh instance, a deadline, a stack and a bound on what it may return, and what
//! it returns is checked before anyone sees it.

mod artifact_cache;
mod card_checks;
mod digests;
mod engine;
mod forecast_checks;
mod input_checks;
mod limits;
mod prepared_cache;
mod registry;
mod result_checks;
mod sandbox;
mod sealed_files;
mod slots;
mod wasm_models;

pub use limits::Limits;
pub use wasm_models::WasmModels;
