//! The ledger: one file for each service of the API.

mod builds;
mod components;
mod duty;
mod duty_rules;
mod installations;
mod mask;
mod models;
mod places;
mod profile_rules;
mod profiles;
mod revisions;
mod reworks;
mod specimen;
mod status;
pub(crate) mod txn;
mod units;

pub(crate) use components::{
    MAX_TREATMENTS, component_of, expect_component, refuse_errors, refused_by_model,
};
pub(crate) use duty::{DutyRow, record_key, record_prefix};
pub(crate) use mask::{check_etag, check_id, check_text};
pub(crate) use places::{build_at, head_key, installation_at, installation_prefix};
pub(crate) use revisions::Revised;
pub(crate) use reworks::rework_prefix;
pub(crate) use specimen::{opening_of, specimen_of};

use crate::{
    Change, ComponentName, LedgerError, LedgerOptions, PageRequest, locks::Locks, page::Cursor,
    rows,
};
use jiff::Timestamp;
use ringland_host::contract::Models;
use ringland_store::{Store, Table};
use std::{collections::BTreeSet, sync::Arc};

/// The life ledger. Calls block; they may be made from any number of threads.
pub struct Ledger {
    pub(crate) store: Arc<dyn Store>,
    pub(crate) models: Arc<dyn Models>,
    pub(crate) options: LedgerOptions,
    /// One fold of a component at a time.
    pub(crate) component_locks: Locks,
    /// Folds do not commit between the reads and the commit of a duty record of the same unit.
    pub(crate) unit_locks: Locks,
}

impl Ledger {
    /// Opens the ledger that a store holds and loads its plugins. A plugin that no longer loads is
    /// warned of in the log and costs its own components only.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for options without a meaning, and the store's.
    pub fn open(
        store: Arc<dyn Store>,
        models: Arc<dyn Models>,
        options: LedgerOptions,
    ) -> Result<Self, LedgerError> {
        options.check()?;
        let ledger = Self {
            store,
            models,
            options,
            component_locks: Locks::default(),
            unit_locks: Locks::default(),
        };
        ledger.load_installed_models()?;
        Ok(ledger)
    }

    /// The settings that it was opened with.
    pub fn options(&self) -> &LedgerOptions {
        &self.options
    }

    /// Tells of a change to what components have been through.
    pub(crate) fn tell(&self, affected: BTreeSet<ComponentName>) {
        if !affected.is_empty() {
            (self.options.on_change)(Change::Components(affected.into_iter().collect()));
        }
    }

    pub(crate) fn now(&self) -> Timestamp {
        (self.options.clock)()
    }

    /// One page of rows below a prefix. `item` makes an answer of a row, or leaves it out.
    pub(crate) fn page_of<T>(
        &self,
        page: &PageRequest,
        query: &[&str],
        (table, prefix): (Table, &[u8]),
        mut item: impl FnMut(&[u8], &[u8]) -> Result<Option<T>, LedgerError>,
    ) -> Result<crate::Page<T>, LedgerError> {
        let cursor = Cursor::new(page, query)?;
        // A filter that lets little through must not read the whole table in one call.
        let mut budget = 20 * cursor.size.max(50);
        let mut after = cursor.after.clone();
        let mut items = Vec::new();
        while items.len() <= cursor.size {
            let limit = (cursor.size + 1).min(budget);
            let read = self.store.scan(table, prefix, after.as_deref(), limit)?;
            let end = read.len() < limit;
            for (key, value) in read {
                if let Some(item) = item(&key, &value)? {
                    items.push((key.clone(), item));
                }
                after = Some(key);
                budget -= 1;
            }
            if end {
                break;
            }
            if budget == 0 {
                let next = after
                    .as_deref()
                    .map(|key| cursor.token(key))
                    .unwrap_or_default();
                let mut page = cursor.page(items);
                if page.next_page_token.is_empty() {
                    page.next_page_token = next;
                }
                return Ok(page);
            }
        }
        Ok(cursor.page(items))
    }

    /// Refuses a row that is larger than the configuration allows.
    pub(crate) fn check_row_size<T: serde::Serialize>(
        &self,
        what: &str,
        row: &T,
    ) -> Result<(), LedgerError> {
        let size = rows::encode(row)?.len();
        if size <= self.options.max_row_bytes {
            return Ok(());
        }
        Err(LedgerError::ResourceExhausted {
            what: format!("{what} in bytes"),
            value: size as u64,
            limit: self.options.max_row_bytes as u64,
            remedy: "shorten its texts and tables".into(),
        })
    }
}
