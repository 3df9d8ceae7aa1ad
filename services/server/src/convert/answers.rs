//! Answers to questions of the week.

use super::{
    comparisons::{bounds, earliest, event_cost, failure, quantiles},
    finding,
    predictions::{advice, life, overruling, quantiles as plain_quantiles},
    time,
};
use ringland_ledger as domain;
use ringland_proto::v1 as api;
use std::collections::HashMap;

fn outlook(part: domain::PartOutlook) -> api::PartOutlook {
    let message = api::PartOutlook {
        component: part.component.to_string(),
        component_type: part.component_type,
        position: part.position,
        ..Default::default()
    };
    match part.figures {
        Err(error) => api::PartOutlook {
            error: Some(failure(&error)),
            ..message
        },
        Ok(figures) => api::PartOutlook {
            life: Some(life(figures.life)),
            limiting_label: figures.limiting_label,
            limiting_probability: figures.limiting_probability,
            risk: figures.risk,
            failure_risk: figures.failure_risk,
            advice: Some(advice(figures.advice)),
            overruled_by: figures.overruled_by.into_iter().map(overruling).collect(),
            ..message
        },
    }
}

/// To a message.
pub fn one_more_event_to_message(answer: domain::OneMoreEvent) -> api::OneMoreEvent {
    let decision = match answer.decision {
        domain::Decision::Run => api::Decision::Run,
        domain::Decision::LookFirst => api::Decision::LookFirst,
        domain::Decision::Pull => api::Decision::Pull,
    };
    let part = |part: domain::PartInEvent| api::PartInEvent {
        outlook: Some(outlook(part.outlook)),
        unused_share: part.unused_share.map(quantiles),
    };
    let stop = |stop: domain::Overriding| api::Overriding {
        component: stop
            .component
            .map(|name| name.to_string())
            .unwrap_or_default(),
        text: stop.text,
        closes: stop.closes,
    };
    api::OneMoreEvent {
        unit: answer.unit.map(|unit| unit.to_string()).unwrap_or_default(),
        profile: answer.profile.to_string(),
        severity: answer.severity,
        decision: decision.into(),
        verdict: answer.verdict,
        why: answer.why,
        risk: answer.risk,
        failure_risk: answer.failure_risk,
        parts: answer.parts.into_iter().map(part).collect(),
        earliest: Some(earliest(answer.earliest)),
        cost: answer.cost.map(|cost| api::RunOrPull {
            run: cost.run,
            pull: Some(bounds(cost.pull)),
            thrown_away: Some(bounds(cost.thrown_away)),
            replaced: cost.replaced.iter().map(ToString::to_string).collect(),
        }),
        overriding: answer.overriding.into_iter().map(stop).collect(),
        notes: answer.notes.iter().map(finding::to_message).collect(),
        cautions: answer.cautions,
    }
}

/// To a message.
pub fn shock_cost_to_message(answer: domain::ShockCost) -> api::OverRevCost {
    let shock = |shock: domain::SeenShock| api::SeenShock {
        number: shock.number.cast_signed(),
        fields: shock.fields.into_iter().collect::<HashMap<_, _>>(),
    };
    api::OverRevCost {
        unit: answer.unit.to_string(),
        duty_record: answer.duty_record.to_string(),
        kind: answer.kind,
        shocks: answer.shocks.into_iter().map(shock).collect(),
        removed_time_s: answer.removed_time_s,
        profile: answer.profile.to_string(),
        verdict: answer.verdict,
        why: answer.why,
        check: answer.check,
        parts: answer.parts.into_iter().map(part_shock_cost).collect(),
        earliest: Some(earliest(answer.earliest)),
        earliest_without: Some(earliest(answer.earliest_without)),
        lost_events: Some(quantiles(answer.lost_events)),
        notes: answer.notes.iter().map(finding::to_message).collect(),
        cautions: answer.cautions,
    }
}

fn part_shock_cost(part: domain::PartShockCost) -> api::PartShockCost {
    let message = api::PartShockCost {
        component: part.component.to_string(),
        component_type: part.component_type,
        position: part.position,
        still_installed: part.still_installed,
        ..Default::default()
    };
    let slot = |slot: domain::SlotChange| api::SlotChange {
        slot: slot.slot,
        label: slot.label,
        unit: slot.unit,
        with: slot.with,
        without: slot.without,
    };
    match part.figures {
        Err(error) => api::PartShockCost {
            error: Some(failure(&error)),
            ..message
        },
        Ok(figures) => api::PartShockCost {
            life: Some(life(figures.life)),
            life_without: Some(life(figures.life_without)),
            lost_events: Some(quantiles(figures.lost_events)),
            probability_longer_without: figures.longer_without.more,
            probability_equal: figures.longer_without.equal,
            probability_shorter_without: figures.longer_without.less,
            probability_open: figures.longer_without.open,
            risk: figures.risk,
            risk_without: figures.risk_without,
            condition: figures.condition.into_iter().map(slot).collect(),
            advice: Some(advice(figures.advice)),
            price: figures.price.map(quantiles),
            ..message
        },
    }
}

