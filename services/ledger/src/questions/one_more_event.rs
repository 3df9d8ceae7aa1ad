//! Run one more event, or pull it?

use super::{
    asked::{check_event, check_price, check_prices, price_of},
    money::{Prospect, unused_shares, weigh},
    outlook::{Outlook, any_of, earliest_of, earliest_told},
    overriding::overriding,
    words,
};
use crate::{
    Action, AskOneMoreEvent, AskedOf, ComponentName, Decision, LedgerError, OneMoreEvent,
    Overriding, PartInEvent, RunOrPull, Stakes, UnitName,
    compare::quantiles_of,
    ledger::{Ledger, installation_at},
    predict::Event,
    violations::Violations,
};
use ringland_host::contract::Card;

/// What was found before the decision.
struct Found {
    parts: Vec<Outlook>,
    overriding: Vec<Overriding>,
    cost: Option<RunOrPull>,
    risk: f64,
    failure_risk: f64,
}

impl Ledger {
    /// Weighs one more event against pulling now. Nothing is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when there is
    /// no profile or nothing is installed, and the store's. A part without a model is told of and left out.
    pub fn ask_one_more_event(&self, ask: &AskOneMoreEvent) -> Result<OneMoreEvent, LedgerError> {
        check(ask)?;
        let (unit, event, parts) = self.asked_parts(ask)?;
        let caps = &self.options.risk_caps;
        let mut stops = Vec::new();
        if let Some(unit) = &unit {
            let mut installed = self.installed_now(unit)?;
            installed.retain(|i| parts.iter().any(|part| part.component == i.component));
            stops.extend(self.open_alarms(unit, &installed)?);
        }
        let states = || parts.iter().filter_map(Outlook::state);
        stops.extend(states().flat_map(|state| overriding(state, caps)));
        let risk = any_of(states().map(|state| state.made.prediction.risk_next_event));
        let failure_risk = any_of(states().map(super::outlook::State::failure_risk));
        let prospects = self.prospects(&parts, &event, ask.stakes.as_ref())?;
        let cost = ask.stakes.as_ref().and_then(|stakes| {
            let forced: Vec<ComponentName> = stops
                .iter()
                .filter_map(|stop| stop.component.clone())
                .collect();
            weigh(stakes, &prospects, &forced)
        });
        let found = Found {
            parts,
            overriding: stops,
            cost,
            risk,
            failure_risk,
        };
        Ok(self.answer(ask, unit, &event, found, &prospects))
    }

    /// The unit, the event and the parts asked about.
    fn asked_parts(
        &self,
        ask: &AskOneMoreEvent,
    ) -> Result<(Option<UnitName>, Event, Vec<Outlook>), LedgerError> {
        match &ask.of {
            AskedOf::Unit(unit) => {
                let event = self.event_in_unit(&ask.event, unit)?;
                let parts = self.outlooks(unit, &event)?;
                Ok((Some(unit.clone()), event, parts))
            }
            AskedOf::Component(component) => {
                let event = self.event_of_component(&ask.event, component)?;
                let place = installation_at(&*self.store, component, None)?;
                let place = place.filter(|i| i.remove_time.is_none());
                let part = self.outlook(component, place.as_ref(), &event)?;
                // What was asked about alone must have an answer.
                if let Err(error) = &part.state {
                    return Err(error.clone());
                }
                Ok((place.map(|i| i.build.parent()), event, vec![part]))
            }
        }
    }

    fn prospects(
        &self,
        parts: &[Outlook],
        event: &Event,
        stakes: Option<&Stakes>,
    ) -> Result<Vec<Prospect>, LedgerError> {
        let mut prospects = Vec::new();
        for part in parts {
            let Some(state) = part.state() else { continue };
            let new = self.new_like(state, event)?;
            prospects.push(Prospect {
                component: part.component.clone(),
                failure_risk: state.failure_risk(),
                failure_risk_new: new.failure_risk(),
                replace_cost: stakes.and_then(|stakes| {
                    price_of(&stakes.replace_costs, &part.component, &part.component_type)
                }),
                unused: unused_shares(&state.lives(), &new.lives()),
            });
        }
        Ok(prospects)
    }

    fn answer(
        &self,
        ask: &AskOneMoreEvent,
        unit: Option<UnitName>,
        event: &Event,
        found: Found,
        prospects: &[Prospect],
    ) -> OneMoreEvent {
        let states: Vec<_> = found.parts.iter().map(Outlook::state).collect();
        let (samples, horizon) = (self.options.samples, self.options.horizon_events);
        let earliest = earliest_told(&earliest_of(&states, samples, horizon), &states, event);
        let decision = decide(&found);
        let mut notes = vec![words::independent()];
        notes.extend(found.parts.iter().filter_map(|part| {
            let error = part.state.as_ref().err()?;
            Some(words::has_none(&part.component, error))
        }));
        let mut parts: Vec<PartInEvent> = found
            .parts
            .iter()
            .map(|part| PartInEvent {
                outlook: part.told(),
                unused_share: prospects
                    .iter()
                    .find(|prospect| prospect.component == part.component)
                    .map(|prospect| quantiles_of(&prospect.unused)),
            })
            .collect();
        parts.sort_by(|a, b| risk_of(b).total_cmp(&risk_of(a)));
        let cards: Vec<&Card> = states.iter().flatten().map(|s| &*s.folded.card).collect();
        OneMoreEvent {
            unit,
            profile: event.profile.name.clone(),
            severity: ask.event.severity.unwrap_or(1.0),
            verdict: verdict(decision, &found),
            why: why(&found, &parts, ask.stakes.as_ref()),
            cautions: words::cautions(cards.into_iter()),
            decision,
            risk: found.risk,
            failure_risk: found.failure_risk,
            parts,
            earliest,
            cost: found.cost,
            overriding: found.overriding,
            notes,
        }
    }
}

