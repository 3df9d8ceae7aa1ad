//! Questions of the week.

use super::Fields;
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// Whether to run one more event.
pub fn one_more_event(
    fields: &mut Fields,
    call: api::AskOneMoreEventRequest,
) -> Option<domain::AskOneMoreEvent> {
    let of = if call.target.starts_with("components/") {
        let name = fields.name("target", &call.target);
        name.map(domain::AskedOf::Component)
    } else {
        fields
            .name("target", &call.target)
            .map(domain::AskedOf::Unit)
    };
    let (of, event) = of.zip(event(fields, call.event))?;
    let stakes = call.stakes.map(|stakes| domain::Stakes {
        failure_cost: stakes.failure_cost,
        unfinished_event_cost: stakes.unfinished_event_cost,
        missed_event_cost: stakes.missed_event_cost,
        replace_costs: stakes.replace_costs.into_iter().collect(),
    });
    Some(domain::AskOneMoreEvent { of, event, stakes })
}

/// What a shock cost.
pub fn shock_cost(
    fields: &mut Fields,
    call: api::AskOverRevCostRequest,
) -> Option<domain::AskShockCost> {
    let duty_record = fields.name("duty_record", &call.duty_record);
    let event = event(fields, call.event);
    let number = count(fields, "number", call.number);
    let ((duty_record, event), number) = duty_record.zip(event).zip(number)?;
    Some(domain::AskShockCost {
        duty_record,
        kind: call.kind,
        number: Some(number).filter(|number| *number > 0),
        event,
        replace_costs: call.replace_costs.into_iter().collect(),
    })
}

/// What another speed does.
pub fn speed_change(
    fields: &mut Fields,
    call: api::AskSpeedChangeRequest,
) -> Option<domain::AskSpeedChange> {
    let unit = fields.name("unit", &call.unit);
    let event = event(fields, call.event);
    let basis = match api::ComparisonBasis::try_from(call.basis) {
        Ok(api::ComparisonBasis::New) => Some(domain::Basis::New),
        Ok(_) => Some(domain::Basis::Present),
        Err(_) => {
            let text = format!("is {}; expected a value of ComparisonBasis", call.basis);
            fields.refuse("basis", text);
            None
        }
    };
    let ((unit, event), basis) = unit.zip(event).zip(basis)?;
    Some(domain::AskSpeedChange {
        unit,
        event,
        changes_rad_s: call.changes_rad_s,
        basis,
        replace_costs: call.replace_costs.into_iter().collect(),
    })
}

/// Whether a part can move.
pub fn part_move(
    fields: &mut Fields,
    call: api::AskPartMoveRequest,
) -> Option<domain::AskPartMove> {
    let component = fields.name("component", &call.component);
    let unit = fields.name("unit", &call.unit);
    let event = event(fields, call.event);
    let ((component, unit), event) = component.zip(unit).zip(event)?;
    Some(domain::AskPartMove {
        component,
        unit,
        position: call.position,
        event,
    })
}

/// Whether to buy a spare.
pub fn spare(fields: &mut Fields, call: api::AskSpareRequest) -> Option<domain::AskSpare> {
    let mut units = Vec::with_capacity(call.units.len());
    for (index, unit) in call.units.iter().enumerate() {
        units.extend(fields.name(&format!("units[{index}]"), unit));
    }
    let mut event_times = Vec::with_capacity(call.event_times.len());
    for (index, time) in call.event_times.into_iter().enumerate() {
        event_times.extend(fields.time(&format!("event_times[{index}]"), Some(time)));
    }
    let (event, events) = event(fields, call.event).zip(count(fields, "events", call.events))?;
    Some(domain::AskSpare {
        units,
        component_type: call.component_type,
        event,
        events,
        event_times,
        spare_price: call.spare_price,
        lead_time_days: call.lead_time_days,
        days_between_events: call.days_between_events,
        missed_event_cost: call.missed_event_cost,
    })
}

fn event(fields: &mut Fields, event: Option<api::AskedEvent>) -> Option<domain::AskedEvent> {
    let event = event.unwrap_or_default();
    Some(domain::AskedEvent {
        profile: fields.optional_name("event.profile", &event.profile)?,
        severity: event.severity,
    })
}

fn count(fields: &mut Fields, field: &str, value: i32) -> Option<u32> {
    if let Ok(value) = u32::try_from(value) {
        Some(value)
    } else {
        fields.refuse(field, format!("is {value}; expected 0 or more"));
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_target_is_a_unit_or_a_component() {
        let ask = |target: &str| {
            let mut fields = Fields::new();
            let call = api::AskOneMoreEventRequest {
                target: target.into(),
                ..Default::default()
            };
            one_more_event(&mut fields, call).map(|ask| ask.of)
        };
        assert!(matches!(ask("units/a"), Some(domain::AskedOf::Unit(_))));
        assert!(matches!(
            ask("components/a"),
            Some(domain::AskedOf::Component(_))
        ));
        assert!(ask("profiles/a").is_none());
    }

    #[test]
    fn everything_wrong_with_a_call_comes_at_once() {
        let mut fields = Fields::new();
        let call = api::AskSpareRequest {
            units: vec!["units/a".into(), "engine".into()],
            events: -1,
            event_times: vec![prost_types::Timestamp {
                seconds: 0,
                nanos: -1,
            }],
            ..Default::default()
        };
        assert!(spare(&mut fields, call).is_none());
        let text = format!("{:?}", fields.refusal());
        for field in ["units[1]", "events", "event_times[0]"] {
            assert!(text.contains(field), "{field} is missing from {text}");
        }
    }
}
