//! Calendars, plans, ages of replacement, overrides.

use super::{Fields, evidence, finding, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// A calendar as it is put.
pub fn calendar(fields: &mut Fields, calendar: api::Calendar) -> Option<domain::CalendarInput> {
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
pub fn calendar_to_message(calendar: domain::Calendar) -> api::Calendar {
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

/// What a plan is asked for.
pub fn request(fields: &mut Fields, call: api::MakePlanRequest) -> Option<domain::MakePlan> {
    let unit = fields.name("unit", &call.unit);
    let calendar = fields.name("calendar", &call.calendar);
    let as_of_time = fields.optional_time("as_of_time", call.as_of_time);
    let mut substitutions = Vec::with_capacity(call.substitutions.len());
    for (index, each) in call.substitutions.iter().enumerate() {
        let at = format!("substitutions[{index}]");
        let replaces = fields.name(&format!("{at}.replaces"), &each.replaces);
        let component = fields.name(&format!("{at}.component"), &each.component);
        let pair = replaces.zip(component);
        substitutions.push(pair.map(|(replaces, component)| domain::Substitution {
            replaces,
            component,
        }));
    }
    let Ok(samples) = u32::try_from(call.samples) else {
        let text = format!("is {}; expected 0 or more", call.samples);
        fields.refuse("samples", text);
        return None;
    };
    Some(domain::MakePlan {
        unit: unit?,
        calendar: calendar?,
        as_of_time: as_of_time?,
        substitutions: substitutions.into_iter().collect::<Option<_>>()?,
        samples: Some(samples).filter(|samples| *samples > 0),
        replace_nothing: call.replace_nothing,
    })
}

/// A plan.
pub fn to_message(plan: domain::Plan) -> api::Plan {
    api::Plan {
        unit: plan.unit.to_string(),
        calendar: plan.calendar.to_string(),
        calendar_revision: plan.calendar_revision,
        as_of_time: plan.as_of_time.map(time::to_message),
        samples: i32::try_from(plan.samples).unwrap_or(i32::MAX),
        events: plan.events.into_iter().map(planned_event).collect(),
        teardowns: plan.teardowns.into_iter().map(planned_teardown).collect(),
        cost: Some(cost(plan.cost)),
        cost_of_nothing: Some(cost(plan.cost_of_nothing)),
        checks: plan.checks.into_iter().map(planned_check).collect(),
        standing_limits: plan
            .standing_limits
            .into_iter()
            .map(standing_limit)
            .collect(),
        caps_met: plan.caps_met,
        verdict: plan.verdict,
        remedies: plan.remedies,
        overrides: plan
            .overrides
            .into_iter()
            .map(override_to_message)
            .collect(),
        notes: plan.notes.iter().map(finding::to_message).collect(),
        cautions: plan.cautions,
    }
}

fn planned_event(event: domain::PlannedEvent) -> api::PlannedEvent {
    api::PlannedEvent {
        code: event.code,
        title: event.title,
        start_time: Some(time::to_message(event.start_time)),
        risk: event.risk,
        hazard_risk: event.hazard_risk,
        any_end_risk: event.any_end_risk,
        risk_cap: event.risk_cap,
        hazard_risk_cap: event.hazard_risk_cap,
        risk_of_nothing: event.risk_of_nothing,
        failure_cost: event.failure_cost,
        parts: event.parts.into_iter().map(planned_part).collect(),
    }
}

fn planned_part(part: domain::PlannedPart) -> api::PlannedPart {
    let [used_p10, used_p50, used_p90] = part.used;
    api::PlannedPart {
        component: part.component.to_string(),
        component_type: part.component_type,
        position: part.position,
        renewed: part.renewed,
        risk: part.risk,
        any_end_risk: part.any_end_risk,
        used_p10,
        used_p50,
        used_p90,
    }
}

fn planned_teardown(teardown: domain::PlannedTeardown) -> api::PlannedTeardown {
    let replacement = |part: domain::PlannedReplacement| api::PlannedReplacement {
        component: part.component.to_string(),
        component_type: part.component_type,
        position: part.position,
        price: part.price,
        fitting_min: part.fitting_min,
        order_by_time: part.order_by_time.map(time::to_message),
        reason: part.reason,
    };
    api::PlannedTeardown {
        after_event: teardown.after_event,
        time: teardown.time.map(time::to_message),
        levels: teardown.levels,
        replacements: teardown.replacements.into_iter().map(replacement).collect(),
        labour_min: teardown.labour_min,
        labour_cost: teardown.labour_cost,
        parts_cost: teardown.parts_cost,
    }
}

fn cost(cost: domain::PlanCost) -> api::PlanCost {
    api::PlanCost {
        parts: cost.parts,
        labour: cost.labour,
        failures: cost.failures,
        total: cost.total,
        at_least: cost.at_least,
        gap: cost.gap,
    }
}

fn planned_check(check: domain::PlannedCheck) -> api::PlannedCheck {
    api::PlannedCheck {
        component: check.component.to_string(),
        component_type: check.component_type,
        check: check.check,
        instrument: check.instrument,
        minutes: check.minutes,
        value: check.value,
        value_per_min: check.value_per_min,
        changes_action: check.changes_action,
        text: check.text,
    }
}

fn standing_limit(limit: domain::StandingLimit) -> api::StandingLimit {
    api::StandingLimit {
        component: limit.component.to_string(),
        event: limit.event,
        text: limit.text,
    }
}

/// What an age of replacement is asked for.
pub fn age_request(
    fields: &mut Fields,
    call: api::FindReplacementAgeRequest,
) -> Option<domain::FindReplacementAge> {
    use api::find_replacement_age_request::Source;
    let lives = match call.source {
        Some(Source::Weibull(law)) => Some(domain::ReplacementLives::Weibull {
            shape: law.shape,
            scale: law.scale,
            age_unit: law.age_unit,
        }),
        Some(Source::Query(query)) => {
            evidence::source(fields, Some(query), None).map(domain::ReplacementLives::Lives)
        }
        Some(Source::Given(given)) => {
            evidence::source(fields, None, Some(given)).map(domain::ReplacementLives::Lives)
        }
        None => {
            fields.refuse("source", "is not set; give lives, or a law");
            None
        }
    };
    Some(domain::FindReplacementAge {
        lives: lives?,
        planned_cost: call.planned_cost,
        failure_cost: call.failure_cost,
    })
}

/// An age of replacement.
pub fn age_to_message(age: domain::ReplacementAge) -> api::ReplacementAge {
    api::ReplacementAge {
        age_unit: age.age_unit,
        shape: age.shape,
        scale: age.scale,
        age: age.age,
        age_low: age.age_range.map(|[low, _]| low),
        age_high: age.age_range.map(|[_, high]| high),
        cost_rate: age.cost_rate,
        run_to_failure_cost_rate: age.run_to_failure_cost_rate,
        verdict: age.verdict,
        notes: age.notes.iter().map(finding::to_message).collect(),
    }
}

/// A decision other than advised.
pub fn override_input(
    fields: &mut Fields,
    given: Option<api::Override>,
) -> Option<domain::OverrideInput> {
    let given = fields.required("override", given)?;
    let subject = subject(fields, "override.subject", &given.subject);
    let prediction = fields.optional_name("override.prediction", &given.prediction);
    let calendar = fields.optional_name("override.calendar", &given.calendar);
    let decision_time = fields.time("override.decision_time", given.decision_time);
    Some(domain::OverrideInput {
        subject: subject?,
        prediction: prediction?,
        calendar: calendar?,
        event: given.event,
        advice: given.advice,
        decision: given.decision,
        decided_by: given.decided_by,
        reason: given.reason,
        decision_time: decision_time?,
    })
}

/// A unit or a component.
pub fn subject(fields: &mut Fields, field: &str, name: &str) -> Option<domain::OverrideSubject> {
    if name.starts_with("units/") {
        fields.name(field, name).map(domain::OverrideSubject::Unit)
    } else if name.starts_with("components/") {
        let component = fields.name(field, name);
        component.map(domain::OverrideSubject::Component)
    } else {
        let text = format!("is {name:?}; expected units/{{unit}} or components/{{component}}");
        fields.refuse(field, text);
        None
    }
}

/// A decision other than advised.
pub fn override_to_message(row: domain::Override) -> api::Override {
    let content = row.content;
    api::Override {
        name: row.name.to_string(),
        subject: match content.subject {
            domain::OverrideSubject::Unit(unit) => unit.to_string(),
            domain::OverrideSubject::Component(component) => component.to_string(),
        },
        prediction: content
            .prediction
            .map_or_else(String::new, |name| name.to_string()),
        calendar: content
            .calendar
            .map_or_else(String::new, |name| name.to_string()),
        event: content.event,
        advice: content.advice,
        decision: content.decision,
        decided_by: content.decided_by,
        reason: content.reason,
        decision_time: Some(time::to_message(content.decision_time)),
        create_time: Some(time::to_message(row.create_time)),
    }
}
