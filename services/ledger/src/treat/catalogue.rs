//! The built-in catalogue, and entries by id whether built in or the shop's own.

use super::{parse, shop::ShopRow};
use crate::{
    CatalogueEntry, FieldViolation, Ledger, LedgerError, Origin, Page, PageRequest, TreatmentName,
    keys, page::Cursor, rows,
};
use ringland_store::Table;
use std::{collections::BTreeMap, sync::LazyLock};

const TEXT: &str = include_str!("catalogue.toml");

/// Entries by id, or why the text that was built in does not read.
static BUILT_IN: LazyLock<Result<BTreeMap<String, CatalogueEntry>, LedgerError>> =
    LazyLock::new(|| {
        let parsed = parse::parse(TEXT)?;
        let mut pieces = parse::pieces(TEXT, &parsed.treatments);
        let entry = |treatment: crate::Treatment| CatalogueEntry {
            text: pieces.remove(&treatment.id).unwrap_or_default(),
            treatment,
            origin: Origin::BuiltIn {
                catalogue_version: parsed.version.clone(),
            },
            superseded_by: Vec::new(),
            update_time: None,
            etag: String::new(),
        };
        let entries = parsed.treatments.into_iter().map(entry);
        Ok(entries.map(|e| (e.treatment.id.clone(), e)).collect())
    });

/// The built-in entries.
pub(super) fn built_in() -> Result<&'static BTreeMap<String, CatalogueEntry>, LedgerError> {
    BUILT_IN.as_ref().map_err(|error| LedgerError::Internal {
        message: format!("the built-in catalogue of treatments does not read: {error}"),
    })
}

impl Ledger {
    /// Every entry by id: built in, and the shop's own as they are now.
    pub(super) fn catalogue(&self) -> Result<BTreeMap<String, CatalogueEntry>, LedgerError> {
        let mut entries = built_in()?.clone();
        for row in self.shop_treatments()? {
            let own = row.entry.treatment.id.clone();
            if let Some(former) = entries.get_mut(&row.entry.treatment.supersedes) {
                former.superseded_by.push(own.clone());
            }
            entries.insert(own, row.entry);
        }
        Ok(entries)
    }

    /// Lists treatments in the order of their ids. With a component type, those that change a surface of
    /// it by the catalogue, and those that mark a step of work on any part.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, and the store's.
    pub fn list_treatments(
        &self,
        component_type: &str,
        page: &PageRequest,
    ) -> Result<Page<CatalogueEntry>, LedgerError> {
        let cursor = Cursor::new(page, &["treatments", component_type])?;
        let after = cursor.after.clone().unwrap_or_default();
        let entries = self.catalogue()?.into_iter().filter(|(id, entry)| {
            let treatment = &entry.treatment;
            let concerns = treatment.effects.is_empty()
                || treatment.effects_on(component_type).next().is_some();
            let allowed = component_type.is_empty()
                || concerns && treatment.forbids(component_type).is_none();
            allowed && id.as_bytes() > after.as_slice()
        });
        let entries = entries.take(cursor.size + 1);
        Ok(cursor.page(
            entries
                .map(|(id, entry)| (id.into_bytes(), entry))
                .collect(),
        ))
    }

    /// Reads a treatment: as it is now, or as a revision of the shop's own was.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], [`LedgerError::InvalidArgument`] for a revision of what is built in,
    /// and the store's.
    pub fn get_treatment(
        &self,
        name: &TreatmentName,
        revision: u32,
    ) -> Result<CatalogueEntry, LedgerError> {
        let id = name.treatment();
        if revision == 0 {
            let found = self.catalogue()?.remove(id);
            return found.ok_or_else(|| LedgerError::not_found("treatment", name));
        }
        if built_in()?.contains_key(id) {
            return Err(LedgerError::invalid(FieldViolation::new(
                "revision",
                &revision.to_string(),
                "0: what is built in has the version of its catalogue and no revisions",
                "leave it out",
            )));
        }
        let key = keys::with(&["r", id], &revision.to_be_bytes());
        let bytes = self.store.get(Table::Treatments, &key)?;
        let missing =
            || LedgerError::not_found("treatment", format!("{name}, revision {revision}"));
        let row: ShopRow = rows::decode(&bytes.ok_or_else(missing)?)?;
        Ok(row.entry)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Grade, Stage};

    #[test]
    fn the_built_in_catalogue_reads() {
        let entries = match built_in() {
            Ok(entries) => entries,
            Err(error) => panic!("{error}"),
        };
        assert!(entries.len() >= 12, "{:?}", entries.keys());
        for (id, entry) in entries {
            assert!(entry.text.starts_with("[[treatments]]\n"), "{id}");
            let again = parse::parse(&entry.text).unwrap();
            assert_eq!(
                again.treatments,
                std::slice::from_ref(&entry.treatment),
                "{id}"
            );
            assert_eq!(
                (entry.treatment.price, entry.treatment.lead_days),
                (None, None)
            );
            assert_ne!(entry.treatment.grade, Grade::Shop, "{id} is nobody's own");
        }
        assert!(parse::parse(TEXT).unwrap().version.contains('.'));
    }

    /// Every rule of order speaks of something that there is, and none forbids a treatment after itself.
    #[test]
    fn rules_of_order_name_what_there_is() {
        let entries = built_in().unwrap();
        for entry in entries.values() {
            let treatment = &entry.treatment;
            for rule in &treatment.not_after {
                let named = rule.treatment.is_empty() || entries.contains_key(&rule.treatment);
                assert!(named, "{}: {}", treatment.id, rule.treatment);
                assert_ne!(rule.treatment, treatment.id);
            }
            if treatment.stage < Stage::Coat && !treatment.effects.is_empty() {
                let coat = treatment
                    .not_after
                    .iter()
                    .any(|r| r.stage == Some(Stage::Coat));
                assert!(coat, "{} would take a coat off", treatment.id);
            }
        }
    }
}
