//! Comparisons.

use super::{
    Fields, components, finding,
    predictions::{life, mechanism, reading, status_to_message},
    treatments,
};
use crate::errors;
use ringland_ledger as domain;
use ringland_proto::v1 as api;
use tonic_types::pb;

/// What a comparison of a component is asked for.
pub fn request(fields: &mut Fields, call: api::CompareRequest) -> Option<domain::CompareRequest> {
    let component = fields.name("component", &call.component);
    let profile = fields.optional_name("profile", &call.profile);
    let draws = draws(fields, call.basis, call.horizon_events, call.samples);
    let ((component, profile), draws) = component.zip(profile).zip(draws)?;
    Some(domain::CompareRequest {
        component,
        profile,
        alternatives: call.alternatives.into_iter().map(alternative).collect(),
        draws,
        ahead_events: call.ahead_events,
        price: call.price.map(price),
    })
}

/// What a comparison of a unit is asked for.
pub fn unit_request(
    fields: &mut Fields,
    call: api::CompareUnitRequest,
) -> Option<domain::CompareUnitRequest> {
    let unit = fields.name("unit", &call.unit);
    let profile = fields.optional_name("profile", &call.profile);
    let draws = draws(fields, call.basis, call.horizon_events, call.samples);
    let steps = count(fields, "steps", call.steps);
    let mut candidates = Vec::with_capacity(call.candidates.len());
    for (index, each) in call.candidates.into_iter().enumerate() {
        candidates.extend(candidate(fields, &format!("candidates[{index}]"), each));
    }
    let (((unit, profile), draws), steps) = unit.zip(profile).zip(draws).zip(steps)?;
    Some(domain::CompareUnitRequest {
        unit,
        profile,
        candidates,
        draws,
        steps,
    })
}

/// Basis, horizon and samples; what they may be is for the ledger.
fn draws(
    fields: &mut Fields,
    basis: i32,
    horizon_events: Option<f64>,
    samples: i32,
) -> Option<domain::Draws> {
    let known = match api::ComparisonBasis::try_from(basis) {
        Ok(api::ComparisonBasis::Unspecified | api::ComparisonBasis::New) => {
            Some(domain::Basis::New)
        }
        Ok(api::ComparisonBasis::Present) => Some(domain::Basis::Present),
        Err(_) => {
            fields.refuse(
                "basis",
                format!("is {basis}; expected a value of ComparisonBasis"),
            );
            None
        }
    };
    let samples = count(fields, "samples", samples);
    let (basis, samples) = known.zip(samples)?;
    Some(domain::Draws {
        basis,
        horizon_events,
        samples,
    })
}

/// A count of which 0 stands for the usual. The outer option: whether it could be read.
#[allow(clippy::option_option)]
fn count(fields: &mut Fields, field: &str, value: i32) -> Option<Option<u32>> {
    if let Ok(value) = u32::try_from(value) {
        Some(Some(value).filter(|value| *value > 0))
    } else {
        fields.refuse(field, format!("is {value}; expected 0 or more"));
        None
    }
}

fn candidate(
    fields: &mut Fields,
    at: &str,
    candidate: api::UnitCandidate,
) -> Option<domain::UnitCandidate> {
    let mut changes = Vec::with_capacity(candidate.changes.len());
    for (index, change) in candidate.changes.into_iter().enumerate() {
        let at = format!("{at}.changes[{index}]");
        let target = target(fields, &at, &change)?;
        changes.push(domain::UnitChange {
            target,
            alternative: alternative(change.alternative.unwrap_or_default()),
        });
    }
    Some(domain::UnitCandidate {
        label: candidate.label,
        changes,
    })
}

fn target(fields: &mut Fields, at: &str, change: &api::UnitChange) -> Option<domain::ChangeTarget> {
    match (change.component.as_str(), change.component_type.as_str()) {
        ("", "") => {
            fields.refuse(
                at,
                "names neither component nor component_type; name one of them",
            );
            None
        }
        (component, "") => fields
            .name(&format!("{at}.component"), component)
            .map(domain::ChangeTarget::Component),
        ("", component_type) => Some(domain::ChangeTarget::Type(component_type.into())),
        _ => {
            fields.refuse(
                at,
                "names both component and component_type; leave one of them out",
            );
            None
        }
    }
}

fn alternative(alternative: api::Alternative) -> domain::Alternative {
    domain::Alternative {
        label: alternative.label,
        spec: components::spec(alternative.spec.unwrap_or_default()),
        surfaces: components::surfaces(alternative.surfaces),
        treatments: alternative.treatments.into_iter().map(treatment).collect(),
        price: alternative.price.map(price),
    }
}

