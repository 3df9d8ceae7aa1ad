//! Plans, ages of replacement, overrides.

use super::{Fields, evidence, finding, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// What a plan is asked for.
pub fn request(fields: &mut Fields, call: &api::MakePlanRequest) -> Option<domain::MakePlan> {
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
