//! Spec and surfaces as a model sees them, and the condition that they begin with.

use super::{
    chain::{ChainRow, Tally, begin_digest},
    run::{ChainId, Run},
};
use crate::{
    LedgerError, Revision,
    ledger::{opening_of, refused_by_model, specimen_of},
};
use ringland_host::contract::{Prepared, Specimen};
use std::sync::Arc;

/// A component's spec and surfaces as one model sees them.
#[derive(Clone)]
pub(crate) struct Sample {
    pub(crate) specimen: Arc<Specimen>,
    pub(crate) prepared: Prepared,
}

impl Run<'_> {
    /// Spec and surfaces of a revision, prepared.
    pub(crate) fn sample(
        &mut self,
        id: &ChainId,
        revision: &Revision,
    ) -> Result<Sample, LedgerError> {
        let models = self.ledger.models.clone();
        let chain = self.chain(id)?;
        if let Some((known, sample)) = &chain.sample
            && known.name == revision.name
        {
            return Ok(sample.clone());
        }
        let (specimen, findings) = specimen_of(&chain.card, &revision.spec, &revision.surfaces);
        refused_by_model(&revision.name, findings)?;
        let prepared = models.prepare(id.1, &specimen);
        let prepared = prepared.map_err(|error| LedgerError::of_model(&revision.name, error))?;
        let sample = Sample {
            specimen: Arc::new(specimen),
            prepared,
        };
        chain.sample = Some((revision.clone(), sample.clone()));
        Ok(sample)
    }

    /// The condition before the first step.
    pub(crate) fn begin(
        &mut self,
        id: &ChainId,
        revision: &Revision,
    ) -> Result<ChainRow, LedgerError> {
        let sample = self.sample(id, revision)?;
        let models = self.ledger.models.clone();
        let chain = self.chain(id)?;
        let (opening, findings) = opening_of(&chain.card, &chain.component.opening_condition);
        refused_by_model(&id.0, findings)?;
        let condition = models
            .begin(id.1, &sample.specimen, &sample.prepared, &opening)
            .map_err(|error| LedgerError::of_model(&id.0, error))?;
        Ok(ChainRow {
            condition,
            digest: begin_digest(sample.prepared.digest, &opening),
            tally: Tally::default(),
            last_record: None,
            last_end: None,
        })
    }
}
