//! Can this part go in that unit?

use super::{
    asked::check_event,
    obstacles::{of_leaving, of_part, of_place},
    outlook::{Outlook, any_of, earliest_of, earliest_told},
    shock_cost::later,
    swapped::BeforeAndAfter,
    words,
};
use crate::{
    AskPartMove, BuildName, Component, ComponentName, LedgerError, Obstacle, PartMove, Reason,
    UnitName, UnitOutlook,
    compare::quantiles_of,
    fold::Folded,
    ledger::{Ledger, build_at, check_text, installation_at},
    predict::Event,
    violations::Violations,
};
use ringland_host::contract::Card;

impl Ledger {
    /// Tells what stands against a move of a part and what it does to both units. Nothing is moved or stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when there is
    /// no profile, the unit is empty or the part has no prediction, and the store's.
    pub fn ask_part_move(&self, ask: &AskPartMove) -> Result<PartMove, LedgerError> {
        let component = self.get_component(&ask.component)?;
        let event = self.event_in_unit(&ask.event, &ask.unit)?;
        let there = self.outlooks(&ask.unit, &event)?;
        let occupant = check(ask, &component, &there)?;
        let occupant = occupant.and_then(|index| there.get(index));
        let position = match occupant {
            Some(other) if ask.position.is_empty() => other.position.clone(),
            _ => ask.position.clone(),
        };
        let last = installation_at(&*self.store, &ask.component, None)?;
        let mut moved = Outlook {
            component: ask.component.clone(),
            component_type: component.component_type.clone(),
            position: position.clone(),
            state: Ok(self.state_of(self.fold_active(&ask.component)?, &event)?),
        };
        let replaces = occupant.map(|other| other.component.clone());
        let stays = |part: &&Outlook| replaces.as_ref() != Some(&part.component);
        let folded: Vec<(&str, &Folded)> = there
            .iter()
            .filter(stays)
            .filter_map(|part| Some((part.position.as_str(), &part.state()?.folded)))
            .collect();
        if let Ok(state) = &moved.state {
            moved.state = Ok(self.among(state, &position, &folded, &event)?);
        }
        let mut obstacles = of_place(&component, &position, occupant, &there);
        let from = last.as_ref().filter(|i| i.remove_time.is_none());
        let left_unit = from.map(|place| place.build.parent());
        if let Some(state) = moved.state() {
            obstacles.extend(of_part(&component, state, &self.options.risk_caps));
            let behind = match &left_unit {
                Some(unit) => self.others_in(&component, &self.installed_now(unit)?)?,
                None => Vec::new(),
            };
            obstacles.extend(of_leaving(
                &component,
                last.as_ref(),
                &position,
                &behind,
                state,
            ));
        }
        let to = self.with_part(there, replaces.as_ref(), moved, &event)?;
        let left = match &left_unit {
            Some(unit) => Some(self.without_part(ask, unit, &component)?),
            None => None,
        };
        self.move_told(
            ask,
            &component,
            (position, replaces),
            obstacles,
            &to,
            left,
            &event,
        )
    }

    pub(super) fn build_now(&self, unit: &UnitName) -> Result<BuildName, LedgerError> {
        let build = build_at(&*self.store, unit, None)?;
        build.map(|build| build.name).ok_or_else(|| {
            let text = format!("{unit} has no build; create one first");
            LedgerError::precondition(Reason::BuildNotOpen, unit, text)
        })
    }

    fn outlook_of(
        &self,
        unit: &UnitName,
        build: BuildName,
        both: &BeforeAndAfter,
        event: &Event,
    ) -> UnitOutlook {
        let risk = |parts: &[Outlook]| {
            let states = parts.iter().filter_map(Outlook::state);
            any_of(states.map(|state| state.made.prediction.risk_next_event))
        };
        let (samples, horizon) = (self.options.samples, self.options.horizon_events);
        let before: Vec<_> = both.before.iter().map(Outlook::state).collect();
        let after: Vec<_> = both.after.iter().map(Outlook::state).collect();
        let now = earliest_of(&before, samples, horizon);
        let then = earliest_of(&after, samples, horizon);
        UnitOutlook {
            unit: unit.clone(),
            build,
            risk: risk(&both.before),
            risk_after: risk(&both.after),
            earliest: earliest_told(&now, &before, event),
            earliest_after: earliest_told(&then, &after, event),
            later_events: quantiles_of(&later(&now, &then)),
        }
    }

