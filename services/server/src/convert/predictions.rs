//! Predictions.

use super::{Fields, card, finding, time};
use crate::errors;
use ringland_host::contract::Digest;
use ringland_ledger as domain;
use ringland_proto::v1 as api;
use tonic::Status;
use tonic_types::pb;

/// What a prediction is asked for; `at` is the path of the request in the call, `requests[3].` or empty.
pub fn request(
    fields: &mut Fields,
    at: &str,
    request: &api::PredictRequest,
) -> Option<domain::PredictRequest> {
    let component = fields.name(&format!("{at}component"), &request.component);
    let profile = fields.optional_name(&format!("{at}profile"), &request.profile);
    let model_digest = optional_digest(fields, &format!("{at}model_digest"), &request.model_digest);
    let ((component, profile), model_digest) = component.zip(profile).zip(model_digest)?;
    let ahead_events = request.ahead_events.clone();
    Some(domain::PredictRequest {
        component,
        profile,
        model_digest,
        ahead_events,
    })
}

// The outer option: whether it could be read; the inner: whether it was given.
#[allow(clippy::option_option)]
fn optional_digest(fields: &mut Fields, field: &str, text: &str) -> Option<Option<Digest>> {
    if text.is_empty() {
        return Some(None);
    }
    text.parse()
        .map_err(|error: String| fields.refuse(field, error))
        .ok()
        .map(Some)
}

/// One answer of a batch.
pub fn result_to_message(
    result: Result<domain::Prediction, domain::LedgerError>,
) -> api::BatchPredictResult {
    use api::batch_predict_result::Result as Answer;
    let answer = match result {
        Ok(prediction) => Answer::Prediction(to_message(prediction)),
        Err(error) => Answer::Error(status_to_message(&errors::from_ledger(&error))),
    };
    api::BatchPredictResult {
        result: Some(answer),
    }
}

/// A status inside of an answer, with its details.
pub fn status_to_message(status: &Status) -> pb::Status {
    // The details of a status on the wire are this same message.
    let whole = <pb::Status as prost::Message>::decode(status.details());
    match whole {
        Ok(whole) if whole.code != 0 => whole,
        _ => pb::Status {
            code: status.code().into(),
            message: status.message().into(),
            details: Vec::new(),
        },
    }
}

/// To a message.
pub fn to_message(prediction: domain::Prediction) -> api::Prediction {
    let text = |name: Option<String>| name.unwrap_or_default();
    api::Prediction {
        name: prediction.name.to_string(),
        component: prediction.component.to_string(),
        component_type: prediction.component_type,
        unit: text(prediction.unit.map(|name| name.to_string())),
        build: text(prediction.build.map(|name| name.to_string())),
        as_of_time: prediction.as_of_time.map(time::to_message),
        profile: prediction.profile.to_string(),
        life: Some(life(prediction.life)),
        limiting_mechanism: prediction.limiting_mechanism,
        limiting_probability: prediction.limiting_probability,
        risk_next_event: prediction.risk_next_event,
        mechanisms: prediction.mechanisms.into_iter().map(mechanism).collect(),
        readings: prediction.readings.into_iter().map(reading).collect(),
        advice: Some(advice(prediction.advice)),
        r#use: Some(usage(prediction.usage)),
        notes: prediction.notes.iter().map(finding::to_message).collect(),
        cautions: prediction.cautions,
        leaves_out: prediction.leaves_out,
        provenance: Some(provenance(prediction.provenance)),
        create_time: Some(time::to_message(prediction.create_time)),
        overruled_by: prediction
            .overruled_by
            .into_iter()
            .map(overruling)
            .collect(),
    }
}

/// To a message.
pub fn quantiles(quantiles: domain::Quantiles) -> api::Quantiles {
    api::Quantiles {
        p05: quantiles.p05,
        p50: quantiles.p50,
        p95: quantiles.p95,
    }
}

pub(super) fn life(life: domain::RemainingLife) -> api::RemainingLife {
    api::RemainingLife {
        events: Some(quantiles(life.events)),
        hours: Some(quantiles(life.hours)),
        crank_revolutions: life.crank_revolutions.map(quantiles),
        horizon_events: life.horizon_events,
    }
}

pub(super) fn mechanism(mechanism: domain::MechanismPrediction) -> api::MechanismPrediction {
    let driver = |driver: domain::Driver| api::Driver {
        label: driver.label,
        share: driver.share,
        time_share: driver.time_share,
    };
    api::MechanismPrediction {
        mechanism: mechanism.mechanism,
        label: mechanism.label,
        consequence: card::consequence(mechanism.consequence).into(),
        life_ends_when: mechanism.life_ends_when,
        life: Some(life(mechanism.life)),
        risk_next_event: mechanism.risk_next_event,
        first_probability: mechanism.first_probability,
        drivers: mechanism.drivers.into_iter().map(driver).collect(),
        rate: Some(rate(mechanism.rate)),
    }
}

