//! How the ledger reaches plugins.

use super::{Card, Duty, Finding, Forecast, ForecastRequest, Specimen};
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr, sync::Arc};

/// SHA-256 of a plugin's bytes: its identity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Digest(pub [u8; 32]);

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl FromStr for Digest {
    type Err = String;

    /// Parses 64 hexadecimal digits.
    fn from_str(text: &str) -> Result<Self, String> {
        let refusal = || format!("{text:?} is not a digest: expected 64 hexadecimal digits");
        if text.len() != 64 || !text.is_ascii() {
            return Err(refusal());
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(text.as_bytes().chunks_exact(2)) {
            let pair = str::from_utf8(pair).map_err(|_| refusal())?;
            *byte = u8::from_str_radix(pair, 16).map_err(|_| refusal())?;
        }
        Ok(Self(bytes))
    }
}

/// A plugin's prepared table for one specimen, with the digest of what it was made from (plugin,
/// spec and surfaces).
#[derive(Clone, Debug)]
pub struct Prepared {
    /// Digest of plugin, spec and surfaces.
    pub digest: Digest,
    /// The table, in the plugin's own layout.
    pub table: Arc<Vec<f64>>,
}

/// Why a plugin gave no answer. It concerns the component asked about and nothing else.
#[derive(Debug, thiserror::Error)]
pub enum ModelError {
    /// No plugin with that digest is loaded.
    #[error(
        "no plugin with digest {0} is loaded; install it or choose one that `ringland model list` shows"
    )]
    Unknown(Digest),
    /// The bytes are not a plugin.
    #[error("not a plugin: {reason}; {remedy}")]
    NotAPlugin {
        /// What is wrong with them.
        reason: String,
        /// What to do.
        remedy: String,
    },
    /// The plugin refused its input.
    #[error("{plugin} refuses the {what}: {}", findings_text(.findings))]
    Refused {
        /// Component type and version.
        plugin: String,
        /// Which input.
        what: &'static str,
        /// Why.
        findings: Vec<Finding>,
    },
    /// The plugin trapped, ran out of time, memory or stack, or answered nonsense.
    #[error(
        "{plugin} failed in {call}: {reason}; the component has no prediction until the plugin is mended or another version is activated"
    )]
    Misbehaved {
        /// Component type and version.
        plugin: String,
        /// Which call.
        call: &'static str,
        /// What happened.
        reason: String,
    },
    /// The host itself could not do its work (disk, memory).
    #[error("plugin host: {0}")]
    Host(String),
}

/// Findings in one line for people.
pub(crate) fn findings_text(findings: &[Finding]) -> String {
    let lines: Vec<String> = findings
        .iter()
        .map(|f| {
            format!(
                "{} = {}: expected {}; {}",
                f.field, f.value, f.expected, f.remedy
            )
        })
        .collect();
    lines.join(" | ")
}

/// The plugins that are loaded. Calls block; run them off the network threads.
///
/// Every answer has been checked against the card: lengths, finite numbers, trends of the
/// condition, probabilities, ordered quantiles.
pub trait Models: Send + Sync {
    /// Loads a plugin (a WebAssembly component) and returns its digest. Loading twice is harmless.
    ///
    /// # Errors
    /// [`ModelError::NotAPlugin`] when the bytes are no component, want another version of the
    /// contract, or have a card that is wrong in itself.
    fn load(&self, bytes: &[u8]) -> Result<Digest, ModelError>;

    /// Digests of all loaded plugins, in order.
    fn loaded(&self) -> Vec<Digest>;

    /// The card of a loaded plugin.
    ///
    /// # Errors
    /// [`ModelError::Unknown`].
    fn card(&self, plugin: Digest) -> Result<Arc<Card>, ModelError>;

    /// Checks a spec: the host's checks against the card, then the plugin's own; all at once.
    ///
    /// # Errors
    /// Only when the plugin cannot answer; a bad spec is an `Ok` with findings.
    fn check(&self, plugin: Digest, specimen: &Specimen) -> Result<Vec<Finding>, ModelError>;

    /// The prepared table of a specimen, from the cache where it is there.
    ///
    /// # Errors
    /// [`ModelError::Refused`] for a bad spec, [`ModelError::Misbehaved`].
    fn prepare(&self, plugin: Digest, specimen: &Specimen) -> Result<Prepared, ModelError>;

    /// The condition of a new component (`opening` all `None`) or of a used one.
    ///
    /// # Errors
    /// As [`Models::prepare`].
    fn begin(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        opening: &[Option<f64>],
    ) -> Result<Vec<f64>, ModelError>;

    /// Adds duty records; returns the condition after each.
    ///
    /// # Errors
    /// As [`Models::prepare`].
    fn advance(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        condition: &[f64],
        duties: &[Duty],
    ) -> Result<Vec<Vec<f64>>, ModelError>;

    /// The condition after a shop operation (index into the card's operations).
    ///
    /// # Errors
    /// As [`Models::prepare`].
    fn rework(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        condition: &[f64],
        operation: u32,
    ) -> Result<Vec<f64>, ModelError>;

    /// Remaining life, readings and risk.
    ///
    /// # Errors
    /// As [`Models::prepare`].
    fn forecast(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        request: &ForecastRequest,
    ) -> Result<Forecast, ModelError>;
}
