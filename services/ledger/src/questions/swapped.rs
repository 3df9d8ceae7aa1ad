//! Units with a part put in or taken out: the part finds other mates, and its readers read another.

use super::outlook::{Outlook, State};
use crate::{
    AskPartMove, BuildName, Component, ComponentName, LedgerError, UnitName,
    compare::alone,
    fold::{Folded, MateValue},
    ledger::Ledger,
    predict::Event,
};

/// A unit before and after.
pub(super) struct BeforeAndAfter {
    pub(super) before: Vec<Outlook>,
    pub(super) after: Vec<Outlook>,
}

impl Ledger {
    /// A part with the mates that it finds at a place.
    pub(super) fn among(
        &self,
        state: &State,
        position: &str,
        others: &[(&str, &Folded)],
        event: &Event,
    ) -> Result<State, LedgerError> {
        if state.folded.card.duty.mates.is_empty() {
            return self.state_as(state.folded.clone(), state.inspected.clone(), event);
        }
        let folded = Folded {
            mates: mates_among(&state.folded, position, others),
            ..state.folded.clone()
        };
        self.state_as(folded, state.inspected.clone(), event)
    }

    /// The unit with the part in it; those that read its condition read it.
    pub(super) fn with_part(
        &self,
        there: Vec<Outlook>,
        replaces: Option<&ComponentName>,
        moved: Outlook,
        event: &Event,
    ) -> Result<BeforeAndAfter, LedgerError> {
        let kind = moved.component_type.clone();
        let mut after = self.others(&there, replaces, event)?;
        after.push(moved);
        self.read_anew(&mut after, &kind, event)?;
        Ok(BeforeAndAfter {
            before: there,
            after,
        })
    }

    pub(super) fn without_part(
        &self,
        ask: &AskPartMove,
        unit: &UnitName,
        component: &Component,
    ) -> Result<(UnitName, BuildName, Event, BeforeAndAfter), LedgerError> {
        let event = self.event_in_unit(&ask.event, unit)?;
        let before = self.outlooks(unit, &event)?;
        let mut after = self.others(&before, Some(&component.name), &event)?;
        self.read_anew(&mut after, &component.component_type, &event)?;
        let build = self.build_now(unit)?;
        Ok((unit.clone(), build, event, BeforeAndAfter { before, after }))
    }

    /// All parts but one, as they are.
    fn others(
        &self,
        parts: &[Outlook],
        but: Option<&ComponentName>,
        event: &Event,
    ) -> Result<Vec<Outlook>, LedgerError> {
        let kept = parts.iter().filter(|part| Some(&part.component) != but);
        let each = kept.map(|part| {
            let state = match &part.state {
                Ok(state) => {
                    alone(self.state_as(state.folded.clone(), state.inspected.clone(), event))?
                }
                Err(error) => Err(error.clone()),
            };
            Ok(Outlook {
                component: part.component.clone(),
                component_type: part.component_type.clone(),
                position: part.position.clone(),
                state,
            })
        });
        each.collect()
    }

    /// Draws again those whose models read the condition of a type.
    fn read_anew(
        &self,
        parts: &mut [Outlook],
        component_type: &str,
        event: &Event,
    ) -> Result<(), LedgerError> {
        for index in 0..parts.len() {
            let Some(part) = parts.get(index) else {
                continue;
            };
            let Some(state) = part.state() else { continue };
            let mut needs = state.folded.card.duty.mates.iter();
            if !needs.any(|need| need.component_type == component_type) {
                continue;
            }
            let others: Vec<(&str, &Folded)> = parts
                .iter()
                .filter(|other| other.component != part.component)
                .filter_map(|other| Some((other.position.as_str(), &other.state()?.folded)))
                .collect();
            let state = alone(self.among(state, &part.position, &others, event))?;
            if let Some(part) = parts.get_mut(index) {
                part.state = state;
            }
        }
        Ok(())
    }
}

/// The mates that a part finds: of each type the one at its own position, else the first by name; what is not there is the
/// card's default.
fn mates_among(folded: &Folded, position: &str, others: &[(&str, &Folded)]) -> Vec<MateValue> {
    let needs = folded.card.duty.mates.iter();
    needs
        .map(|need| {
            let fits = others
                .iter()
                .filter(|(_, other)| other.component.component_type == need.component_type);
            let best =
                fits.min_by_key(|(place, other)| (*place != position, &other.component.name));
            let slot = best.and_then(|(_, other)| {
                let slots = &other.card.condition;
                let index = slots.iter().position(|slot| slot.name == need.slot)?;
                other.row.condition.get(index).copied()
            });
            MateValue {
                value: slot.unwrap_or(need.default_value),
                what: format!("{}/{}", need.component_type, need.slot),
                defaulted: slot
                    .is_none()
                    .then(|| format!("no {} would be with it", need.component_type)),
            }
        })
        .collect()
}
