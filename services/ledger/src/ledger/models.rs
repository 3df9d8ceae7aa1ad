//! Installed plugins and which of them is active.

use super::{
    Ledger,
    specimen::specimen_of,
    txn::{Call, Txn},
};
use crate::{
    ActivateModelResponse, Change, FieldViolation, LedgerError, Model, ModelName, Page,
    PageRequest, Reason, keys, page::Cursor, rows,
};
use jiff::Timestamp;
use ringland_host::contract::{Card, Digest, ModelError, Severity};
use ringland_store::Table;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// What is kept of a plugin beside its bytes.
#[derive(Clone, Debug, Serialize, Deserialize)]
struct PluginRow {
    component_type: String,
    version: String,
    label: String,
    install_time: Timestamp,
    size_bytes: u64,
}

/// One line of the activation log.
#[derive(Clone, Debug, Serialize, Deserialize)]
struct Activation {
    digest: Digest,
    time: Timestamp,
    number: u64,
}

/// Components looked at before an activation is answered.
const MOST_CHECKED: usize = 1000;
/// Refusals named in the answer.
const MOST_WARNINGS: usize = 20;

fn bytes_key(digest: Digest) -> Vec<u8> {
    keys::with(&["b"], &digest.0)
}

fn plugin_key(digest: Digest) -> Vec<u8> {
    keys::with(&["m"], &digest.0)
}

impl Ledger {
    /// Installs a plugin from its bytes. It is inspected but not activated, not even when it is the
    /// first of its type. Installing the same bytes again changes nothing.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] when the bytes are no plugin,
    /// [`LedgerError::ResourceExhausted`], and the store's.
    pub fn install_model(&self, bytes: &[u8]) -> Result<Model, LedgerError> {
        let exhausted = |what: &str, value: usize, limit: usize, remedy: &str| {
            Err(LedgerError::ResourceExhausted {
                what: what.into(),
                value: value as u64,
                limit: limit as u64,
                remedy: remedy.into(),
            })
        };
        let (size, limit) = (bytes.len(), self.options.max_plugin_bytes);
        if size > limit {
            return exhausted(
                "plugin in bytes",
                size,
                limit,
                "build it for release and strip it",
            );
        }
        let digest =
            self.models.load(bytes).map_err(|error| match error {
                ModelError::NotAPlugin { reason, remedy } => LedgerError::invalid(
                    FieldViolation::new("chunk", &reason, "a plugin of this contract", &remedy),
                ),
                error => LedgerError::of_model("plugin", error),
            })?;
        let card = self.card(digest)?;
        let known = self.plugins()?;
        let of_type = known
            .iter()
            .filter(|(d, row)| *d != digest && row.component_type == card.component_type);
        let (count, limit) = (of_type.count() + 1, self.options.max_models_per_type);
        if count > limit {
            return exhausted("models of one type", count, limit, "use those there are");
        }
        let call = Call::new("install_model", "", &())?;
        let ((), _) = self.change(&call, |txn| {
            if txn
                .read_bytes(Table::Plugins, &plugin_key(digest))?
                .is_none()
            {
                let row = PluginRow {
                    component_type: card.component_type.clone(),
                    version: card.version.clone(),
                    label: card.label.clone(),
                    install_time: self.now(),
                    size_bytes: size as u64,
                };
                txn.put_bytes(Table::Plugins, bytes_key(digest), bytes.to_vec());
                txn.put(Table::Plugins, plugin_key(digest), &row)?;
            }
            Ok(())
        })?;
        self.get_model(ModelName(digest))
    }

    /// Reads a model with its card.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when it no longer loads, and
    /// the store's.
    pub fn get_model(&self, name: ModelName) -> Result<Model, LedgerError> {
        let row = self.plugin_row(name)?;
        let model = self.model_of(name.0, row)?;
        Ok(Model {
            card: Some(self.card(name.0)?),
            ..model
        })
    }