fn treatment(treatment: api::ComparedTreatment) -> domain::ComparedTreatment {
    domain::ComparedTreatment {
        treatment: treatment.treatment,
        surfaces: treatment.surfaces,
        price: treatment.price,
    }
}

fn price(price: api::RenewalPrice) -> domain::RenewalPrice {
    domain::RenewalPrice {
        part: price.part,
        labour: price.labour,
    }
}

/// To a message.
pub fn to_message(comparison: domain::Comparison) -> api::Comparison {
    let alternatives = comparison.alternatives.into_iter();
    api::Comparison {
        component: comparison.component.to_string(),
        component_type: comparison.component_type,
        profile: comparison.profile.to_string(),
        basis: basis(comparison.basis).into(),
        horizon_events: comparison.horizon_events,
        samples: comparison.samples.cast_signed(),
        model_digest: comparison.model_digest.to_string(),
        model_version: comparison.model_version,
        alternatives: alternatives.map(forecast).collect(),
        differences: comparison.differences.into_iter().map(difference).collect(),
        notes: comparison.notes.iter().map(finding::to_message).collect(),
        cautions: comparison.cautions,
        leaves_out: comparison.leaves_out,
    }
}

fn basis(basis: domain::Basis) -> api::ComparisonBasis {
    match basis {
        domain::Basis::New => api::ComparisonBasis::New,
        domain::Basis::Present => api::ComparisonBasis::Present,
    }
}

fn forecast(forecast: domain::AlternativeForecast) -> api::AlternativeForecast {
    api::AlternativeForecast {
        label: forecast.label,
        life: Some(life(forecast.life)),
        mean_life_events: Some(bounds(forecast.mean_life_events)),
        limiting_mechanism: forecast.limiting_mechanism,
        limiting_probability: forecast.limiting_probability,
        beyond_horizon_probability: forecast.beyond_horizon_probability,
        risk_next_event: forecast.risk_next_event,
        mechanisms: forecast.mechanisms.into_iter().map(mechanism).collect(),
        readings: forecast.readings.into_iter().map(reading).collect(),
        seating: forecast.seating.map(|seating| api::SeatingTime {
            fraction_now: seating.fraction_now,
            events: Some(quantiles(seating.events)),
        }),
        cost: forecast.cost.map(event_cost),
        model_prior_only: forecast.model_prior_only,
        evidence: forecast.evidence.into_iter().map(evidence).collect(),
        notes: forecast.notes.iter().map(finding::to_message).collect(),
    }
}

pub(super) fn event_cost(cost: domain::EventCost) -> api::EventCost {
    api::EventCost {
        renewal_price: cost.renewal_price,
        treatments_price: cost.treatments_price,
        mean: Some(bounds(cost.mean)),
        drawn: Some(quantiles(cost.drawn)),
    }
}

fn difference(difference: domain::Difference) -> api::Difference {
    let power = |change: domain::PowerChange| api::PowerChange {
        reading: change.reading,
        label: change.label,
        events: change.events,
        first_w: change.first_w,
        alternative_w: change.alternative_w,
    };
    let payback = |payback: domain::Payback| api::Payback {
        cost_change: Some(bounds(payback.cost_change)),
        probability_pays: payback.probability_pays,
        probability_open: payback.probability_open,
        break_even_price: Some(bounds(payback.break_even_price)),
        break_even_drawn: Some(quantiles(payback.break_even_drawn)),
    };
    api::Difference {
        label: difference.label,
        against: difference.against,
        life_ratio: Some(quantiles(difference.life_ratio)),
        mean_life_ratio: Some(bounds(difference.mean_life_ratio)),
        probability_longer: difference.longer.more,
        probability_equal: difference.longer.equal,
        probability_shorter: difference.longer.less,
        probability_open: difference.longer.open,
        payback: difference.payback.map(payback),
        power_changes: difference.power_changes.into_iter().map(power).collect(),
        verdict: difference.verdict,
    }
}

/// To a message.
pub fn unit_to_message(comparison: domain::UnitComparison) -> api::UnitComparison {
    api::UnitComparison {
        unit: comparison.unit.to_string(),
        profile: comparison.profile.to_string(),
        basis: basis(comparison.basis).into(),
        horizon_events: comparison.horizon_events,
        samples: comparison.samples.cast_signed(),
        components: comparison.components.into_iter().map(component).collect(),
        earliest: Some(earliest(comparison.earliest)),
        candidates: comparison.candidates.into_iter().map(effect).collect(),
        steps: comparison.steps.into_iter().map(step).collect(),
        verdict: comparison.verdict,
        notes: comparison.notes.iter().map(finding::to_message).collect(),
        cautions: comparison.cautions,
    }
}

