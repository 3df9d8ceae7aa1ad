//! What is in a unit, as it is now and as it would be when new.

use super::spells::DrawnPart;
use crate::{
    ComponentName, FieldViolation, LedgerError, OverrulingFinding, Quantiles, Reason, Substitution,
    UnitName,
    compare::alone,
    fold::Folded,
    ledger::{Ledger, build_at},
    limits::past_limit,
    predict::{Drawing, Event, Inspected, readings},
    violations::Violations,
};
use ringland_host::contract::{Card, Consequence, Finding};
use std::sync::Arc;

/// A place in the unit.
pub(super) struct Place {
    /// What is planned for it from the first event on.
    pub(super) component: ComponentName,
    pub(super) component_type: String,
    pub(super) position: String,
    /// Or why it can have no life.
    pub(super) drawn: Result<Drawn, LedgerError>,
}

/// A part of which lives were drawn.
pub(super) struct Drawn {
    pub(super) card: Arc<Card>,
    /// Hours since new.
    pub(super) hours: f64,
    pub(super) present: DrawnPart,
    pub(super) new: DrawnPart,
    /// Spread of the rate of each mechanism, standard deviation of its logarithm.
    pub(super) rate_ln_sd: Vec<f64>,
    /// Each reading of the card now.
    pub(super) readings: Vec<Quantiles>,
    /// Error of its instrument.
    pub(super) instrument_sd: Vec<f64>,
    pub(super) overruled: Vec<OverrulingFinding>,
    /// Readings by prediction past a limit at which the unit or people are at risk.
    pub(super) past_limit: Vec<String>,
    pub(super) notes: Vec<Finding>,
}

impl Ledger {
    /// What is installed in a unit, what goes in put in the place of what it replaces, in the order of names.
    pub(super) fn places(
        &self,
        unit: &UnitName,
        substitutions: &[Substitution],
        (duties, drawing): (&[Event], &Drawing),
    ) -> Result<Vec<Place>, LedgerError> {
        let nothing = || {
            let text = format!("nothing is installed in {unit}; install its components first");
            LedgerError::precondition(Reason::NotInstalled, unit, text)
        };
        let build = build_at(&*self.store, unit, None)?.ok_or_else(nothing)?;
        let mut installed = self.installations_in(&build.name)?;
        installed.retain(|installation| installation.remove_time.is_none());
        if installed.is_empty() {
            return Err(nothing());
        }
        installed.sort_by(|one, other| one.component.cmp(&other.component));
        let names: Vec<&ComponentName> = installed.iter().map(|i| &i.component).collect();
        self.check_substitutions(substitutions, &names)?;
        let mut places = Vec::with_capacity(installed.len());
        for installation in &installed {
            let goes_in = substitutions
                .iter()
                .find(|s| s.replaces == installation.component);
            let component = goes_in.map_or(&installation.component, |s| &s.component);
            places.push(Place {
                component: component.clone(),
                component_type: self.component_row(component)?.component_type,
                position: installation.position.clone(),
                drawn: alone(self.drawn(component, duties, drawing))?,
            });
        }
        Ok(places)
    }

    fn check_substitutions(
        &self,
        substitutions: &[Substitution],
        installed: &[&ComponentName],
    ) -> Result<(), LedgerError> {
        let mut violations = Violations::default();
        if substitutions.len() > 20 {
            violations.add(
                "substitutions",
                substitutions.len(),
                "at most 20",
                "leave some out",
            );
        }
        for (index, substitution) in substitutions.iter().take(20).enumerate() {
            let Substitution {
                replaces,
                component,
            } = substitution;
            let at = format!("substitutions[{index}]");
            let kind = self.component_row(component)?.component_type;
            if !installed.contains(&replaces) {
                let expected = "what is installed in the unit";
                violations.add(
                    format!("{at}.replaces"),
                    replaces,
                    expected,
                    "name the part that comes out",
                );
            } else if self.component_row(replaces)?.component_type != kind {
                let expected = "a component of the type that it replaces";
                violations.add(
                    format!("{at}.component"),
                    component,
                    expected,
                    "name one of that type",
                );
            }
            if installed.contains(&component) {
                let expected = "a component that is not in the unit";
                violations.add(
                    format!("{at}.component"),
                    component,
                    expected,
                    "name another",
                );
            }
            let earlier = substitutions.iter().take(index);
            let twice =
                |other: &Substitution| other.replaces == *replaces || other.component == *component;
            if earlier.into_iter().any(twice) {
                violations.push(FieldViolation::new(
                    &at,
                    &component.to_string(),
                    "each part once",
                    "leave one out",
                ));
            }
        }
        violations.into_result()
    }

    fn drawn(
        &self,
        component: &ComponentName,
        duties: &[Event],
        drawing: &Drawing,
    ) -> Result<Drawn, LedgerError> {
        let folded = self.fold_active(component)?;
        let inspected = self.inspected(&folded)?;
        let card = Arc::clone(&folded.card);
        let consequences: Vec<Consequence> =
            card.mechanisms.iter().map(|m| m.consequence).collect();
        let mut drawn = Drawn {
            hours: folded.row.tally.hours,
            present: DrawnPart {
                consequences: consequences.clone(),
                by_duty: Vec::new(),
            },
            new: DrawnPart {
                consequences,
                by_duty: Vec::new(),
            },
            rate_ln_sd: inspected
                .beliefs
                .iter()
                .map(|(rate, _)| rate.ln_sd)
                .collect(),
            readings: Vec::new(),
            instrument_sd: Vec::new(),
            overruled: inspected.standing.overruled.clone(),
            past_limit: Vec::new(),
            notes: Vec::new(),
            card,
        };
        for (index, duty) in duties.iter().enumerate() {
            self.add_present(
                &mut drawn,
                (&folded, &inspected),
                duty,
                (index == 0, drawing),
            )?;
        }
        let new = self.lives_when_new(component, duties, drawing)?;
        drawn.new.by_duty = new
            .into_iter()
            .map(|drawn| drawn.forecast.mechanisms)
            .collect();
        Ok(drawn)
    }

    fn add_present(
        &self,
        drawn: &mut Drawn,
        (folded, inspected): (&Folded, &Inspected),
        duty: &Event,
        (first, drawing): (bool, &Drawing),
    ) -> Result<(), LedgerError> {
        let (lives, notes) = self.lives_ahead(folded, inspected, duty, drawing)?;
        if first {
            let card = &drawn.card;
            for reading in readings(card, &lives.forecast.readings, &drawing.ahead) {
                drawn.readings.push(reading.now);
                drawn.instrument_sd.push(reading.instrument_sd);
                let past = past_limit(&reading, reading.now).is_some();
                let ends = card
                    .mechanisms
                    .iter()
                    .filter(|m| m.reading.as_ref() == Some(&reading.reading));
                let worst = ends.map(|m| m.consequence).max();
                if past && worst >= Some(Consequence::UnitLoss) {
                    drawn.past_limit.push(reading.label);
                }
            }
            drawn.notes = notes;
        }
        drawn.present.by_duty.push(lives.forecast.mechanisms);
        Ok(())
    }
}