    /// Lists installed models in the order of type and version; only of one type, unless that is
    /// empty.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, and the store's.
    pub fn list_models(
        &self,
        component_type: &str,
        page: &PageRequest,
    ) -> Result<Page<Model>, LedgerError> {
        let cursor = Cursor::new(page, &["models", component_type])?;
        let mut rows = self.plugins()?;
        rows.retain(|(_, row)| component_type.is_empty() || row.component_type == component_type);
        let mut sorted: Vec<_> = rows
            .into_iter()
            .map(|(digest, row)| {
                let version = version_key(&row.version);
                let mut key = keys::with(&[&row.component_type], &version);
                key.extend_from_slice(&digest.0);
                (key, digest, row)
            })
            .collect();
        sorted.sort_by(|a, b| a.0.cmp(&b.0));
        let mut items = Vec::new();
        for (key, digest, row) in sorted {
            if items.len() <= cursor.size && cursor.after.as_ref().is_none_or(|after| key > *after)
            {
                items.push((key, self.model_of(digest, row)?));
            }
        }
        Ok(cursor.page(items))
    }

    /// Makes a model the active one of its type. Activating an older one is the way back. Components
    /// whose spec it refuses are named in the answer; they do not hold up the others.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when it no longer loads, and
    /// the store's.
    pub fn activate_model(
        &self,
        name: ModelName,
        request_id: &str,
    ) -> Result<ActivateModelResponse, LedgerError> {
        let row = self.plugin_row(name)?;
        let card = self.card(name.0)?;
        let call = Call::new("activate_model", request_id, &name)?;
        let ((), replayed) = self.change(&call, |txn| {
            self.log_activation(txn, &row.component_type, name.0)
        })?;
        if !replayed {
            (self.options.on_change)(Change::ComponentType(row.component_type.clone()));
        }
        Ok(ActivateModelResponse {
            warnings: self.refused_components(name.0, &card)?,
            model: Model {
                card: Some(card),
                ..self.model_of(name.0, row)?
            },
        })
    }

    fn log_activation(
        &self,
        txn: &mut Txn<'_>,
        component_type: &str,
        digest: Digest,
    ) -> Result<(), LedgerError> {
        let prefix = keys::prefix(&[component_type]);
        let last = self.store.last(Table::Activations, &prefix, None)?;
        let last: Option<Activation> = last.map(|(_, row)| rows::decode(&row)).transpose()?;
        if last.as_ref().is_some_and(|last| last.digest == digest) {
            return Ok(());
        }
        let number = last.map_or(1, |last| last.number + 1);
        let key = keys::with(&[component_type], &number.to_be_bytes());
        txn.expect(Table::Activations, &key, None);
        txn.put(
            Table::Activations,
            key,
            &Activation {
                digest,
                time: self.now(),
                number,
            },
        )
    }

    /// The active model of a type.
    pub(crate) fn active(&self, component_type: &str) -> Result<Option<Digest>, LedgerError> {
        let prefix = keys::prefix(&[component_type]);
        let last = self.store.last(Table::Activations, &prefix, None)?;
        let last: Option<Activation> = last.map(|(_, row)| rows::decode(&row)).transpose()?;
        Ok(last.map(|last| last.digest))
    }

    /// The active model of a type that must have one, loaded.
    pub(crate) fn require_active(&self, component_type: &str) -> Result<Digest, LedgerError> {
        let active = if component_type.contains('\0') {
            None
        } else {
            self.active(component_type)?
        };
        let digest = active.ok_or_else(|| {
            LedgerError::precondition(
                Reason::ModelNotActive,
                component_type,
                format!(
                    "component type {component_type:?} has no active model; install and activate one, or correct the type"
                ),
            )
        })?;
        self.card(digest)?;
        Ok(digest)
    }

    /// The card of an installed model. One that another server installed is loaded on first use.
    pub(crate) fn card(&self, digest: Digest) -> Result<Arc<Card>, LedgerError> {
        let failed = |error| LedgerError::of_model(ModelName(digest), error);
        match self.models.card(digest) {
            Err(ModelError::Unknown(_)) => {}
            card => return card.map_err(failed),
        }
        let bytes = self.store.get(Table::Plugins, &bytes_key(digest))?;
        let bytes = bytes.ok_or_else(|| LedgerError::not_found("model", ModelName(digest)))?;
        self.models.load(&bytes).map_err(failed)?;
        self.models.card(digest).map_err(failed)
    }

