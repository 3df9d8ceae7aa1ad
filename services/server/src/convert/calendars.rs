//! Calendars of events.

use super::{Fields, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// A calendar as it is put.
pub fn input(fields: &mut Fields, calendar: api::Calendar) -> Option<domain::CalendarInput> {
    let mut events = Vec::with_capacity(calendar.events.len());
    for (index, each) in calendar.events.into_iter().enumerate() {
        events.push(event(fields, &format!("calendar.events[{index}]"), each));
    }
    let mut opportunities = Vec::with_capacity(calendar.opportunities.len());
    for (index, each) in calendar.opportunities.into_iter().enumerate() {
        let at = format!("calendar.opportunities[{index}].time");
        opportunities.push(opportunity(fields, &at, each));
    }
    let mut parts = Vec::with_capacity(calendar.parts.len());
    for (index, each) in calendar.parts.into_iter().enumerate() {
        parts.push(part(
            fields,
            &format!("calendar.parts[{index}].stock"),
            each,
        ));
    }
    let mut limits = Vec::with_capacity(calendar.limits.len());
    for (index, each) in calendar.limits.into_iter().enumerate() {
        limits.push(limit(
            fields,
            &format!("calendar.limits[{index}].owner"),
            each,
        ));
    }
    let costs = calendar.failure_costs.unwrap_or_default();
    let caps = calendar.risk_caps.unwrap_or_default();
    Some(domain::CalendarInput {
        display_name: calendar.display_name,
        events: events.into_iter().collect::<Option<_>>()?,
        opportunities: opportunities.into_iter().collect::<Option<_>>()?,
        levels: calendar.levels.into_iter().map(level).collect(),
        parts: parts.into_iter().collect::<Option<_>>()?,
        checks: calendar.checks.into_iter().map(check).collect(),
        limits: limits.into_iter().collect::<Option<_>>()?,
        labour_rate_per_h: calendar.labour_rate_per_h,
        failure_costs: domain::FailureCosts {
            nuisance: costs.nuisance,
            power_loss: costs.power_loss,
            unit_loss: costs.unit_loss,
            hazard: costs.hazard,
            did_not_finish: costs.did_not_finish,
        },
        risk_caps: domain::EventRiskCaps {
            unit_loss: caps.unit_loss,
            hazard: caps.hazard,
        },
    })
}

fn event(
    fields: &mut Fields,
    at: &str,
    event: api::CalendarEvent,
) -> Option<domain::CalendarEvent> {
    let start_time = fields.time(&format!("{at}.start_time"), event.start_time);
    let profile = fields.optional_name(&format!("{at}.profile"), &event.profile);
    let mut units = Vec::with_capacity(event.units.len());
    for (index, unit) in event.units.iter().enumerate() {
        units.push(fields.name(&format!("{at}.units[{index}]"), unit));
    }
    Some(domain::CalendarEvent {
        code: event.code,
        title: event.title,
        start_time: start_time?,
        profile: profile?,
        severity: event.severity.unwrap_or(1.0),
        severity_by_type: event.severity_by_type.into_iter().collect(),
        oil_temp_k: event.oil_temp_k,
        units: units.into_iter().collect::<Option<_>>()?,
        race: event.race,
    })
}

fn opportunity(
    fields: &mut Fields,
    at: &str,
    opportunity: api::Opportunity,
) -> Option<domain::Opportunity> {
    Some(domain::Opportunity {
        after_event: opportunity.after_event,
        time: fields.optional_time(at, opportunity.time)?,
        levels: opportunity.levels,
        available_min: opportunity.available_min,
    })
}

fn level(level: api::TeardownLevel) -> domain::TeardownLevel {
    domain::TeardownLevel {
        name: level.name,
        labour_min: level.labour_min,
        cost: level.cost,
        includes: level.includes,
    }
}

fn part(fields: &mut Fields, at: &str, part: api::PartPrice) -> Option<domain::PartPrice> {
    let Ok(stock) = u32::try_from(part.stock) else {
        fields.refuse(at, format!("is {}; expected 0 or more", part.stock));
        return None;
    };
    Some(domain::PartPrice {
        component_type: part.component_type,
        price: part.price,
        fitting_min: part.fitting_min,
        level: part.level,
        lead_days: part.lead_days,
        stock,
    })
}

fn check(check: api::CalendarCheck) -> domain::CalendarCheck {
    domain::CalendarCheck {
        component_type: check.component_type,
        check: check.check,
        minutes: check.minutes,
        instrument: check.instrument,
        tells: check.tells,
    }
}

fn limit(fields: &mut Fields, at: &str, limit: api::PartLimit) -> Option<domain::PartLimit> {
    let owner = match api::LimitOwner::try_from(limit.owner) {
        Ok(api::LimitOwner::Maker) => domain::LimitOwner::Maker,
        Ok(api::LimitOwner::SanctioningBody) => domain::LimitOwner::SanctioningBody,
        Ok(api::LimitOwner::Unspecified) | Err(_) => {
            let text = format!("is {}; expected whose limit it is, 1 or 2", limit.owner);
            fields.refuse(at, text);
            return None;
        }
    };
    Some(domain::PartLimit {
        component_type: limit.component_type,
        most_hours: limit.most_hours,
        most_events: limit.most_events,
        owner,
        source: limit.source,
    })
}

/// A calendar.
pub fn to_message(calendar: domain::Calendar) -> api::Calendar {
    let content = calendar.content;
    let costs = content.failure_costs;
    api::Calendar {
        name: calendar.name.to_string(),
        display_name: content.display_name,
        events: content.events.into_iter().map(event_to_message).collect(),
        opportunities: content
            .opportunities
            .into_iter()
            .map(opportunity_to_message)
            .collect(),
        levels: content.levels.into_iter().map(level_to_message).collect(),
        parts: content.parts.into_iter().map(part_to_message).collect(),
        checks: content.checks.into_iter().map(check_to_message).collect(),
        limits: content.limits.into_iter().map(limit_to_message).collect(),
        labour_rate_per_h: content.labour_rate_per_h,
        failure_costs: Some(api::FailureCosts {
            nuisance: costs.nuisance,
            power_loss: costs.power_loss,
            unit_loss: costs.unit_loss,
            hazard: costs.hazard,
            did_not_finish: costs.did_not_finish,
        }),
        risk_caps: Some(api::EventRiskCaps {
            unit_loss: content.risk_caps.unit_loss,
            hazard: content.risk_caps.hazard,
        }),
        revision: calendar.revision,
        update_time: Some(time::to_message(calendar.update_time)),
        etag: calendar.etag,
    }
}

fn event_to_message(event: domain::CalendarEvent) -> api::CalendarEvent {
    api::CalendarEvent {
        code: event.code,
        title: event.title,
        start_time: Some(time::to_message(event.start_time)),
        profile: event.profile.map_or_else(String::new, |p| p.to_string()),
        severity: Some(event.severity),
        severity_by_type: event.severity_by_type.into_iter().collect(),
        oil_temp_k: event.oil_temp_k,
        units: event.units.iter().map(ToString::to_string).collect(),
        race: event.race,
    }
}

fn opportunity_to_message(opportunity: domain::Opportunity) -> api::Opportunity {
    api::Opportunity {
        after_event: opportunity.after_event,
        time: opportunity.time.map(time::to_message),
        levels: opportunity.levels,
        available_min: opportunity.available_min,
    }
}

fn level_to_message(level: domain::TeardownLevel) -> api::TeardownLevel {
    api::TeardownLevel {
        name: level.name,
        labour_min: level.labour_min,
        cost: level.cost,
        includes: level.includes,
    }
}

fn part_to_message(part: domain::PartPrice) -> api::PartPrice {
    api::PartPrice {
        component_type: part.component_type,
        price: part.price,
        fitting_min: part.fitting_min,
        level: part.level,
        lead_days: part.lead_days,
        stock: i32::try_from(part.stock).unwrap_or(i32::MAX),
    }
}

fn check_to_message(check: domain::CalendarCheck) -> api::CalendarCheck {
    api::CalendarCheck {
        component_type: check.component_type,
        check: check.check,
        minutes: check.minutes,
        instrument: check.instrument,
        tells: check.tells,
    }
}

fn limit_to_message(limit: domain::PartLimit) -> api::PartLimit {
    let owner = match limit.owner {
        domain::LimitOwner::Maker => api::LimitOwner::Maker,
        domain::LimitOwner::SanctioningBody => api::LimitOwner::SanctioningBody,
    };
    api::PartLimit {
        component_type: limit.component_type,
        most_hours: limit.most_hours,
        most_events: limit.most_events,
        owner: owner.into(),
        source: limit.source,
    }
}
