//! The shop's own treatments: written as TOML, kept in every revision.

use super::{catalogue::built_in, parse};
use crate::{
    CatalogueEntry, FieldViolation, Ledger, LedgerError, Origin, Reason, Resource, Treatment, keys,
    ledger::{check_etag, txn::Call},
    rows,
};
use ringland_store::Table;
use serde::{Deserialize, Serialize};

/// Most treatments of a shop's own.
const MOST: usize = 500;
/// Largest text of one \[bytes\].
const LARGEST: usize = 64 << 10;

/// A stored entry.
#[derive(Clone, Serialize, Deserialize)]
pub(super) struct ShopRow {
    pub(super) entry: CatalogueEntry,
}

/// The entry as it is now.
fn key(id: &str) -> Vec<u8> {
    keys::with(&["c"], id.as_bytes())
}

impl Ledger {
    /// Adds a treatment of the shop's own, or a new revision of one. The text is one entry as the
    /// catalogue has them. What is built in stays as it is: an entry under its own id may supersede it.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with everything that is wrong, [`LedgerError::AlreadyExists`] for
    /// the id of a built-in treatment, [`LedgerError::Aborted`] for an etag that is not current,
    /// [`LedgerError::ResourceExhausted`], and the store's.
    pub fn put_treatment(
        &self,
        text: &str,
        etag: &str,
        request_id: &str,
    ) -> Result<CatalogueEntry, LedgerError> {
        let treatment = one(text)?;
        let call = Call::new("put_treatment", request_id, &(text, etag))?;
        let id = treatment.id.clone();
        let (entry, _) = self.change(&call, |txn| {
            let stored: Option<ShopRow> = txn.read(Table::Treatments, &key(&id))?;
            let before = if let Some(row) = &stored {
                check_etag(etag, &row.entry.etag)?;
                revision_of(&row.entry)
            } else {
                check_etag(etag, "")?;
                self.room_for_one()?;
                0
            };
            let mut entry = CatalogueEntry {
                treatment: treatment.clone(),
                origin: Origin::Shop {
                    revision: before + 1,
                },
                text: text.to_owned(),
                superseded_by: Vec::new(),
                update_time: Some(self.now()),
                etag: String::new(),
            };
            entry.etag = rows::etag(&rows::encode(&entry)?);
            self.check_row_size("treatment", &entry)?;
            let row = ShopRow {
                entry: entry.clone(),
            };
            txn.put(Table::Treatments, key(&id), &row)?;
            let number = (before + 1).to_be_bytes();
            txn.put(Table::Treatments, keys::with(&["r", &id], &number), &row)?;
            Ok(entry)
        })?;
        Ok(entry)
    }

    /// The shop's own, as they are now, in the order of their ids.
    pub(super) fn shop_treatments(&self) -> Result<Vec<ShopRow>, LedgerError> {
        let prefix = keys::prefix(&["c"]);
        let read = self
            .store
            .scan(Table::Treatments, &prefix, None, MOST + 1)?;
        read.iter().map(|(_, row)| rows::decode(row)).collect()
    }

    fn room_for_one(&self) -> Result<(), LedgerError> {
        let count = self.shop_treatments()?.len();
        if count < MOST {
            return Ok(());
        }
        Err(LedgerError::ResourceExhausted {
            what: "treatments of the shop's own".into(),
            value: count as u64 + 1,
            limit: MOST as u64,
            remedy: "put another revision of one that is there".into(),
        })
    }
}

fn revision_of(entry: &CatalogueEntry) -> u32 {
    match entry.origin {
        Origin::Shop { revision } => revision,
        Origin::BuiltIn { .. } => 0,
    }
}

/// The one treatment of a text.
fn one(text: &str) -> Result<Treatment, LedgerError> {
    if text.len() > LARGEST {
        return Err(LedgerError::invalid(FieldViolation::new(
            "text",
            &format!("{} bytes", text.len()),
            &format!("at most {LARGEST} bytes"),
            "shorten it",
        )));
    }
    let mut read = parse::parse(text)?.treatments;
    let (count, last) = (read.len(), read.pop());
    let Some(treatment) = last.filter(|_| count == 1) else {
        return Err(LedgerError::invalid(FieldViolation::new(
            "text",
            &format!("{count} treatments"),
            "one",
            "put each in a call of its own",
        )));
    };
    let built_in = built_in()?;
    if built_in.contains_key(&treatment.id) {
        let id = &treatment.id;
        return Err(LedgerError::AlreadyExists {
            reason: Reason::ResourceExists,
            resource: Resource {
                kind: "treatment",
                name: format!("treatments/{id}"),
            },
            message: format!(
                "treatment {id:?} is built in and stays as it is; choose another id and write supersedes = {id:?}"
            ),
        });
    }
    let supersedes = &treatment.supersedes;
    if !supersedes.is_empty() && !built_in.contains_key(supersedes) {
        return Err(LedgerError::invalid(FieldViolation::new(
            &format!("treatments[{}].supersedes", treatment.id),
            &format!("{supersedes:?}"),
            "the id of a built-in treatment",
            "correct it, or put another revision of the shop's own under its id",
        )));
    }
    Ok(treatment)
}
