//! Plans over real gRPC with the real plugins and from the command line: what to replace when, the risk at every event, what to
//! look at; limits that nothing passes; overrides; ages of replacement.

mod ages;
mod command;
mod limits;
mod season;

use ringland_proto::v1::{
    Calendar, CalendarEvent, EventRiskCaps, FailureCosts, Opportunity, PartPrice,
    PutCalendarRequest, TeardownLevel,
};
use ringland_tests::{Clients, Server, Shop, at, install, open_shop};

const DAY_S: i64 = 86_400;

/// Of the engine that is planned here.
const TYPES: [&str; 3] = ["ring_pack", "piston_pin", "plain_bearing"];

/// A server with three models, an engine with a part of each, an event profile.
async fn open() -> (Server, Clients, Shop) {
    let (server, mut clients, shop) = open_shop(&TYPES).await;
    for kind in ["piston_pin", "plain_bearing"] {
        install(&mut clients, &shop.build, &kind.replace('_', "-"), kind).await;
    }
    (server, clients, shop)
}

fn event(index: i64, shop: &Shop) -> CalendarEvent {
    CalendarEvent {
        code: format!("R{index}"),
        start_time: Some(at(14 * DAY_S * index)),
        profile: shop.profile.clone(),
        severity: Some(2.0),
        race: true,
        ..Default::default()
    }
}

/// Races a fortnight apart, a teardown before each.
fn season(races: i64, shop: &Shop) -> Calendar {
    let after = |index: i64| {
        if index == 1 {
            String::new()
        } else {
            format!("R{}", index - 1)
        }
    };
    let price = |kind: &&str| PartPrice {
        component_type: (*kind).into(),
        price: 600.0,
        fitting_min: 90.0,
        level: "strip".into(),
        ..Default::default()
    };
    Calendar {
        display_name: "Season".into(),
        events: (1..=races).map(|index| event(index, shop)).collect(),
        opportunities: (1..=races)
            .map(|index| Opportunity {
                after_event: after(index),
                ..Default::default()
            })
            .collect(),
        levels: vec![TeardownLevel {
            name: "strip".into(),
            labour_min: 480.0,
            cost: 120.0,
            ..Default::default()
        }],
        parts: TYPES.iter().map(price).collect(),
        labour_rate_per_h: 75.0,
        failure_costs: Some(FailureCosts {
            nuisance: 50.0,
            power_loss: 1500.0,
            unit_loss: 22_000.0,
            hazard: 50_000.0,
            did_not_finish: 4_500.0,
        }),
        risk_caps: Some(EventRiskCaps {
            unit_loss: Some(0.3),
            hazard: Some(0.3),
        }),
        ..Default::default()
    }
}

async fn put(clients: &mut Clients, calendar: Calendar) -> Calendar {
    let request = PutCalendarRequest {
        calendar_id: "season".into(),
        calendar: Some(calendar),
        ..Default::default()
    };
    let put = clients.plans.put_calendar(request).await;
    put.expect("a calendar").into_inner()
}