    /// Whether some installed model of one type reads the condition of another type.
    pub(crate) fn some_model_reads(&self, reader: &str, read: &str) -> Result<bool, LedgerError> {
        for (digest, row) in self.plugins()? {
            if row.component_type != reader {
                continue;
            }
            // One that does not load has no chain to keep right.
            if let Ok(card) = self.card(digest)
                && card
                    .duty
                    .mates
                    .iter()
                    .any(|mate| mate.component_type == read)
            {
                return Ok(true);
            }
        }
        Ok(false)
    }

    pub(crate) fn load_installed_models(&self) -> Result<(), LedgerError> {
        for (digest, row) in self.plugins()? {
            if let Err(error) = self.card(digest) {
                let (kind, version) = (&row.component_type, &row.version);
                tracing::warn!(%digest, kind, version, %error, "an installed plugin does not load");
            }
        }
        Ok(())
    }

    /// Components of the model's type that it would refuse.
    fn refused_components(
        &self,
        digest: Digest,
        card: &Card,
    ) -> Result<Vec<FieldViolation>, LedgerError> {
        let mut warnings = Vec::new();
        let rows = self
            .store
            .scan(Table::Components, b"", None, MOST_CHECKED)?;
        for (_, bytes) in rows {
            let component = super::components::component_of(&bytes)?;
            if component.component_type != card.component_type || warnings.len() >= MOST_WARNINGS {
                continue;
            }
            let (specimen, mut findings) = specimen_of(card, &component.spec, &component.surfaces);
            match self.models.check(digest, &specimen) {
                Ok(more) => findings.extend(more),
                Err(error) => return Err(LedgerError::of_model(ModelName(digest), error)),
            }
            let refused = findings.into_iter().find(|f| f.severity == Severity::Error);
            if let Some(finding) = refused {
                let field = format!("{}.{}", component.name, finding.field);
                warnings.push(FieldViolation {
                    field,
                    ..finding.into()
                });
            }
        }
        Ok(warnings)
    }

    fn plugins(&self) -> Result<Vec<(Digest, PluginRow)>, LedgerError> {
        let prefix = keys::prefix(&["m"]);
        let mut found = Vec::new();
        // Types are few and models of each bounded: this is far more than either.
        for (key, bytes) in self.store.scan(Table::Plugins, &prefix, None, 10_000)? {
            if let Some(digest) = key.get(prefix.len()..).and_then(|d| d.try_into().ok()) {
                found.push((Digest(digest), rows::decode(&bytes)?));
            }
        }
        Ok(found)
    }

    fn plugin_row(&self, name: ModelName) -> Result<PluginRow, LedgerError> {
        let bytes = self.store.get(Table::Plugins, &plugin_key(name.0))?;
        rows::decode(&bytes.ok_or_else(|| LedgerError::not_found("model", name))?)
    }

    fn model_of(&self, digest: Digest, row: PluginRow) -> Result<Model, LedgerError> {
        Ok(Model {
            name: ModelName(digest),
            active: self.active(&row.component_type)? == Some(digest),
            component_type: row.component_type,
            version: row.version,
            card: None,
            install_time: row.install_time,
            size_bytes: row.size_bytes.try_into().unwrap_or(i64::MAX),
            label: row.label,
        })
    }
}

/// Sorts versions by their numbers (1.10.0 after 1.9.0), a pre-release before its release.
fn version_key(version: &str) -> Vec<u8> {
    let body = version.split('+').next().unwrap_or_default();
    let (numbers, pre) = body.split_once('-').unwrap_or((body, "\u{7f}"));
    let mut key = Vec::new();
    for part in numbers.split('.').take(3) {
        key.extend_from_slice(&part.parse::<u32>().unwrap_or(0).to_be_bytes());
    }
    key.extend_from_slice(pre.as_bytes());
    key
}

#[cfg(test)]
mod tests {
    use super::version_key;

    #[test]
    fn versions_sort_by_their_numbers() {
        let sorted = ["0.9.0", "1.2.0-alpha", "1.2.0", "1.9.3", "1.10.0"];
        assert!(sorted.is_sorted_by(|a, b| version_key(a) < version_key(b)));
    }
}
