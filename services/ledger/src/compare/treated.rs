//! The treatment catalogue as comparisons call it. This ledger has none: every treatment is refused
//! as unknown.

use crate::{
    ComponentInput, FieldViolation, LedgerError, TreatmentEvidence, ledger::Ledger,
    violations::Violations,
};
use ringland_host::contract::Finding;

/// A treatment of the catalogue on surfaces of a component.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TreatmentUse {
    /// Id in the catalogue.
    pub treatment: String,
    /// Working surfaces of the card; empty: every one that the catalogue means it for.
    pub surfaces: Vec<String>,
}

/// A component after treatments.
#[derive(Clone, Debug, PartialEq)]
pub struct Treated {
    /// With the changed surfaces.
    pub component: ComponentInput,
    /// Warnings.
    pub findings: Vec<Finding>,
    /// Of all treatments, in the shop's currency.
    pub price: Option<f64>,
    /// Until they are done.
    pub lead_days: Option<f64>,
    /// What their figures rest on.
    pub grades: Vec<TreatmentEvidence>,
}

impl Ledger {
    /// A component after treatments, in the order of the list.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for treatments that are unknown or may not be done.
    pub fn treated(
        &self,
        component: &ComponentInput,
        applied: &[TreatmentUse],
    ) -> Result<Treated, LedgerError> {
        let mut violations = Violations::default();
        for (index, applied) in applied.iter().enumerate() {
            violations.push(FieldViolation::new(
                &format!("treatments[{index}].treatment"),
                &format!("{:?}", applied.treatment),
                "a treatment of the catalogue; this ledger has none",
                "state the surfaces that the treatment leaves",
            ));
        }
        violations.into_result()?;
        Ok(Treated {
            component: component.clone(),
            findings: Vec::new(),
            price: Some(0.0),
            lead_days: None,
            grades: Vec::new(),
        })
    }

    /// Ids of the treatments that the catalogue means for a component type.
    pub(super) fn treatments_for(&self, _component_type: &str) -> Result<Vec<String>, LedgerError> {
        Ok(Vec::new())
    }
}
