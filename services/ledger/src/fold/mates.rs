//! The condition of other components of the same build, as a model reads it. A record sees what
//! its mates were just before it: so no order between two models is needed, and two that read each
//! other form no loop.

use super::{
    chain::{DUTY, StepKey, step_key},
    run::{ChainId, Run},
};
use crate::{BuildName, ComponentName, ErrorKind, Installation, LedgerError};
use jiff::Timestamp;
use ringland_host::contract::MateNeed;
use std::sync::Arc;

/// What a mate's slot was.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MateValue {
    pub(crate) value: f64,
    /// `component type/slot`
    pub(crate) what: String,
    /// Why it is the card's default, if it is.
    pub(crate) defaulted: Option<String>,
}

impl Run<'_> {
    /// The mates of a component at the start of a record in a build.
    pub(crate) fn mates_at(
        &mut self,
        id: &ChainId,
        build: &BuildName,
        time: Timestamp,
    ) -> Result<Vec<MateValue>, LedgerError> {
        let needs = self.chain(id)?.card.duty.mates.clone();
        let before = step_key(time, DUTY, &[]);
        let mut values = Vec::with_capacity(needs.len());
        for need in &needs {
            let mate = self.mate_in(&id.0, build, need, |i| i.holds_at(time))?;
            values.push(self.slot_of(id, mate, need, (time, Some(&before)))?);
        }
        Ok(values)
    }

    /// The mates of a component where it is installed, after everything in the log.
    pub(crate) fn mates_now(
        &mut self,
        id: &ChainId,
        installation: Option<&Installation>,
    ) -> Result<Vec<MateValue>, LedgerError> {
        let needs = self.chain(id)?.card.duty.mates.clone();
        let mut values = Vec::with_capacity(needs.len());
        for need in &needs {
            let mate = match installation {
                Some(i) => self.mate_in(&id.0, &i.build, need, |i| i.remove_time.is_none())?,
                None => None,
            };
            values.push(self.slot_of(id, mate, need, (Timestamp::MAX, None))?);
        }
        Ok(values)
    }

    /// The mate of a type in a build: at the component's own position if there is one, else the
    /// first by name.
    fn mate_in(
        &mut self,
        component: &ComponentName,
        build: &BuildName,
        need: &MateNeed,
        there: impl Fn(&Installation) -> bool,
    ) -> Result<Option<ComponentName>, LedgerError> {
        let installations = self.build_list(build)?;
        let own = installations
            .iter()
            .find(|(i, _)| i.component == *component && there(i));
        let position = own.map(|(i, _)| i.position.as_str()).unwrap_or_default();
        let fits = |(i, kind): &&(Installation, String)| {
            *kind == need.component_type && i.component != *component && there(i)
        };
        let candidates = installations.iter().filter(fits);
        let best = candidates.min_by_key(|(i, _)| (i.position != position, &i.component));
        Ok(best.map(|(installation, _)| installation.component.clone()))
    }

    /// A build's installations with the component types, read once a run.
    fn build_list(
        &mut self,
        build: &BuildName,
    ) -> Result<Arc<Vec<(Installation, String)>>, LedgerError> {
        if let Some(known) = self.builds.get(build) {
            return Ok(known.clone());
        }
        self.expect_head(&build.parent())?;
        let mut list = Vec::new();
        for installation in self.ledger.installations_in(build)? {
            let kind = self
                .ledger
                .component_row(&installation.component)?
                .component_type;
            list.push((installation, kind));
        }
        let list = Arc::new(list);
        self.builds.insert(build.clone(), list.clone());
        Ok(list)
    }

    /// A slot of a mate's condition before a place, or after everything; the card's default, with
    /// the reason, when there is none.
    fn slot_of(
        &mut self,
        reader: &ChainId,
        mate: Option<ComponentName>,
        need: &MateNeed,
        (time, before): (Timestamp, Option<&StepKey>),
    ) -> Result<MateValue, LedgerError> {
        let what = format!("{}/{}", need.component_type, need.slot);
        let default = |why: String| MateValue {
            value: need.default_value,
            what: what.clone(),
            defaulted: Some(why),
        };
        let Some(mate) = mate else {
            return Ok(default(format!(
                "no {} is installed in the build",
                need.component_type
            )));
        };
        let Some(plugin) = self.active(&need.component_type)? else {
            return Ok(default(format!(
                "{} has no active model",
                need.component_type
            )));
        };
        let id = (mate, plugin);
        match self.condition_of(&id, time, before) {
            Ok(condition) => {
                if self.chain(&id)?.volatile {
                    self.not_kept(reader)?;
                }
                let slots = &self.chain(&id)?.card.condition;
                let index = slots.iter().position(|slot| slot.name == need.slot);
                let value = index.and_then(|index| condition.get(index).copied());
                Ok(match value {
                    Some(value) => MateValue {
                        value,
                        what,
                        defaulted: None,
                    },
                    None => default(format!("the model of {} has no such slot", id.0)),
                })
            }
            // What a model cannot do costs its own component; what the store cannot do is no
            // ground for a default.
            Err(error) if error.kind() == ErrorKind::FailedPrecondition => {
                self.not_kept(reader)?;
                Ok(default(format!("{} has no condition: {error}", id.0)))
            }
            Err(error) => Err(error),
        }
    }

    /// What follows in this chain is not kept. What came before is.
    fn not_kept(&mut self, id: &ChainId) -> Result<(), LedgerError> {
        if !self.chain(id)?.volatile {
            self.flush()?;
            self.chain(id)?.volatile = true;
        }
        Ok(())
    }

    fn condition_of(
        &mut self,
        id: &ChainId,
        time: Timestamp,
        before: Option<&StepKey>,
    ) -> Result<Vec<f64>, LedgerError> {
        self.advance(id, before)?;
        if let Some(row) = self.last_row(id, before)? {
            return Ok(row.condition);
        }
        let revision = self.ledger.revision_at(&id.0, Some(time))?;
        Ok(self.begin(id, &revision)?.condition)
    }
}