    #[allow(clippy::too_many_arguments)] // what the answer is made of
    fn move_told(
        &self,
        ask: &AskPartMove,
        component: &Component,
        (position, replaces): (String, Option<ComponentName>),
        obstacles: Vec<Obstacle>,
        to: &BeforeAndAfter,
        left: Option<(UnitName, BuildName, Event, BeforeAndAfter)>,
        event: &Event,
    ) -> Result<PartMove, LedgerError> {
        let set_risk = |parts: &[Outlook]| {
            let of_type = parts
                .iter()
                .filter(|part| part.component_type == component.component_type);
            let states = of_type.filter_map(Outlook::state);
            any_of(states.map(|state| state.made.prediction.risk_next_event))
        };
        let refused = obstacles.iter().any(|obstacle| obstacle.refuses);
        let unit = self.outlook_of(&ask.unit, self.build_now(&ask.unit)?, to, event);
        let (before, after) = (set_risk(&to.before), set_risk(&to.after));
        let verdict = verdict(component, &unit, &obstacles, (before, after));
        let cards: Vec<&Card> = to
            .after
            .iter()
            .filter_map(Outlook::state)
            .map(|state| &*state.folded.card)
            .collect();
        let mut notes = vec![words::independent()];
        notes.extend(to.after.iter().filter_map(|part| {
            let error = part.state.as_ref().err()?;
            Some(words::has_none(&part.component, error))
        }));
        let outlook = to.after.iter().find(|part| part.component == ask.component);
        let outlook = outlook
            .map(Outlook::told)
            .ok_or_else(|| LedgerError::Internal {
                message: format!("{} was lost on its way; report this", ask.component),
            })?;
        let mut leaves_behind = Vec::new();
        let from = left.map(|(unit, build, event, both)| {
            leaves_behind.extend(behind(component, &unit, &both));
            self.outlook_of(&unit, build, &both, &event)
        });
        Ok(PartMove {
            component: ask.component.clone(),
            component_type: component.component_type.clone(),
            profile: event.profile.name.clone(),
            position,
            replaces,
            refused,
            verdict,
            obstacles,
            outlook,
            set_risk: before,
            set_risk_after: after,
            to: unit,
            from,
            leaves_behind,
            notes,
            cautions: words::cautions(cards.into_iter()),
        })
    }
}

/// Which part is at the place, by index; several of its type need a position to tell them apart.
fn check(
    ask: &AskPartMove,
    component: &Component,
    there: &[Outlook],
) -> Result<Option<usize>, LedgerError> {
    let mut violations = Violations::default();
    check_event(&mut violations, &ask.event);
    check_text(&mut violations, "position", &ask.position, 255);
    let installed = component.installed_build.as_ref();
    if installed.is_some_and(|build| build.parent() == ask.unit) {
        let remedy = "name another unit";
        violations.add("unit", &ask.unit, "another unit than it is in", remedy);
    }
    let of_type: Vec<usize> = (0..there.len())
        .filter(|index| there[*index].component_type == component.component_type)
        .collect();
    let found = if ask.position.is_empty() {
        if of_type.len() > 1 {
            let positions: Vec<&str> = of_type
                .iter()
                .map(|index| there[*index].position.as_str())
                .collect();
            let expected = format!("one of {}", positions.join(", "));
            violations.add("position", "", &expected, "say where it would go");
        }
        of_type.first().copied()
    } else {
        let at = |index: &usize| there[*index].position == ask.position;
        let mut all = 0..there.len();
        of_type.iter().copied().find(at).or_else(|| all.find(at))
    };
    violations.into_result()?;
    Ok(found)
}

/// What the old unit is without it.
fn behind(component: &Component, unit: &UnitName, both: &BeforeAndAfter) -> Vec<String> {
    let id = component.name.component();
    let mut said = Vec::new();
    let place = both
        .before
        .iter()
        .find(|part| part.component == component.name);
    let place = place.map(|part| part.position.as_str()).unwrap_or_default();
    let at = if place.is_empty() {
        String::new()
    } else {
        format!(" at {place}")
    };
    said.push(format!(
        "{unit} is without {id}{at}: it does not run until another {} is there.",
        component.component_type.replace('_', " ")
    ));
    for part in &both.after {
        let Some(state) = part.state() else { continue };
        let mut needs = state.folded.card.duty.mates.iter();
        if needs.any(|need| need.component_type == component.component_type) {
            said.push(format!(
                "{} has run with {id} and would run with another.",
                part.component.component()
            ));
        }
    }
    said
}

fn verdict(
    component: &Component,
    to: &UnitOutlook,
    obstacles: &[Obstacle],
    (set, set_after): (f64, f64),
) -> String {
    let refusals: Vec<&str> = obstacles
        .iter()
        .filter(|obstacle| obstacle.refuses)
        .map(|obstacle| obstacle.text.as_str())
        .collect();
    let id = component.name.component();
    let figures = format!(
        "With it the risk of the {} together in the next event is {} instead of {}, that of the unit {} instead of {}, and its \
         earliest limit comes after {} instead of {}.",
        component.component_type.replace('_', " "),
        words::risk(set_after),
        words::risk(set),
        words::risk(to.risk_after),
        words::risk(to.risk),
        words::limit(&to.earliest_after),
        words::limit(&to.earliest),
    );
    if refusals.is_empty() {
        format!("Nothing in this ledger refuses {id} there. {figures}")
    } else {
        format!("No: {}. {figures}", refusals.join("; "))
    }
}