/// What is believed of a rate, to a message.
pub fn rate(rate: domain::RateBelief) -> api::RateBelief {
    let layer = |layer: domain::RateLayer| api::RateLayer {
        layer: layer.layer,
        key: layer.key,
        median: layer.median,
        ln_sd: layer.ln_sd,
        prior_ln_sd: layer.prior_ln_sd,
        observations: layer.observations,
        units: layer.units,
    };
    let bias = |bias: domain::InstrumentBias| api::InstrumentBias {
        instrument_id: bias.instrument_id,
        mean: bias.mean,
        sd: bias.sd,
    };
    api::RateBelief {
        median: rate.median,
        ln_sd: rate.ln_sd,
        evidence: rate.evidence,
        layers: rate.layers.into_iter().map(layer).collect(),
        instrument_biases: rate.instrument_biases.into_iter().map(bias).collect(),
        unproven: rate.unproven,
    }
}

pub fn overruling(finding: domain::OverrulingFinding) -> api::OverrulingFinding {
    api::OverrulingFinding {
        inspection: finding.inspection.to_string(),
        reading: finding.reading,
        mechanisms: finding.mechanisms,
        probability: finding.probability,
        text: finding.text,
    }
}

pub(super) fn reading(reading: domain::ReadingPrediction) -> api::ReadingPrediction {
    let ahead = |ahead: domain::ReadingAhead| api::ReadingAhead {
        events: ahead.events,
        value: Some(quantiles(ahead.value)),
    };
    api::ReadingPrediction {
        reading: reading.reading,
        label: reading.label,
        unit: reading.unit,
        now: Some(quantiles(reading.now)),
        limit: reading.limit,
        limit_side: card::limit_side(reading.limit_side).into(),
        limit_source: reading.limit_source,
        probability_past_limit: reading.probability_past_limit,
        instrument: reading.instrument,
        instrument_sd: reading.instrument_sd,
        ahead: reading.ahead.into_iter().map(ahead).collect(),
    }
}

pub fn advice(advice: domain::Advice) -> api::Advice {
    let action = match advice.action {
        domain::Action::Run => api::Action::Run,
        domain::Action::Measure => api::Action::Measure,
        domain::Action::Replace => api::Action::Replace,
        domain::Action::Stop => api::Action::Stop,
    };
    api::Advice {
        action: action.into(),
        within_events: advice.within_events,
        reading: advice.reading,
        text: advice.text,
    }
}

fn usage(usage: domain::Use) -> api::Use {
    api::Use {
        duty_records: usage.duty_records,
        hours: usage.hours,
        crank_revolutions: usage.crank_revolutions,
        events: usage.events,
    }
}

fn provenance(provenance: domain::Provenance) -> api::Provenance {
    let last = provenance.last_duty_record;
    api::Provenance {
        model_digest: provenance.model_digest.to_string(),
        model_version: provenance.model_version,
        specimen_digest: provenance.specimen_digest.to_string(),
        duty_digest: provenance.duty_digest.to_string(),
        profile_digest: provenance.profile_digest.to_string(),
        last_duty_record: last.map(|name| name.to_string()).unwrap_or_default(),
        seed: provenance.seed,
        samples: i32::try_from(provenance.samples).unwrap_or(i32::MAX),
        condition: provenance.condition.into_iter().collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tonic::Code;

    #[test]
    fn a_status_inside_of_an_answer_keeps_its_details() {
        let status = errors::overloaded("bulk");
        let message = status_to_message(&status);
        assert_eq!(message.code, i32::from(Code::ResourceExhausted));
        assert_eq!(message.message, status.message());
        assert!(message.details.len() >= 2, "reason and retry info");
        let plain = status_to_message(&Status::not_found("gone"));
        assert_eq!((plain.code, plain.message.as_str()), (5, "gone"));
    }

    #[test]
    fn fields_of_a_request_in_a_batch_carry_its_place() {
        let mut fields = Fields::new();
        let message = api::PredictRequest {
            component: "x".into(),
            model_digest: "beef".into(),
            ..Default::default()
        };
        assert!(request(&mut fields, "requests[3].", &message).is_none());
        let refusal = fields.settle(Some(())).unwrap_err();
        assert!(
            refusal.message().contains("requests[3].component"),
            "{refusal}"
        );
        assert!(
            refusal.message().contains("requests[3].model_digest"),
            "{refusal}"
        );
    }
}
