//! Buy the spare now?

use super::{
    asked::{check_event, check_price},
    outlook::{Outlook, earliest_of},
    stock::Season,
    words,
};
use crate::{
    AskSpare, LedgerError, Reason, SpareAnswer, SpareEvent, UnitName,
    ledger::Ledger,
    predict::{quantiles, warning},
    violations::Violations,
};
use jiff::{SignedDuration, Timestamp};
use ringland_host::contract::{Card, Finding};
use std::{collections::BTreeSet, sync::Arc};

const MOST_UNITS: usize = 20;
const MOST_EVENTS: usize = 60;
const DAY_S: f64 = 86_400.0;

/// The units' drawn lives and what their parts say.
#[derive(Default)]
struct Fleet {
    /// By unit, then by draw.
    lives: Vec<Vec<f64>>,
    cards: Vec<Arc<Card>>,
    notes: Vec<Finding>,
}

/// Losses of every drawn season.
struct Losses {
    without: Vec<f64>,
    /// With a spare from each event on.
    with: Vec<Vec<f64>>,
}

impl Ledger {
    /// Tells how likely it is that some unit is down at each event to come, and whether a spare pays. Nothing is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when a unit has
    /// no profile or nothing of the type, and the store's.
    pub fn ask_spare(&self, ask: &AskSpare) -> Result<SpareAnswer, LedgerError> {
        let count = check(ask)?;
        let season = Season {
            days: days(ask, count),
            lead_days: ask.lead_time_days,
        };
        let mut fleet = Fleet::default();
        for unit in &ask.units {
            self.add_unit(ask, unit, &mut fleet)?;
        }
        let losses = losses(&season, &fleet.lives, ask.missed_event_cost);
        Ok(self.spare_answer(ask, &season, fleet, &losses))
    }

    fn add_unit(
        &self,
        ask: &AskSpare,
        unit: &UnitName,
        fleet: &mut Fleet,
    ) -> Result<(), LedgerError> {
        let event = self.event_in_unit(&ask.event, unit)?;
        let parts = self.outlooks(unit, &event)?;
        let counts = |part: &&Outlook| {
            ask.component_type.is_empty() || part.component_type == ask.component_type
        };
        let parts: Vec<&Outlook> = parts.iter().filter(counts).collect();
        let states: Vec<_> = parts.iter().map(|part| part.state()).collect();
        if states.iter().all(Option::is_none) {
            let text = format!(
                "{unit} has nothing{} that has a life; name a type that is installed in it, or leave the unit out",
                if ask.component_type.is_empty() {
                    String::new()
                } else {
                    format!(" of type {}", ask.component_type)
                }
            );
            return Err(LedgerError::precondition(Reason::NotInstalled, unit, text));
        }
        for part in &parts {
            match &part.state {
                Ok(state) => fleet.cards.push(state.folded.card.clone()),
                Err(error) => fleet.notes.push(words::has_none(&part.component, error)),
            }
        }
        let earliest = earliest_of(&states, self.options.samples, self.options.horizon_events);
        fleet.lives.push(earliest.events);
        Ok(())
    }

    fn spare_answer(
        &self,
        ask: &AskSpare,
        season: &Season,
        fleet: Fleet,
        losses: &Losses,
    ) -> SpareAnswer {
        let samples = losses.without.len().max(1) as f64;
        let mean = |values: &[f64]| values.iter().sum::<f64>() / samples;
        let loss_without = mean(&losses.without);
        let avoided: Vec<Vec<f64>> = losses
            .with
            .iter()
            .map(|with| {
                losses
                    .without
                    .iter()
                    .zip(with)
                    .map(|(a, b)| a - b)
                    .collect()
            })
            .collect();
        let now = avoided.first().cloned().unwrap_or_default();
        let break_even_price = mean(&now);
        let variance = now
            .iter()
            .map(|a| (a - break_even_price).powi(2))
            .sum::<f64>()
            / samples;
        let events: Vec<SpareEvent> = (0..season.days.len())
            .map(|index| {
                let by_unit: Vec<f64> = fleet
                    .lives
                    .iter()
                    .map(|lives| down_by(season, lives, index))
                    .collect();
                SpareEvent {
                    event: u32::try_from(index + 1).unwrap_or(u32::MAX),
                    time: ask.event_times.get(index).copied(),
                    down_probability: super::outlook::any_of(by_unit.iter().copied()),
                    by_unit,
                    avoided_from_here: avoided.get(index).map_or(0.0, |a| mean(a)),
                }
            })
            .collect();
        let pays = break_even_price > ask.spare_price;
        let latest = events
            .iter()
            .rfind(|event| pays && event.avoided_from_here >= ask.spare_price);
        let order = latest.and_then(|event| {
            let lead = SignedDuration::from_secs_f64(ask.lead_time_days * DAY_S);
            event.time?.checked_sub(lead).ok()
        });
        let error = (variance / samples).sqrt();
        let down = |event: Option<&SpareEvent>| down_words(event, losses.without.len());
        let figures = figures(
            ask,
            (break_even_price, error),
            events.len(),
            &down(events.last()),
        );
        let verdict = verdict(&figures, pays, latest, order);
        let why = vec![
            format!(
                "Some unit has come to a limit by the end of the first event with {}, by the end of the last with {}.",
                down(events.first()),
                down(events.last()),
            ),
            format!(
                "Events missed until another is fitted are expected to cost {} without a spare and {} with one.",
                words::amount(loss_without),
                words::amount(loss_without - break_even_price)
            ),
            "Counted is the first end of each unit in these events; what takes its place is taken to outlive them. The event of the \
             end itself is lost with a spare or without. What the spare is worth at the end of the season is not taken off its price."
                .into(),
        ];
        let mut notes = fleet.notes;
        notes.push(words::independent());
        notes.push(warning(
            "units".into(),
            "drawn independently of each other".into(),
            "units of one shop, which share builders, batches and what is learnt of rates",
            "where they come to their limits together, one spare saves less than told".into(),
        ));
        SpareAnswer {
            units: ask.units.clone(),
            component_type: ask.component_type.clone(),
            pays,
            verdict,
            why,
            loss_without,
            loss_with: loss_without - break_even_price,
            avoided: quantiles(&now),
            break_even_price,
            break_even_error: error,
            latest_arrival_event: latest.map(|event| event.event),
            latest_order_time: order,
            events,
            samples: self.options.samples,
            notes,
            cautions: words::cautions(fleet.cards.iter().map(|card| &**card)),
        }
    }
}