fn component(part: domain::UnitComponentLife) -> api::UnitComponentLife {
    let message = api::UnitComponentLife {
        component: part.component.to_string(),
        component_type: part.component_type,
        position: part.position,
        ..Default::default()
    };
    match part.life {
        Ok(limit) => api::UnitComponentLife {
            life: Some(life(limit.life)),
            limiting_mechanism: limit.limiting_mechanism,
            limiting_probability: limit.limiting_probability,
            first_probability: limit.first_probability,
            ..message
        },
        Err(error) => api::UnitComponentLife {
            error: Some(failure(&error)),
            ..message
        },
    }
}

pub(super) fn earliest(limit: domain::EarliestLimit) -> api::EarliestLimit {
    let each = |limit: domain::UnitLimit| api::UnitLimit {
        component: limit.component.to_string(),
        mechanism: limit.mechanism,
        label: limit.label,
        probability: limit.probability,
    };
    api::EarliestLimit {
        life: Some(life(limit.life)),
        limits: limit.limits.into_iter().map(each).collect(),
        beyond_horizon_probability: limit.beyond_horizon_probability,
    }
}

fn effect(candidate: domain::CandidateEffect) -> api::CandidateEffect {
    let label = candidate.label;
    let effect = match candidate.effect {
        Ok(effect) => effect,
        Err(error) => {
            return api::CandidateEffect {
                label,
                error: Some(failure(&error)),
                ..Default::default()
            };
        }
    };
    let components = effect.components.iter().map(ToString::to_string);
    api::CandidateEffect {
        label,
        components: components.collect(),
        earliest: Some(earliest(effect.earliest)),
        median_change_events: Some(bounds(effect.median_change_events)),
        change_events: Some(quantiles(effect.change_events)),
        probability_later: effect.later.more,
        probability_equal: effect.later.equal,
        probability_earlier: effect.later.less,
        probability_open: effect.later.open,
        own_life_ratios: effect.own_life_ratios.into_iter().map(bounds).collect(),
        price: effect.price,
        evidence: effect.evidence.into_iter().map(evidence).collect(),
        notes: effect.notes.iter().map(finding::to_message).collect(),
        error: None,
    }
}

fn step(step: domain::UnitStep) -> api::UnitStep {
    api::UnitStep {
        label: step.label,
        earliest: Some(earliest(step.earliest)),
        median_change_events: Some(bounds(step.median_change_events)),
        text: step.text,
    }
}

pub(super) fn failure(error: &domain::LedgerError) -> pb::Status {
    status_to_message(&errors::from_ledger(error))
}

fn evidence(evidence: domain::TreatmentEvidence) -> api::TreatmentEvidence {
    api::TreatmentEvidence {
        treatment: evidence.treatment,
        grade: treatments::grade(evidence.grade),
        source: evidence.source,
    }
}

pub(super) fn bounds(bounds: domain::Bounds) -> api::Bounds {
    api::Bounds {
        at_least: bounds.at_least,
        at_most: bounds.at_most,
    }
}

pub(super) fn quantiles(quantiles: domain::BoundedQuantiles) -> api::BoundedQuantiles {
    api::BoundedQuantiles {
        p05: Some(bounds(quantiles.p05)),
        p50: Some(bounds(quantiles.p50)),
        p95: Some(bounds(quantiles.p95)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tonic_types::StatusExt;

    #[test]
    fn everything_wrong_with_a_call_comes_at_once() {
        let mut fields = Fields::new();
        let change = |component: &str, component_type: &str| api::UnitChange {
            component: component.into(),
            component_type: component_type.into(),
            alternative: None,
        };
        let call = api::CompareUnitRequest {
            unit: "engine".into(),
            basis: 7,
            samples: -1,
            candidates: vec![
                api::UnitCandidate {
                    changes: vec![change("", "")],
                    ..Default::default()
                },
                api::UnitCandidate {
                    changes: vec![change("components/a", "ring_pack")],
                    ..Default::default()
                },
            ],
            ..Default::default()
        };
        assert!(unit_request(&mut fields, call).is_none());
        // The message names the first; the details name all.
        let details = fields.refusal().get_details_bad_request().unwrap();
        let refused: Vec<&str> = details
            .field_violations
            .iter()
            .map(|violation| violation.field.as_str())
            .collect();
        for part in [
            "unit",
            "basis",
            "samples",
            "candidates[0].changes[0]",
            "candidates[1].changes[0]",
        ] {
            assert!(
                refused.contains(&part),
                "{part} is missing from {refused:?}"
            );
        }
    }

    #[test]
    fn a_basis_that_is_not_said_is_a_new_part() {
        let mut fields = Fields::new();
        let call = api::CompareRequest {
            component: "components/a".into(),
            ..Default::default()
        };
        let request = request(&mut fields, call).unwrap();
        assert_eq!(request.draws, domain::Draws::default());
    }
}
