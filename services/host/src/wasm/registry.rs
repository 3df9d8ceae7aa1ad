//! The plugins that are loaded, and how bytes become one.

use super::{
    artifact_cache, card_checks, digests,
    limits::Call,
    sandbox::{Compiled, Sandbox},
    sealed_files::SealedFiles,
};
use crate::contract::{Card, Digest, ModelError, findings_text};
use std::{
    collections::BTreeMap,
    sync::{Arc, PoisonError, RwLock},
};
use wasmtime::component::{Component, ComponentExportIndex};

/// A loaded plugin.
pub(super) struct Plugin {
    pub(super) digest: Digest,
    pub(super) card: Arc<Card>,
    pub(super) compiled: Compiled,
    /// Component type and version, for errors.
    pub(super) name: String,
}

/// Loaded plugins by digest.
#[derive(Default)]
pub(super) struct Registry {
    plugins: RwLock<BTreeMap<Digest, Arc<Plugin>>>,
}

impl Registry {
    pub(super) fn get(&self, plugin: Digest) -> Result<Arc<Plugin>, ModelError> {
        let plugins = self.plugins.read().unwrap_or_else(PoisonError::into_inner);
        plugins
            .get(&plugin)
            .cloned()
            .ok_or(ModelError::Unknown(plugin))
    }

    pub(super) fn digests(&self) -> Vec<Digest> {
        let plugins = self.plugins.read().unwrap_or_else(PoisonError::into_inner);
        plugins.keys().copied().collect()
    }

    pub(super) fn load(
        &self,
        sandbox: &Sandbox,
        cache: &SealedFiles,
        bytes: &[u8],
    ) -> Result<Digest, ModelError> {
        let most = sandbox.limits.plugin_bytes;
        if bytes.len() > most {
            return Err(ModelError::NotAPlugin {
                reason: format!("it has {} bytes where {most} are allowed", bytes.len()),
                remedy: "build it for release and strip it, or raise `plugin_bytes`".into(),
            });
        }
        let digest = digests::of_bytes(bytes);
        if self.get(digest).is_ok() {
            return Ok(digest);
        }
        let plugin = Plugin::load(sandbox, cache, digest, bytes)?;
        let mut plugins = self.plugins.write().unwrap_or_else(PoisonError::into_inner);
        if plugins.len() >= sandbox.limits.plugins {
            return Err(ModelError::Host(format!(
                "{} plugins are loaded, as many as allowed; raise `plugins` or restart without the old ones",
                plugins.len()
            )));
        }
        tracing::info!(plugin = plugin.name, %digest, "plugin loaded");
        plugins.entry(digest).or_insert_with(|| Arc::new(plugin));
        Ok(digest)
    }
}

impl Plugin {
    fn load(
        sandbox: &Sandbox,
        cache: &SealedFiles,
        digest: Digest,
        bytes: &[u8],
    ) -> Result<Self, ModelError> {
        match bytes {
            [0, b'a', b's', b'm', 0x0d, 0, 1, 0, ..] => {}
            [0, b'a', b's', b'm', 1, 0, 0, 0, ..] => {
                return Err(not_a_plugin(
                    "it is a core WebAssembly module, not a component",
                ));
            }
            _ => return Err(not_a_plugin("it is no WebAssembly component")),
        }
        let component = artifact_cache::load_or_compile(&sandbox.engine, cache, digest, bytes)?;
        let interface = find_interface(sandbox, &component)?;
        let compiled = sandbox
            .link(&component, &interface)
            .map_err(|reason| not_a_plugin(&reason))?;
        let card: Card = sandbox
            .call(&compiled, "the plugin", Call::Card, ())
            .map_err(|error| ModelError::NotAPlugin {
                reason: error.to_string(),
                remedy: "mend its `card` function".into(),
            })?;
        let findings = card_checks::check_card(&card);
        if !findings.is_empty() {
            return Err(ModelError::NotAPlugin {
                reason: format!("its card is wrong: {}", findings_text(&findings)),
                remedy: "mend the card".into(),
            });
        }
        Ok(Self {
            digest,
            name: format!("{} {}", card.component_type, card.version),
            card: Arc::new(card),
            compiled,
        })
    }
}

/// Name of the contract's interface, up to its version.
const INTERFACE: &str = "ringland:plugin/model@";

/// Version of the contract that this host speaks; `sdk/wit` has the same.
const VERSION: &str = "1.0.0";

/// The export that holds the contract's functions in this host's version.
fn find_interface(
    sandbox: &Sandbox,
    component: &Component,
) -> Result<ComponentExportIndex, ModelError> {
    let wanted = format!("{INTERFACE}{VERSION}");
    if let Some(index) = component.get_export_index(None, &wanted) {
        return Ok(index);
    }
    let exported = component.component_type();
    let found = exported
        .exports(&sandbox.engine)
        .find_map(|(name, _)| name.strip_prefix(INTERFACE).map(str::to_owned));
    let found = found.map_or("none".to_owned(), |version| format!("version {version}"));
    Err(not_a_plugin(&format!(
        "this host speaks version {VERSION} of {INTERFACE}, the component exports {found}"
    )))
}

fn not_a_plugin(reason: &str) -> ModelError {
    ModelError::NotAPlugin {
        reason: reason.into(),
        remedy: format!(
            "build it against version {VERSION} of the contract in sdk/wit, as a component: `cargo build --release --target wasm32-wasip2`"
        ),
    }
}