/// To a message.
pub fn speed_change_to_message(answer: domain::SpeedChange) -> api::SpeedChange {
    let alternative = |each: domain::SpeedAlternative| api::SpeedAlternative {
        change_rad_s: each.change_rad_s,
        verdict: each.verdict,
        parts: each.parts.into_iter().map(part_at_speed).collect(),
        earliest: Some(earliest(each.earliest)),
        later_events: Some(quantiles(each.later_events)),
        cost_change: each.cost_change.map(bounds),
    };
    let basis = match answer.basis {
        domain::Basis::New => api::ComparisonBasis::New,
        domain::Basis::Present => api::ComparisonBasis::Present,
    };
    api::SpeedChange {
        unit: answer.unit.to_string(),
        profile: answer.profile.to_string(),
        basis: basis.into(),
        earliest: Some(earliest(answer.earliest)),
        alternatives: answer.alternatives.into_iter().map(alternative).collect(),
        assumptions: answer.assumptions,
        notes: answer.notes.iter().map(finding::to_message).collect(),
        cautions: answer.cautions,
    }
}

fn part_at_speed(part: domain::PartAtSpeed) -> api::PartAtSpeed {
    let message = api::PartAtSpeed {
        component: part.component.to_string(),
        component_type: part.component_type,
        ..Default::default()
    };
    match part.figures {
        Err(error) => api::PartAtSpeed {
            error: Some(failure(&error)),
            ..message
        },
        Ok(figures) => api::PartAtSpeed {
            life: Some(life(figures.life)),
            life_ratio: Some(quantiles(figures.life_ratio)),
            probability_longer: figures.longer.more,
            probability_equal: figures.longer.equal,
            probability_shorter: figures.longer.less,
            probability_open: figures.longer.open,
            risk: figures.risk,
            risk_before: figures.risk_before,
            limits_passed: figures.limits_passed,
            cost: figures.cost.map(event_cost),
            cost_before: figures.cost_before.map(event_cost),
            ..message
        },
    }
}

/// To a message.
pub fn part_move_to_message(answer: domain::PartMove) -> api::PartMove {
    let name = |name: Option<domain::ComponentName>| name.map(|name| name.to_string());
    api::PartMove {
        component: answer.component.to_string(),
        component_type: answer.component_type,
        profile: answer.profile.to_string(),
        position: answer.position,
        replaces: name(answer.replaces).unwrap_or_default(),
        refused: answer.refused,
        verdict: answer.verdict,
        obstacles: answer.obstacles.into_iter().map(obstacle).collect(),
        outlook: Some(outlook(answer.outlook)),
        set_risk: answer.set_risk,
        set_risk_after: answer.set_risk_after,
        to: Some(unit_outlook(answer.to)),
        from: answer.from.map(unit_outlook),
        leaves_behind: answer.leaves_behind,
        notes: answer.notes.iter().map(finding::to_message).collect(),
        cautions: answer.cautions,
    }
}

fn obstacle(obstacle: domain::Obstacle) -> api::Obstacle {
    let kind = match obstacle.kind {
        domain::ObstacleKind::Retired => api::ObstacleKind::Retired,
        domain::ObstacleKind::WrongType => api::ObstacleKind::WrongType,
        domain::ObstacleKind::PositionTaken => api::ObstacleKind::PositionTaken,
        domain::ObstacleKind::HistoryUnknown => api::ObstacleKind::HistoryUnknown,
        domain::ObstacleKind::Finding => api::ObstacleKind::Finding,
        domain::ObstacleKind::PastLimit => api::ObstacleKind::PastLimit,
        domain::ObstacleKind::MatchedSet => api::ObstacleKind::MatchedSet,
        domain::ObstacleKind::Hand => api::ObstacleKind::Hand,
    };
    api::Obstacle {
        kind: kind.into(),
        refuses: obstacle.refuses,
        text: obstacle.text,
    }
}

fn unit_outlook(unit: domain::UnitOutlook) -> api::UnitOutlook {
    api::UnitOutlook {
        unit: unit.unit.to_string(),
        build: unit.build.to_string(),
        risk: unit.risk,
        risk_after: unit.risk_after,
        earliest: Some(earliest(unit.earliest)),
        earliest_after: Some(earliest(unit.earliest_after)),
        later_events: Some(quantiles(unit.later_events)),
    }
}

/// To a message.
pub fn spare_to_message(answer: domain::SpareAnswer) -> api::SpareAnswer {
    let event = |event: domain::SpareEvent| api::SpareEvent {
        event: event.event.cast_signed(),
        time: event.time.map(time::to_message),
        down_probability: event.down_probability,
        by_unit: event.by_unit,
        avoided_from_here: event.avoided_from_here,
    };
    api::SpareAnswer {
        units: answer.units.iter().map(ToString::to_string).collect(),
        component_type: answer.component_type,
        pays: answer.pays,
        verdict: answer.verdict,
        why: answer.why,
        events: answer.events.into_iter().map(event).collect(),
        loss_without: answer.loss_without,
        loss_with: answer.loss_with,
        avoided: Some(plain_quantiles(answer.avoided)),
        break_even_price: answer.break_even_price,
        break_even_error: answer.break_even_error,
        latest_arrival_event: answer.latest_arrival_event.map(u32::cast_signed),
        latest_order_time: answer.latest_order_time.map(time::to_message),
        samples: answer.samples.cast_signed(),
        notes: answer.notes.iter().map(finding::to_message).collect(),
        cautions: answer.cautions,
    }
}
