//! From places and what is ahead to the program of a season.

use super::{
    ahead::Ahead,
    limits::{Bar, bars_of_present, new_may_run},
    parts::{Drawn, Place},
    program::{CAPPED, Level, Part, Program, Renewal, Shelf, Stop},
    spells::{CLASSES, Use},
};
use crate::{PartPrice, RiskCaps, TeardownLevel};
use std::collections::{BTreeMap, BTreeSet};

/// A place whose part has drawn lives.
pub(super) struct Planned<'a> {
    pub(super) place: &'a Place,
    pub(super) drawn: &'a Drawn,
    /// Of its type; `None`: it is not replaced.
    pub(super) price: Option<&'a PartPrice>,
    pub(super) uses: Vec<Use>,
    /// Limits of the part that is there, the nearest first.
    pub(super) bars: Vec<Bar>,
}

/// Places that can be planned.
pub(super) fn planned<'a>(
    ahead: &'a Ahead,
    places: &'a [Place],
    profile_hours: f64,
) -> Vec<Planned<'a>> {
    let with_lives = places
        .iter()
        .filter_map(|place| Some((place, place.drawn.as_ref().ok()?)));
    with_lives
        .map(|(place, drawn)| {
            let kind = place.component_type.as_str();
            let mut prices = ahead.calendar.content.parts.iter();
            Planned {
                place,
                drawn,
                price: prices.find(|price| price.component_type == kind),
                uses: uses_of(ahead, kind),
                bars: bars_of_present(ahead, kind, drawn, profile_hours),
            }
        })
        .collect()
}

fn uses_of(ahead: &Ahead, component_type: &str) -> Vec<Use> {
    let costs = &ahead.calendar.content.failure_costs;
    let events = ahead.events.iter();
    events
        .map(|event| {
            let lost = if event.event.race {
                costs.did_not_finish
            } else {
                0.0
            };
            let by_class: [f64; CLASSES] = [
                costs.nuisance,
                costs.power_loss,
                costs.unit_loss + lost,
                costs.hazard + lost,
            ];
            Use {
                duty: event.duty,
                severity: event.severity(component_type),
                costs: by_class,
            }
        })
        .collect()
}

/// The season as a program.
pub(super) fn program(
    ahead: &Ahead,
    planned: &[Planned<'_>],
    replace_nothing: bool,
    ledger_caps: &RiskCaps,
) -> Program {
    let content = &ahead.calendar.content;
    let rate_per_min = content.labour_rate_per_h / 60.0;
    let level = |level: &TeardownLevel| Level {
        cost: level.cost + level.labour_min * rate_per_min,
        labour_min: level.labour_min,
    };
    let caps: [f64; CAPPED] = caps_of(ahead, ledger_caps);
    Program {
        events: ahead.events.len(),
        stops: ahead
            .stops
            .iter()
            .map(|stop| stop_of(ahead, stop.opportunity, stop.before_event))
            .collect(),
        levels: content.levels.iter().map(level).collect(),
        parts: planned
            .iter()
            .map(|planned| part_of(ahead, planned, replace_nothing))
            .collect(),
        caps,
        shelves: shelves(ahead, planned),
    }
}

/// Of losing the unit or worse, of an end that can hurt people.
pub(super) fn caps_of(ahead: &Ahead, ledger_caps: &RiskCaps) -> [f64; CAPPED] {
    let caps = &ahead.calendar.content.risk_caps;
    [
        caps.unit_loss.unwrap_or(ledger_caps.unit_loss),
        caps.hazard.unwrap_or(ledger_caps.hazard),
    ]
}

fn stop_of(ahead: &Ahead, opportunity: usize, before_event: usize) -> Stop {
    let content = &ahead.calendar.content;
    let given = content.opportunities.get(opportunity);
    let possible = |name: &str| {
        given.is_none_or(|o| o.levels.is_empty() || o.levels.iter().any(|l| l == name))
    };
    let levels = content.levels.iter().enumerate();
    Stop {
        before_event,
        levels: levels
            .filter(|(_, level)| possible(&level.name))
            .map(|(index, _)| index)
            .collect(),
        available_min: given.and_then(|opportunity| opportunity.available_min),
    }
}

fn part_of(ahead: &Ahead, planned: &Planned<'_>, replace_nothing: bool) -> Part {
    let starts: BTreeSet<usize> = ahead.stops.iter().map(|stop| stop.before_event).collect();
    let price = planned.price.filter(|_| !replace_nothing);
    let mut new = BTreeMap::new();
    if price.is_some() {
        for start in &starts {
            let uses = planned.uses.get(*start..).unwrap_or_default();
            new.insert(*start, planned.drawn.new.spell(uses));
        }
    }
    let kind = &planned.place.component_type;
    let renewal = price.map(|price| Renewal {
        price: price.price,
        fitting_cost: price.fitting_min * ahead.calendar.content.labour_rate_per_h / 60.0,
        fitting_min: price.fitting_min,
        levels: (!price.level.is_empty()).then(|| levels_for(ahead, &price.level)),
        may_run: starts
            .iter()
            .map(|start| (*start, new_may_run(ahead, kind, *start)))
            .collect(),
    });
    Part {
        present: planned.drawn.present.spell(&planned.uses),
        present_may_run: planned
            .bars
            .first()
            .map_or(ahead.events.len(), |bar| bar.may_run),
        new,
        renewal,
    }
}

/// Levels that serve parts of a level: itself and those that include it, and so on.
fn levels_for(ahead: &Ahead, level: &str) -> Vec<usize> {
    let levels = &ahead.calendar.content.levels;
    let mut serving: BTreeSet<&str> = BTreeSet::from([level]);
    // Each round adds a level or ends it.
    for _ in levels {
        let more = levels
            .iter()
            .filter(|other| other.includes.iter().any(|l| serving.contains(l.as_str())));
        let more: Vec<&str> = more.map(|other| other.name.as_str()).collect();
        serving.extend(more);
    }
    let indices = levels.iter().enumerate();
    indices
        .filter(|(_, level)| serving.contains(level.name.as_str()))
        .map(|(index, _)| index)
        .collect()
}

fn shelves(ahead: &Ahead, planned: &[Planned<'_>]) -> Vec<Shelf> {
    let prices = ahead.calendar.content.parts.iter();
    prices
        .map(|price| {
            let of_type = |each: &Planned<'_>| each.place.component_type == price.component_type;
            let parts = planned.iter().enumerate().filter(|(_, each)| of_type(each));
            let stops = ahead.stops.iter().enumerate();
            Shelf {
                parts: parts.map(|(index, _)| index).collect(),
                stops: stops
                    .filter(|(_, stop)| !can_be_ordered(ahead, price, stop.time))
                    .map(|(i, _)| i)
                    .collect(),
                stock: price.stock,
            }
        })
        .filter(|shelf| !shelf.parts.is_empty() && !shelf.stops.is_empty())
        .collect()
}

/// Whether an order from now on is there in time.
pub(super) fn can_be_ordered(
    ahead: &Ahead,
    price: &PartPrice,
    time: Option<jiff::Timestamp>,
) -> bool {
    if price.lead_days <= 0.0 {
        return true;
    }
    match (ahead.as_of_time, time) {
        (Some(now), Some(time)) => now + super::ahead::days(price.lead_days) <= time,
        // Before a season of which nothing has begun there is time to order, but not for what is done now.
        (None, Some(_)) => true,
        (_, None) => false,
    }
}
