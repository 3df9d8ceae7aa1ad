//! What all inspections of a component and its like say of the rates of their mechanisms.

use super::{
    answers,
    beside::{Compared, Observed},
    bias,
    stored::treatments_of,
};
use crate::{
    Component, ComponentName, ErrorKind, LedgerError, ReadingComparison,
    correct::{Correction, Observation, Subject, posterior, surprise},
    ledger::{Ledger, installation_at},
};
use ringland_host::contract::{Card, Digest};
use std::collections::BTreeSet;

/// Inspections of a component and its like, by one model.
pub(crate) struct Evidence {
    pub(crate) subject: Subject,
    /// By component and time; its own inspections among them.
    pub(crate) observed: Vec<(ComponentName, Observed)>,
}

/// What readings say of one mechanism's rate, and how many they are.
pub(crate) struct Learnt {
    pub(crate) correction: Correction,
    pub(crate) readings: usize,
    /// Of them, of the component itself.
    pub(crate) own: usize,
    pub(crate) units: usize,
}

/// Which inspection, and which of its comparisons.
type Place = (usize, usize);

/// How far a reading is from all others, whether it is among what is learnt or not.
fn surprise_of(
    prior: f64,
    learnt: &[Observation],
    at: Option<usize>,
    seen: Option<Observation>,
) -> Result<Option<f64>, LedgerError> {
    if let Some(at) = at {
        return surprise(prior, learnt, at).map(Some);
    }
    let Some(seen) = seen else { return Ok(None) };
    let mut with = learnt.to_vec();
    with.push(seen);
    surprise(prior, &with, learnt.len()).map(Some)
}

impl Evidence {
    /// What the readings say of one mechanism's rate.
    pub(crate) fn correction(&self, card: &Card, mechanism: usize) -> Result<Learnt, LedgerError> {
        let prior = card.mechanisms[mechanism].rate_ln_sd;
        let (mut observations, _) = self.observations(card, mechanism);
        let name = &card.mechanisms[mechanism].name;
        let told = bias::take_out(self, name, prior, &mut observations)?;
        let mut correction = posterior(prior, &observations, &self.subject)?;
        bias::together(&mut correction.biases, told);
        let own = observations
            .iter()
            .filter(|o| o.component == self.subject.component);
        let units: BTreeSet<&str> = observations.iter().map(|o| o.unit.as_str()).collect();
        Ok(Learnt {
            readings: observations.len(),
            own: own.count(),
            units: units.len(),
            correction,
        })
    }

    /// What each reading of some inspections says.
    pub(crate) fn comparisons(
        &self,
        card: &Card,
        wanted: impl Fn(&ComponentName, &Observed) -> bool,
    ) -> Result<Vec<ReadingComparison>, LedgerError> {
        let of_mechanisms: Vec<_> = (0..card.mechanisms.len())
            .map(|m| self.observations(card, m))
            .collect();
        let mut answers = Vec::new();
        for (i, (component, observed)) in self.observed.iter().enumerate() {
            if !wanted(component, observed) {
                continue;
            }
            for (j, compared) in observed.compared.iter().enumerate() {
                let mechanism = compared
                    .mechanism
                    .as_ref()
                    .and_then(|name| card.mechanisms.iter().position(|m| m.name == *name));
                let surprise = match mechanism {
                    Some(_) if compared.off_sd.is_some() => compared.off_sd,
                    Some(m) => {
                        let (observations, places) = &of_mechanisms[m];
                        let prior = card.mechanisms[m].rate_ln_sd;
                        let at = places.iter().position(|place| *place == (i, j));
                        let seen = observation(component, observed, compared);
                        surprise_of(prior, observations, at, seen)?
                    }
                    None => None,
                };
                answers.push(answers::comparison(card, observed, compared, surprise));
            }
        }
        Ok(answers)
    }

    /// What may be learnt of a mechanism's rate.
    fn observations(&self, card: &Card, mechanism: usize) -> (Vec<Observation>, Vec<Place>) {
        let name = &card.mechanisms[mechanism].name;
        let mut observations = Vec::new();
        let mut places = Vec::new();
        for (inspection, (component, observed)) in self.observed.iter().enumerate() {
            for (index, compared) in observed.compared.iter().enumerate() {
                if compared.mechanism.as_ref() != Some(name) || !compared.fit() {
                    continue;
                }
                if let Some(observation) = observation(component, observed, compared) {
                    observations.push(observation);
                    places.push((inspection, index));
                }
            }
        }
        (observations, places)
    }
}

fn observation(
    component: &ComponentName,
    observed: &Observed,
    compared: &Compared,
) -> Option<Observation> {
    Some(Observation {
        component: component.component().into(),
        unit: observed.unit.clone(),
        position: observed.position.clone(),
        treatments: observed.treatments.clone(),
        instrument: compared.instrument_id.clone(),
        ln_rate: compared.ln_rate?,
        ln_sd: compared.ln_sd?,
        bias_slope: compared.bias_slope,
    })
}

impl Ledger {
    /// What is known of a component from its inspections and those of its like.
    pub(crate) fn evidence(
        &self,
        component: &Component,
        plugin: Digest,
    ) -> Result<Evidence, LedgerError> {
        let name = &component.name;
        let installation = installation_at(&*self.store, name, None)?;
        let revision = self.revision_at(name, None)?;
        let subject = Subject {
            component: name.component().into(),
            unit: installation
                .as_ref()
                .map_or_else(String::new, |i| i.build.unit().into()),
            position: installation.map(|i| i.position).unwrap_or_default(),
            treatments: treatments_of(&revision.treatments),
        };
        let mut like = self.inspected_like(&component.component_type)?;
        if !like.contains(name) {
            like.push(name.clone());
        }
        let mut observed = Vec::new();
        for other in like {
            match self.observed(&other, plugin) {
                Ok(all) => observed.extend(all.into_iter().map(|each| (other.clone(), each))),
                // What the model cannot do with another component costs that one's evidence only.
                Err(error) if error.kind() == ErrorKind::FailedPrecondition && other != *name => {}
                Err(error) => return Err(error),
            }
        }
        Ok(Evidence { subject, observed })
    }
}