/// Checks the call; returns how many events there are.
fn check(ask: &AskSpare) -> Result<usize, LedgerError> {
    let mut violations = Violations::default();
    check_event(&mut violations, &ask.event);
    check_price(&mut violations, "spare_price", ask.spare_price);
    check_price(&mut violations, "missed_event_cost", ask.missed_event_cost);
    if !(1..=MOST_UNITS).contains(&ask.units.len()) {
        let remedy = "name the units that it would serve";
        violations.add("units", ask.units.len(), "1 to 20 units", remedy);
    }
    let different: BTreeSet<&UnitName> = ask.units.iter().collect();
    if different.len() < ask.units.len() {
        violations.add(
            "units",
            "one twice",
            "each unit once",
            "leave the second out",
        );
    }
    if !(0.0..=3650.0).contains(&ask.lead_time_days) {
        let remedy = "give the days from order to fitted";
        violations.add(
            "lead_time_days",
            ask.lead_time_days,
            "0 to 3650 days",
            remedy,
        );
    }
    let given = ask.event_times.len();
    let count = if given > 0 {
        given
    } else {
        ask.events as usize
    };
    if !(1..=MOST_EVENTS).contains(&count) {
        let field = if given > 0 { "event_times" } else { "events" };
        violations.add(field, count, "1 to 60 events", "say what is to come");
    }
    if given > 0 && ask.events > 0 && ask.events as usize != given {
        let remedy = "leave one of them out";
        violations.add("events", ask.events, "as many as event_times", remedy);
    }
    let rising = ask.event_times.is_sorted_by(|one, other| one < other);
    if !rising {
        let remedy = "put them in order";
        violations.add(
            "event_times",
            "not rising",
            "each after the one before",
            remedy,
        );
    }
    if given == 0 && !(0.1..=365.0).contains(&ask.days_between_events) {
        let remedy = "give it, or the times of the events";
        let expected = "0.1 to 365 days";
        violations.add(
            "days_between_events",
            ask.days_between_events,
            expected,
            remedy,
        );
    }
    violations.into_result()?;
    Ok(count)
}

/// Day of each event from the first.
fn days(ask: &AskSpare, count: usize) -> Vec<f64> {
    let Some(first) = ask.event_times.first() else {
        return (0..count)
            .map(|index| index as f64 * ask.days_between_events)
            .collect();
    };
    let since = |time: &Timestamp| time.duration_since(*first).as_secs_f64() / DAY_S;
    ask.event_times.iter().map(since).collect()
}

fn losses(season: &Season, lives: &[Vec<f64>], cost: f64) -> Losses {
    let draws = lives.iter().map(Vec::len).min().unwrap_or(0);
    let ends: Vec<Vec<Option<usize>>> = (0..draws)
        .map(|draw| {
            let of_draw = lives.iter().filter_map(|unit| unit.get(draw));
            of_draw.map(|life| season.event_of(*life)).collect()
        })
        .collect();
    let loss = |from: Option<usize>| -> Vec<f64> {
        let missed = ends.iter().map(|ends| season.missed(ends, from));
        missed.map(|missed| missed as f64 * cost).collect()
    };
    Losses {
        without: loss(None),
        with: (0..season.days.len())
            .map(|event| loss(Some(event)))
            .collect(),
    }
}

/// How many of the drawn lives are over by the end of an event.
fn down_by(season: &Season, lives: &[f64], event: usize) -> f64 {
    let over = |life: &&f64| season.event_of(**life).is_some_and(|end| end <= event);
    lives.iter().filter(over).count() as f64 / lives.len().max(1) as f64
}

/// How likely some unit is down by the end of an event, in words.
fn down_words(event: Option<&SpareEvent>, draws: usize) -> String {
    event.map_or_else(String::new, |event| {
        words::counted(event.down_probability, event.by_unit.len(), draws)
    })
}

fn figures(ask: &AskSpare, (worth, error): (f64, f64), events: usize, down: &str) -> String {
    let clear = (worth - ask.spare_price).abs() > 2.0 * error;
    let doubt = if clear {
        ""
    } else {
        " The difference is within the error of the draws: not clear."
    };
    format!(
        "over {events} events it is expected to avoid {} (+-{} by the number of draws) for a price of {}; with {down} some unit comes to a limit in them.{doubt}",
        words::amount(worth),
        words::amount(error),
        words::amount(ask.spare_price),
    )
}

fn verdict(
    figures: &str,
    pays: bool,
    latest: Option<&SpareEvent>,
    order: Option<Timestamp>,
) -> String {
    if !pays {
        return format!("Not by these figures: {figures}");
    }
    let by = match (latest, order) {
        (_, Some(order)) => format!(" Order it by {order} at the latest."),
        (Some(event), None) => format!(" It must be there by event {} at the latest.", event.event),
        (None, None) => String::new(),
    };
    format!("Buy it: {figures}{by}")
}
