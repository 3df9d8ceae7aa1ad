//! What a comparison asks of the treatment catalogue.

use crate::{Grade, LedgerError, PageRequest, TreatmentEvidence, TreatmentName, ledger::Ledger};
use std::collections::BTreeMap;

const PAGE: i32 = 1000;

impl Ledger {
    /// What treatments rest on.
    pub(super) fn evidence_of(
        &self,
        grades: &BTreeMap<String, Grade>,
    ) -> Result<Vec<TreatmentEvidence>, LedgerError> {
        let mut evidence = Vec::with_capacity(grades.len());
        for (id, grade) in grades {
            let name = TreatmentName::new(id).map_err(|error| LedgerError::Internal {
                message: error.to_string(),
            })?;
            evidence.push(TreatmentEvidence {
                treatment: id.clone(),
                grade: *grade,
                source: self.get_treatment(&name, 0)?.treatment.source,
            });
        }
        Ok(evidence)
    }

    /// Ids of the treatments that change a surface of a component type by the catalogue; of one that the shop
    /// does in its own way, that way.
    pub(super) fn treatments_for(&self, component_type: &str) -> Result<Vec<String>, LedgerError> {
        let page = PageRequest {
            page_size: PAGE,
            page_token: String::new(),
        };
        let entries = self.list_treatments(component_type, &page)?.items;
        let usable = entries.into_iter().filter(|entry| {
            let treatment = &entry.treatment;
            entry.superseded_by.is_empty() && treatment.effects_on(component_type).next().is_some()
        });
        Ok(usable.map(|entry| entry.treatment.id).collect())
    }
}