fn check(ask: &AskOneMoreEvent) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    check_event(&mut violations, &ask.event);
    if let Some(stakes) = &ask.stakes {
        for (field, price) in [
            ("stakes.failure_cost", stakes.failure_cost),
            ("stakes.unfinished_event_cost", stakes.unfinished_event_cost),
            ("stakes.missed_event_cost", stakes.missed_event_cost),
        ] {
            check_price(&mut violations, field, price);
        }
        check_prices(
            &mut violations,
            "stakes.replace_costs",
            &stakes.replace_costs,
        );
    }
    violations.into_result()
}

fn risk_of(part: &PartInEvent) -> f64 {
    part.outlook.figures.as_ref().map_or(-1.0, |f| f.risk)
}

/// Whatever overrides comes first, then money where it is clear, then what the models advise.
fn decide(found: &Found) -> Decision {
    let dearer = |cost: &RunOrPull| cost.pull.at_most.is_some_and(|pull| cost.run > pull);
    if !found.overriding.is_empty() || found.cost.as_ref().is_some_and(dearer) {
        return Decision::Pull;
    }
    let unknown = found.parts.iter().any(|part| part.state.is_err());
    if unknown || strictest(found).is_some() {
        return Decision::LookFirst;
    }
    Decision::Run
}

/// The strictest advice that is not to run on.
fn strictest(found: &Found) -> Option<&crate::Prediction> {
    let predictions = found.parts.iter().filter_map(Outlook::state);
    predictions
        .map(|state| &state.made.prediction)
        .filter(|prediction| prediction.advice.action > Action::Run)
        .max_by_key(|prediction| prediction.advice.action)
}

fn verdict(decision: Decision, found: &Found) -> String {
    let money = found.cost.as_ref().map(money).unwrap_or_default();
    let said = match (decision, found.overriding.split_first()) {
        (Decision::Pull, Some((first, others))) => {
            let more = match others.len() {
                0 => String::new(),
                count => format!(" (and {count} more, below)"),
            };
            format!(
                "Pull it, whatever the money says: {}{more}. {}",
                first.text, first.closes
            )
        }
        (Decision::Pull, None) => {
            let replaced = found.cost.as_ref().map(|cost| words::names(&cost.replaced));
            format!(
                "Pull it and replace {}. {money}",
                replaced.unwrap_or_default()
            )
        }
        (Decision::LookFirst, _) => match strictest(found) {
            Some(prediction) => format!(
                "Look before it runs: {}: {} {money}",
                prediction.component.component(),
                prediction.advice.text
            ),
            None => format!("Look before it runs: a part has no prediction. {money}"),
        },
        (Decision::Run, _) => format!(
            "Nothing known speaks against one more event; the risk stays: {} that some part comes to a limit in it, {} that \
             one fails at the unit's cost. {money}",
            words::risk(found.risk),
            words::risk(found.failure_risk),
        ),
    };
    said.trim_end().to_owned()
}

fn money(cost: &RunOrPull) -> String {
    let decides = match (cost.pull.at_least, cost.pull.at_most) {
        (_, Some(most)) if cost.run > most => "",
        (Some(least), _) if cost.run <= least => "",
        _ => " The horizon leaves open which is less.",
    };
    format!(
        "Running is expected to lose {}, pulling {} now {} (of which {} is life thrown away).{decides}",
        words::amount(cost.run),
        words::names(&cost.replaced),
        words::amounts(cost.pull),
        words::amounts(cost.thrown_away),
    )
}

fn why(found: &Found, parts: &[PartInEvent], stakes: Option<&Stakes>) -> Vec<String> {
    let mut why: Vec<String> = found
        .overriding
        .iter()
        .map(|stop| format!("{}. {}", stop.text, stop.closes))
        .collect();
    for part in parts.iter().take(3) {
        let Ok(figures) = &part.outlook.figures else {
            continue;
        };
        let life = &figures.life;
        why.push(format!(
            "{}: risk {} in the event, {} at the unit's cost; {} left; {}",
            part.outlook.component.component(),
            words::risk(figures.risk),
            words::risk(figures.failure_risk),
            crate::compare::events(&life.events, life.horizon_events),
            figures.advice.text,
        ));
    }
    if stakes.is_some() && found.cost.is_none() {
        why.push("No part has a price of replacing it: the money is not weighed.".into());
    }
    why
}
