//! Calendars, plans, ages of replacement, overrides.

mod ages;
mod calendars;
mod limits;
mod replacing;
mod risks;

use crate::{
    fake::{FakePlugin, wear_part},
    shop::{Shop, at, unit},
};
use ringland_host::contract::{Card, Consequence};
use ringland_ledger::{
    CalendarEvent, CalendarInput, CalendarName, EventRiskCaps, FailureCosts, LedgerOptions,
    LimitOwner, MakePlan, Opportunity, PartLimit, PartPrice, Plan, TeardownLevel,
};

/// Hours between two events.
const WEEK_H: f64 = 168.0;

/// A wear part whose wear costs the unit, with a median life of about eight events of the profile.
fn costly(component_type: &str) -> FakePlugin {
    let mut card = Card {
        component_type: component_type.into(),
        ..wear_part()
    };
    card.mechanisms[0].consequence = Consequence::UnitLoss;
    card.readings[0].instrument_sd = 0.01;
    FakePlugin {
        rate: 2.5e-8,
        ..FakePlugin::of(card)
    }
}

/// An engine with one part of each type.
fn shop(types: &[&str]) -> Shop {
    let shop = Shop::opened(LedgerOptions {
        samples: 512,
        ..LedgerOptions::default()
    });
    for component_type in types {
        shop.activate(&costly(component_type));
        shop.installed(
            &component_type.replace('_', "-"),
            component_type,
            "engine-a",
        );
    }
    shop
}

fn code(index: usize) -> String {
    format!("R{}", index + 1)
}

/// A race a week from the second on.
fn race(index: usize) -> CalendarEvent {
    CalendarEvent {
        code: code(index),
        start_time: at(WEEK_H * (index as f64 + 1.0)),
        severity: 1.0,
        race: true,
        ..CalendarEvent::default()
    }
}

fn price(component_type: &str) -> PartPrice {
    PartPrice {
        component_type: component_type.into(),
        price: 700.0,
        fitting_min: 60.0,
        level: "top_end".into(),
        lead_days: 0.0,
        stock: 0,
    }
}

/// So many races with a teardown before each.
fn season(races: usize, types: &[&str]) -> CalendarInput {
    let after = |index: usize| {
        if index == 0 {
            String::new()
        } else {
            code(index - 1)
        }
    };
    CalendarInput {
        display_name: "Season".into(),
        events: (0..races).map(race).collect(),
        opportunities: (0..races)
            .map(|index| Opportunity {
                after_event: after(index),
                ..Opportunity::default()
            })
            .collect(),
        levels: vec![TeardownLevel {
            name: "top_end".into(),
            labour_min: 240.0,
            cost: 60.0,
            includes: Vec::new(),
        }],
        parts: types.iter().map(|kind| price(kind)).collect(),
        labour_rate_per_h: 75.0,
        failure_costs: FailureCosts {
            unit_loss: 22_000.0,
            did_not_finish: 4_500.0,
            ..FailureCosts::default()
        },
        risk_caps: EventRiskCaps {
            unit_loss: Some(0.5),
            hazard: None,
        },
        ..CalendarInput::default()
    }
}

fn name() -> CalendarName {
    CalendarName::new("season").unwrap()
}

fn put(shop: &Shop, content: CalendarInput) -> u32 {
    let put = shop.ledger.put_calendar("season", content, "", "");
    put.unwrap().revision
}

fn wanted() -> MakePlan {
    MakePlan {
        unit: unit("engine-a"),
        calendar: name(),
        as_of_time: None,
        substitutions: Vec::new(),
        samples: None,
        replace_nothing: false,
    }
}

fn plan(shop: &Shop, content: CalendarInput) -> Plan {
    put(shop, content);
    shop.ledger.make_plan(&wanted()).unwrap()
}

fn replaced(plan: &Plan) -> Vec<(&str, Vec<&str>)> {
    plan.teardowns
        .iter()
        .map(|teardown| {
            let parts = teardown
                .replacements
                .iter()
                .map(|r| r.component.component());
            (teardown.after_event.as_str(), parts.collect())
        })
        .collect()
}

fn limit(component_type: &str, most_events: f64) -> PartLimit {
    PartLimit {
        component_type: component_type.into(),
        most_hours: None,
        most_events: Some(most_events),
        owner: LimitOwner::Maker,
        source: "sheet of the springs".into(),
    }
}
