//! The components of a unit and their drawn lives.

use super::{alternatives::Variant, shuffled::Shuffled, subject::Subject};
use crate::{
    Alternative, Basis, ComponentName, Installation, LedgerError, Reason, RemainingLife, UnitName,
    ledger::{Ledger, build_at},
    predict::{Drawing, Drawn, Event, remaining_life},
};

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

/// Component, mechanism and its label, by their places.
pub(super) fn name_in(
    parts: &[Part],
) -> impl Fn(usize, usize) -> Option<(ComponentName, String, String)> + '_ {
    |index, mechanism| {
        let part = parts.get(index)?;
        let (mechanism, label) = part.mechanism(mechanism);
        Some((part.component.clone(), mechanism, label))
    }
}

/// Drawn lives of a part.
pub(super) struct PartLives {
    pub(super) variant: Variant,
    pub(super) shuffled: Shuffled,
    pub(super) life: RemainingLife,
    pub(super) limiting: Option<(usize, f64)>,
    pub(super) prior_only: bool,
}

impl Ledger {
    /// What is installed in a unit now, in the order of names.
    pub(super) fn parts_of(&self, unit: &UnitName, basis: Basis) -> Result<Vec<Part>, LedgerError> {
        let mut parts = Vec::new();
        for installation in self.installed_now(unit)? {
            let component = installation.component;
            parts.push(Part {
                component_type: self.component_row(&component)?.component_type,
                subject: alone(self.subject(&component, basis))?,
                position: installation.position,
                component,
            });
        }
        Ok(parts)
    }

    /// What is installed in a unit now, in the order of names; never nothing.
    pub(crate) fn installed_now(&self, unit: &UnitName) -> Result<Vec<Installation>, LedgerError> {
        self.get_unit(unit)?;
        let nothing = || {
            LedgerError::precondition(
                Reason::NotInstalled,
                unit,
                format!("nothing is installed in {unit}; install its components first"),
            )
        };
        let build = build_at(&*self.store, unit, None)?.ok_or_else(nothing)?;
        let mut installed = self.installations_in(&build.name)?;
        installed.retain(|installation| installation.remove_time.is_none());
        if installed.is_empty() {
            return Err(nothing());
        }
        installed.sort_by(|one, other| one.component.cmp(&other.component));
        Ok(installed)
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
        Ok(PartLives {
            shuffled: Shuffled::of(&drawn),
            life: remaining_life(
                &drawn.combined.lives,
                &event.profile,
                drawing.horizon_events,
            ),
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
