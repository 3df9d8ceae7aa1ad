//! A part over the event to come, with the draws that its figures come from.

use crate::{
    ComponentName, EarliestLimit, Installation, LedgerError, OutlookFigures, PartOutlook, UnitName,
    compare::{Earliest, Range, Shuffled, alone},
    fold::{ChainRow, Folded},
    ledger::Ledger,
    predict::{Event, Inspected, Made},
};
use ringland_host::contract::Consequence;
use std::sync::Arc;

/// Readings are wanted now and after the event.
const AHEAD: [f64; 2] = [0.0, 1.0];

/// A part and its state, or why it has none.
pub(super) struct Outlook {
    pub(super) component: ComponentName,
    pub(super) component_type: String,
    pub(super) position: String,
    pub(super) state: Result<State, LedgerError>,
}

/// A part as it is, or as it might be, and what was drawn of it.
pub(super) struct State {
    pub(super) folded: Folded,
    pub(super) inspected: Arc<Inspected>,
    pub(super) made: Made,
    pub(super) shuffled: Shuffled,
    horizon_events: f64,
}

impl Ledger {
    /// Everything that is installed in a unit now, in the order of names.
    pub(super) fn outlooks(
        &self,
        unit: &UnitName,
        event: &Event,
    ) -> Result<Vec<Outlook>, LedgerError> {
        let installed = self.installed_now(unit)?;
        installed
            .into_iter()
            .map(|place| self.outlook(&place.component.clone(), Some(&place), event))
            .collect()
    }

    /// One component as it is now.
    pub(super) fn outlook(
        &self,
        component: &ComponentName,
        place: Option<&Installation>,
        event: &Event,
    ) -> Result<Outlook, LedgerError> {
        let component_type = self.component_row(component)?.component_type;
        let state = self.fold_active(component);
        Ok(Outlook {
            component: component.clone(),
            component_type,
            position: place.map(|i| i.position.clone()).unwrap_or_default(),
            state: alone(state.and_then(|folded| self.state_of(folded, event)))?,
        })
    }

    /// A folded component with what inspections say of it.
    pub(super) fn state_of(&self, folded: Folded, event: &Event) -> Result<State, LedgerError> {
        let inspected = Arc::new(self.inspected(&folded)?);
        self.state_as(folded, inspected, event)
    }

    /// A component as it might be.
    pub(super) fn state_as(
        &self,
        folded: Folded,
        inspected: Arc<Inspected>,
        event: &Event,
    ) -> Result<State, LedgerError> {
        let mut made = self.make(&folded, event, &AHEAD, &inspected)?;
        if !made.prediction.overruled_by.is_empty() {
            made.drawn.combined.lives.fill(0.0);
        }
        Ok(State {
            shuffled: Shuffled::of(&made.drawn),
            horizon_events: self.options.horizon_events,
            folded,
            inspected,
            made,
        })
    }

    /// A new part like this one in its place, drawn as this one is.
    pub(super) fn new_like(&self, state: &State, event: &Event) -> Result<State, LedgerError> {
        let Folded {
            plugin,
            card,
            sample,
            component,
            ..
        } = &state.folded;
        let nothing_known = vec![None; card.condition.len()];
        let condition = self
            .models
            .begin(*plugin, &sample.specimen, &sample.prepared, &nothing_known)
            .map_err(|error| LedgerError::of_model(&component.name, error))?;
        let folded = Folded {
            row: ChainRow {
                condition,
                ..state.folded.row.clone()
            },
            ..state.folded.clone()
        };
        self.state_as(folded, Arc::new(state.inspected.of_new_part()), event)
    }
}

impl State {
    /// Drawn lives, each as far as it is known; in the order of the model, paired with any other state of the part.
    pub(super) fn lives(&self) -> Vec<Range> {
        let lives = self.made.drawn.combined.lives.iter();
        lives
            .map(|life| Range::life(*life, self.horizon_events))
            .collect()
    }

    /// Probability of an end in the event that costs the unit or can hurt people.
    pub(super) fn failure_risk(&self) -> f64 {
        let prediction = &self.made.prediction;
        let costly = prediction
            .mechanisms
            .iter()
            .filter(|m| m.consequence >= Consequence::UnitLoss);
        // A crack ends the component's life, whichever mechanism made it.
        let cracked = |f: &crate::OverrulingFinding| f.mechanisms.is_empty();
        if prediction.overruled_by.iter().any(cracked) {
            return 1.0;
        }
        any_of(costly.map(|mechanism| mechanism.risk_next_event))
    }

    pub(super) fn figures(&self) -> OutlookFigures {
        let prediction = &self.made.prediction;
        let limiting = prediction
            .mechanisms
            .iter()
            .find(|m| m.mechanism == prediction.limiting_mechanism);
        OutlookFigures {
            life: prediction.life,
            limiting_label: limiting.map(|m| m.label.clone()).unwrap_or_default(),
            limiting_probability: prediction.limiting_probability,
            risk: prediction.risk_next_event,
            failure_risk: self.failure_risk(),
            advice: prediction.advice.clone(),
            overruled_by: prediction.overruled_by.clone(),
        }
    }
}

impl Outlook {
    pub(super) fn told(&self) -> PartOutlook {
        PartOutlook {
            component: self.component.clone(),
            component_type: self.component_type.clone(),
            position: self.position.clone(),
            figures: match &self.state {
                Ok(state) => Ok(state.figures()),
                Err(error) => Err(error.clone()),
            },
        }
    }

    pub(super) fn state(&self) -> Option<&State> {
        self.state.as_ref().ok()
    }
}

/// Probability that any of several happens, each by itself: exact where they know nothing of each other, an upper bound
/// where they come together.
pub(super) fn any_of(risks: impl Iterator<Item = f64>) -> f64 {
    let survival: f64 = risks.map(|risk| 1.0 - risk).product();
    (1.0 - survival).clamp(0.0, 1.0)
}

/// The earliest limit of parts whose draws are independent; those without a state are left out.
pub(super) fn earliest_of(
    states: &[Option<&State>],
    samples: u32,
    horizon_events: f64,
) -> Earliest {
    let lives: Vec<Option<&Shuffled>> = states
        .iter()
        .map(|state| state.map(|state| &state.shuffled))
        .collect();
    Earliest::of(&lives, samples as usize, horizon_events)
}

/// As it is told.
pub(super) fn earliest_told(
    earliest: &Earliest,
    states: &[Option<&State>],
    event: &Event,
) -> EarliestLimit {
    let name = |index: usize, mechanism: usize| {
        let state = states.get(index).copied().flatten()?;
        let mechanism = state.folded.card.mechanisms.get(mechanism)?;
        let component = state.folded.component.name.clone();
        Some((component, mechanism.name.clone(), mechanism.label.clone()))
    };
    earliest.limit(name, &event.profile)
}
