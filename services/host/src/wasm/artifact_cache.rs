//! Plugins compiled ahead of time: compiling one takes seconds, loading the result about a
//! millisecond.
#![allow(
    unsafe_code,
    reason = "loading compiled code is unsafe by nature; see `load`"
)]

use super::sealed_files::SealedFiles;
use crate::contract::{Digest, ModelError};
use wasmtime::{Engine, component::Component};

/// A component from its compiled form in the cache, or compiled now and kept.
///
/// # Errors
/// The compiler's refusal of bytes that are no valid component.
pub(super) fn load_or_compile(
    engine: &Engine,
    cache: &SealedFiles,
    plugin: Digest,
    bytes: &[u8],
) -> Result<Component, ModelError> {
    if let Some(component) = cache.read(plugin).and_then(|code| load(engine, &code)) {
        return Ok(component);
    }
    let code = engine
        .precompile_component(bytes)
        .map_err(|error| ModelError::NotAPlugin {
            reason: format!("it does not compile: {error:#}"),
            remedy: "build it for wasm32-wasip2, or turn a core module into a component".into(),
        })?;
    cache.write(plugin, &code);
    load(engine, &code)
        .ok_or_else(|| ModelError::Host(format!("plugin {plugin} does not load once compiled")))
}

/// Loads compiled code; `None` when it was made by another version or for another configuration.
fn load(engine: &Engine, code: &[u8]) -> Option<Component> {
    // SAFETY: `deserialize` asks for bytes that `precompile_component` made. These come from it
    // directly, or from a file in a folder that only this service's user can write to, whose
    // seal (SHA-256 over the plugin's digest and the code) matched: damage by accident is found
    // by the seal, and who can forge the seal is already this user.
    let loaded = unsafe { Component::deserialize(engine, code) };
    loaded
        .inspect_err(|error| tracing::info!(%error, "a compiled plugin is made again"))
        .ok()
}
