//! The components of a unit and their drawn lives.

use super::{alternatives::Variant, shuffle, subject::Subject};
use crate::{
    Alternative, Basis, ComponentName, LedgerError, Reason, RemainingLife, UnitName,
    ledger::{Ledger, build_at},
    predict::{Drawing, Drawn, Event, remaining_life},
};
use std::cmp::Ordering;

/// A component of a unit as a comparison starts from it.
pub(super) struct Part {
    pub(super) component: ComponentName,
    pub(super) component_type: String,
    pub(super) position: String,
    /// Or why it can have no life.
    pub(super) subject: Result<Subject, LedgerError>,
}

impl Part {
    /// Name of a mechanism for people.
    pub(super) fn mechanism(&self, index: usize) -> (String, String) {
        let card = self.subject.as_ref().map(|subject| &subject.card);
        let found = card.ok().and_then(|card| card.mechanisms.get(index));
        found
            .map(|mechanism| (mechanism.name.clone(), mechanism.label.clone()))
            .unwrap_or_default()
    }
}

/// Drawn lives of a part, shuffled so that they are independent of those of other parts.
pub(super) struct PartLives {
    pub(super) variant: Variant,
    pub(super) events: Vec<f64>,
    /// Which mechanism comes first in each draw.
    pub(super) first: Vec<usize>,
    pub(super) life: RemainingLife,
    pub(super) limiting: Option<(usize, f64)>,
    pub(super) prior_only: bool,
}

impl Ledger {
    /// What is installed in a unit now, in the order of names.
    pub(super) fn parts_of(&self, unit: &UnitName, basis: Basis) -> Result<Vec<Part>, LedgerError> {
        self.get_unit(unit)?;
        let nothing = || {
            LedgerError::precondition(
                Reason::NotInstalled,
                unit,
                format!("nothing is installed in {unit}; install its components first"),
            )
        };
        let build = build_at(&*self.store, unit, None)?.ok_or_else(nothing)?;
        let mut parts = Vec::new();
        for installation in self.installations_in(&build.name)? {
            if installation.remove_time.is_some() {
                continue;
            }
            let component = installation.component;
            parts.push(Part {
                component_type: self.component_row(&component)?.component_type,
                subject: alone(self.subject(&component, basis))?,
                position: installation.position,
                component,
            });
        }
        if parts.is_empty() {
            return Err(nothing());
        }
        parts.sort_by(|one, other| one.component.cmp(&other.component));
        Ok(parts)
    }

    /// Drawn lives over one event after another of a new part like this one.
    pub(crate) fn lives_when_new(
        &self,
        component: &ComponentName,
        events: &[Event],
        drawing: &Drawing,
    ) -> Result<Vec<Drawn>, LedgerError> {
        let subject = self.subject(component, Basis::New)?;
        let variant = self.variant(&subject, &[])?;
        let draw = |event| self.draw_variant(&subject, &variant, event, drawing);
        events.iter().map(draw).collect()
    }

    /// Drawn lives of a part after one alternative and another.
    pub(super) fn part_lives(
        &self,
        part: &Part,
        alternatives: &[&Alternative],
        event: &Event,
        drawing: &Drawing,
    ) -> Result<PartLives, LedgerError> {
        let subject = part.subject.as_ref().map_err(Clone::clone)?;
        let variant = self.variant(subject, alternatives)?;
        let drawn = self.draw_variant(subject, &variant, event, drawing)?;
        let lives = &drawn.combined.lives;
        let order = shuffle::order(drawn.seed, lives.len());
        let mechanisms = &drawn.forecast.mechanisms;
        let life_by = |mechanism: usize, draw: usize| {
            let lives = mechanisms.get(mechanism).map(|m| &m.lives_events);
            lives
                .and_then(|lives| lives.get(draw))
                .copied()
                .unwrap_or(f64::INFINITY)
        };
        let first_of = |draw: usize| {
            let by_life = |one: &usize, other: &usize| -> Ordering {
                life_by(*one, draw).total_cmp(&life_by(*other, draw))
            };
            (0..mechanisms.len()).min_by(by_life).unwrap_or(0)
        };
        Ok(PartLives {
            events: order
                .iter()
                .filter_map(|draw| lives.get(*draw).copied())
                .collect(),
            first: order.iter().map(|draw| first_of(*draw)).collect(),
            life: remaining_life(lives, &event.profile, drawing.horizon_events),
            limiting: drawn.limiting(),
            prior_only: drawn.is_prior(&subject.card),
            variant,
        })
    }
}

/// What concerns one component fails with it; what the store or the host cannot do fails the call.
pub(crate) fn alone<T>(
    result: Result<T, LedgerError>,
) -> Result<Result<T, LedgerError>, LedgerError> {
    match result {
        Err(
            error @ (LedgerError::Unavailable { .. }
            | LedgerError::Internal { .. }
            | LedgerError::Aborted { .. }),
        ) => Err(error),
        result => Ok(result),
    }
}
