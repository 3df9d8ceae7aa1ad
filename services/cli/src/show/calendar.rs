//! Calendars as text.

use super::{
    plan::{day, money},
    quantity::Shown,
};
use crate::{
    names,
    numbers::percent,
    out::{Look, heading},
    table::{item, table},
    times,
};
use ringland_proto::v1::{Calendar, LimitOwner, PartLimit};

/// A list of calendars.
pub fn calendars(calendars: &[Calendar], look: &Look) -> String {
    let rows = calendars.iter().map(|calendar| {
        let ends = [calendar.events.first(), calendar.events.last()];
        let [first, last] =
            ends.map(|event| day(event.and_then(|event| event.start_time.as_ref())));
        vec![
            names::id(&calendar.name).to_owned(),
            calendar.display_name.clone(),
            calendar.events.len().to_string(),
            format!("{first} to {last}"),
            calendar.revision.to_string(),
        ]
    });
    let header = ["calendar", "name", ">events", "=dates", ">revision"];
    table(look, &header, rows.collect())
}

/// A calendar.
pub fn calendar(calendar: &Calendar, look: &Look) -> String {
    let mut parts = vec![
        heading(names::id(&calendar.name)),
        item(
            look,
            &format!(
                "{}, revision {} of {}, etag {}",
                calendar.display_name,
                calendar.revision,
                times::show(calendar.update_time.as_ref()),
                calendar.etag
            ),
        ),
        costs(calendar, look),
        heading("Events"),
        events(calendar, look),
    ];
    if !calendar.opportunities.is_empty() {
        parts.push(heading("Teardowns"));
        parts.push(opportunities(calendar, look));
    }
    if !calendar.parts.is_empty() {
        parts.push(heading("Parts"));
        parts.push(prices(calendar, look));
    }
    if !calendar.limits.is_empty() {
        parts.push(heading("Limits that no plan passes"));
        parts.extend(calendar.limits.iter().map(|each| item(look, &limit(each))));
    }
    parts.join("\n")
}

fn costs(calendar: &Calendar, look: &Look) -> String {
    let costs = calendar.failure_costs.unwrap_or_default();
    let caps = calendar.risk_caps.unwrap_or_default();
    let cap = |cap: Option<f64>| cap.map_or("the ledger's".into(), percent);
    let text = format!(
        "an end costs {} (nuisance), {} (power), {} (unit), {} (hazard); not finishing {}; labour {}/h; caps: unit {}, hazard {}",
        money(costs.nuisance),
        money(costs.power_loss),
        money(costs.unit_loss),
        money(costs.hazard),
        money(costs.did_not_finish),
        money(calendar.labour_rate_per_h),
        cap(caps.unit_loss),
        cap(caps.hazard)
    );
    item(look, &text)
}

fn events(calendar: &Calendar, look: &Look) -> String {
    let rows = calendar.events.iter().map(|event| {
        let mut by_type: Vec<String> = event
            .severity_by_type
            .iter()
            .map(|(kind, severity)| format!("{kind} {severity}"))
            .collect();
        by_type.sort();
        let units: Vec<&str> = event.units.iter().map(|unit| names::id(unit)).collect();
        vec![
            event.code.clone(),
            event.title.clone(),
            day(event.start_time.as_ref()),
            names::id(&event.profile).to_owned(),
            event.severity.unwrap_or(1.0).to_string(),
            by_type.join(", "),
            event
                .oil_temp_k
                .map_or(String::new(), |kelvin| temperature(kelvin, look)),
            units.join(", "),
        ]
    });
    let header = [
        "event",
        "title",
        "=begins",
        "profile",
        ">severity",
        "by type",
        ">oil",
        "units",
    ];
    table(look, &header, rows.collect())
}

/// In shop units and SI.
fn temperature(kelvin: f64, look: &Look) -> String {
    let shown = Shown::choose("K", kelvin, look.system);
    let texts = shown
        .iter()
        .map(|shown| shown.with_symbol(&format!("{:.0}", shown.value(kelvin))));
    texts.collect::<Vec<_>>().join(", ")
}

fn opportunities(calendar: &Calendar, look: &Look) -> String {
    let rows = calendar.opportunities.iter().map(|each| {
        vec![
            if each.after_event.is_empty() {
                "(the start)".into()
            } else {
                each.after_event.clone()
            },
            day(each.time.as_ref()),
            if each.levels.is_empty() {
                "all".into()
            } else {
                each.levels.join(", ")
            },
            each.available_min
                .map_or("-".into(), |minutes| format!("{minutes:.0}")),
        ]
    });
    table(
        look,
        &["after", "=parts by", "levels", ">min"],
        rows.collect(),
    )
}

fn prices(calendar: &Calendar, look: &Look) -> String {
    let rows = calendar.parts.iter().map(|part| {
        vec![
            part.component_type.clone(),
            money(part.price),
            format!("{:.0}", part.fitting_min),
            part.level.clone(),
            format!("{:.0}", part.lead_days),
            part.stock.to_string(),
        ]
    });
    let header = [
        "type",
        ">price",
        ">fitting, min",
        "level",
        ">lead, days",
        ">on the shelf",
    ];
    table(look, &header, rows.collect())
}

fn limit(limit: &PartLimit) -> String {
    let owner = match limit.owner() {
        LimitOwner::Maker => "the part's maker",
        LimitOwner::SanctioningBody => "the sanctioning body",
        LimitOwner::Unspecified => "unknown owner",
    };
    let hours = limit.most_hours.map(|most| format!("{most} h"));
    let events = limit.most_events.map(|most| format!("{most} events"));
    let most: Vec<String> = hours.into_iter().chain(events).collect();
    format!(
        "{}: {} ({owner}: {})",
        limit.component_type,
        most.join(", "),
        limit.source
    )
}
