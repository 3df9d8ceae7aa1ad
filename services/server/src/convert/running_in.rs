//! Seating and power fade.

use super::{Fields, finding, predictions::quantiles};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// What seating is asked for.
pub fn seating(
    fields: &mut Fields,
    call: api::AssessSeatingRequest,
) -> Option<domain::AssessSeating> {
    let component = fields.optional_name("component", &call.component);
    let profile = fields.optional_name("profile", &call.profile);
    let mut pulls = Vec::with_capacity(call.pulls.len());
    for (index, pull) in call.pulls.into_iter().enumerate() {
        pulls.extend(break_in_pull(fields, index, &pull));
    }
    let meter = call.blow_by_meter.unwrap_or_default();
    let (component, profile) = component.zip(profile)?;
    Some(domain::AssessSeating {
        component,
        profile,
        pulls,
        blow_by_meter: domain::BlowByMeter {
            sd_m3_s: meter.sd_m3_s,
            sd_relative: meter.sd_relative,
            common_sd_relative: meter.common_sd_relative,
        },
        leak_down_sd: call.leak_down_sd,
        expected_end_m3_s: call.expected_end_m3_s,
        limit_m3_s: call.limit_m3_s,
    })
}

fn break_in_pull(
    fields: &mut Fields,
    index: usize,
    pull: &api::BreakInPull,
) -> Option<domain::BreakInPull> {
    let record = fields.optional_name(&format!("pulls[{index}].duty_record"), &pull.duty_record);
    let hot = match api::LeakDownState::try_from(pull.leak_down_state) {
        Ok(api::LeakDownState::Unspecified) => Some(None),
        Ok(api::LeakDownState::Hot) => Some(Some(true)),
        Ok(api::LeakDownState::Cold) => Some(Some(false)),
        Err(_) => {
            let text = format!(
                "is {}, which is no state; expected hot or cold",
                pull.leak_down_state
            );
            fields.refuse(&format!("pulls[{index}].leak_down_state"), text);
            None
        }
    };
    let (duty_record, leak_down_hot) = record.zip(hot)?;
    Some(domain::BreakInPull {
        number: pull.number,
        duty_record,
        blow_by_m3_s: pull.blow_by_m3_s,
        blow_by_pressure_pa: pull.blow_by_pressure_pa,
        blow_by_temp_k: pull.blow_by_temp_k,
        engine_speed_rad_s: pull.engine_speed_rad_s,
        engine_torque_n_m: pull.engine_torque_n_m,
        leak_down_fraction: pull.leak_down_fraction,
        leak_down_hot,
        leak_down_orifice_m: pull.leak_down_orifice_m,
    })
}

/// To a message.
pub fn seating_to_message(found: domain::SeatingAssessment) -> api::SeatingAssessment {
    let decision = match found.decision {
        domain::SeatingDecision::Stop => api::SeatingDecision::Stop,
        domain::SeatingDecision::OneMorePull => api::SeatingDecision::OneMorePull,
        domain::SeatingDecision::NotSeating => api::SeatingDecision::NotSeating,
    };
    api::SeatingAssessment {
        component: found
            .component
            .map(|name| name.to_string())
            .unwrap_or_default(),
        component_type: found.component_type,
        decision: decision.into(),
        reason: found.reason,
        seated_share: Some(quantiles(found.seated_share)),
        seated_probability: found.seated_probability,
        end_blow_by_m3_s: found.end_blow_by_m3_s.map(quantiles),
        end_leak_down_fraction: found.end_leak_down_fraction.map(quantiles),
        next_fall: Some(quantiles(found.next_fall)),
        resolution: found.resolution,
        fall_unit: found.fall_unit,
        pulls_to_seated: Some(quantiles(found.pulls_to_seated)),
        scale_pulls: Some(quantiles(found.scale_pulls)),
        pulls: found.pulls.into_iter().map(seating_pull).collect(),
        least_squares: found.least_squares.map(|fit| api::SeatingLeastSquares {
            end_m3_s: fit.end_m3_s,
            end_se_m3_s: fit.end_se_m3_s,
            start_m3_s: fit.start_m3_s,
            scale_pulls: fit.scale_pulls,
            ln_scale_se: fit.ln_scale_se,
            chi_squared: fit.chi_squared,
            degrees_of_freedom: count(fit.degrees_of_freedom),
        }),
        predicted_end_blow_by_m3_s: found.predicted_end_blow_by_m3_s.map(quantiles),
        cost: found.cost.map(|cost| api::BreakInCost {
            duty_records: count(cost.duty_records),
            events_by_time: cost.events_by_time,
            life_events: cost.life_events,
            life_events_per_pull: cost.life_events_per_pull,
        }),
        assumptions: found.assumptions,
        findings: found.findings.iter().map(finding::to_message).collect(),
        cautions: found.cautions,
    }
}

fn seating_pull(pull: domain::SeatingPull) -> api::SeatingPull {
    api::SeatingPull {
        number: pull.number,
        duty_record: pull
            .duty_record
            .map(|name| name.to_string())
            .unwrap_or_default(),
        blow_by_m3_s: pull.blow_by_m3_s,
        blow_by_sd_m3_s: pull.blow_by_sd_m3_s,
        fitted_blow_by_m3_s: pull.fitted_blow_by_m3_s.map(quantiles),
        predicted_blow_by_m3_s: pull.predicted_blow_by_m3_s.map(quantiles),
        leak_down_fraction: pull.leak_down_fraction,
        fitted_leak_down_fraction: pull.fitted_leak_down_fraction.map(quantiles),
        predicted_leak_down_fraction: pull.predicted_leak_down_fraction.map(quantiles),
        seated_share: Some(quantiles(pull.seated_share)),
        predicted_seated_share: pull.predicted_seated_share.map(quantiles),
    }
}

/// What power fade is asked for.
pub fn fade(
    fields: &mut Fields,
    call: api::AssessPowerFadeRequest,
) -> Option<domain::AssessPowerFade> {
    let unit = fields.name("unit", &call.unit);
    let profile = fields.optional_name("profile", &call.profile);
    let mut pulls = Vec::with_capacity(call.pulls.len());
    for (index, pull) in call.pulls.into_iter().enumerate() {
        let time = fields.optional_time(&format!("pulls[{index}].time"), pull.time);
        pulls.extend(time.map(|time| domain::PowerPull {
            time,
            events: pull.events,
            power_w: pull.power_w,
            correction_factor: pull.correction_factor,
            air_pressure_pa: pull.air_pressure_pa,
            air_temp_k: pull.air_temp_k,
            relative_humidity: pull.relative_humidity,
        }));
    }
    let correction = correction(fields, call.correction);
    let ((unit, profile), correction) = unit.zip(profile).zip(correction)?;
    Some(domain::AssessPowerFade {
        unit,
        profile,
        pulls,
        baseline_power_w: call.baseline_power_w,
        loss_limit_fraction: call.loss_limit_fraction,
        correction,
        engine_factor: call.engine_factor,
        sd_relative: call.sd_relative,
    })
}

// The outer option: whether it could be read; the inner: whether it was given.
#[allow(clippy::option_option)]
fn correction(fields: &mut Fields, given: i32) -> Option<Option<domain::AirCorrection>> {
    use api::AirCorrection as Given;
    use domain::AirCorrection as Law;
    let Ok(given) = Given::try_from(given) else {
        fields.refuse(
            "correction",
            format!("is {given}, which is no law of correction; expected one of AirCorrection"),
        );
        return None;
    };
    Some(match given {
        Given::Unspecified => None,
        Given::SparkIgnition => Some(Law::SparkIgnition),
        Given::SparkIgnitionNetOfFriction => Some(Law::SparkIgnitionNetOfFriction),
        Given::CompressionIgnition => Some(Law::CompressionIgnition),
        Given::CompressionIgnitionTurbocharged => Some(Law::CompressionIgnitionTurbocharged),
    })
}

/// To a message.
pub fn fade_to_message(found: domain::PowerFadeAssessment) -> api::PowerFadeAssessment {
    api::PowerFadeAssessment {
        unit: found.unit.to_string(),
        build: found.build.to_string(),
        profile: found.profile.to_string(),
        age_events: found.age_events,
        loss_limit_fraction: found.loss_limit_fraction,
        text: found.text,
        measured: found.measured.map(measured),
        pulls: found.pulls.into_iter().map(power_pull).collect(),
        predicted: found.predicted.map(predicted),
        comparison: found.comparison.map(|both| api::FadeComparison {
            excess_fraction: Some(quantiles(both.excess_fraction)),
            more_probability: both.more_probability,
            unexplained: both.unexplained,
        }),
        left_out: found.left_out,
        assumptions: found.assumptions,
        findings: found.findings.iter().map(finding::to_message).collect(),
        cautions: found.cautions,
    }
}

fn measured(fade: domain::MeasuredFade) -> api::MeasuredFade {
    api::MeasuredFade {
        baseline_power_w: Some(quantiles(fade.baseline_power_w)),
        loss_fraction_per_event: Some(quantiles(fade.loss_fraction_per_event)),
        loss_fraction_now: Some(quantiles(fade.loss_fraction_now)),
        events_to_limit: Some(quantiles(fade.events_to_limit)),
        horizon_events: fade.horizon_events,
        chi_squared: fade.chi_squared,
        degrees_of_freedom: count(fade.degrees_of_freedom),
    }
}

fn power_pull(pull: domain::PowerPullUsed) -> api::PowerPullUsed {
    api::PowerPullUsed {
        events: pull.events,
        correction_factor: pull.correction_factor,
        corrected_power_w: pull.corrected_power_w,
        loss_fraction: pull.loss_fraction,
        fitted_loss_fraction: pull.fitted_loss_fraction.map(quantiles),
    }
}

fn predicted(fade: domain::PredictedFade) -> api::PredictedFade {
    let ahead = |ahead: domain::ReadingAhead| api::ReadingAhead {
        events: ahead.events,
        value: Some(quantiles(ahead.value)),
    };
    api::PredictedFade {
        loss_fraction_now: Some(quantiles(fade.loss_fraction_now)),
        ahead: fade.ahead.into_iter().map(ahead).collect(),
        events_to_limit: Some(quantiles(fade.events_to_limit)),
        horizon_events: fade.horizon_events,
        components: fade.components.into_iter().map(part).collect(),
    }
}

fn part(part: domain::ComponentPowerLoss) -> api::ComponentPowerLoss {
    let driver = |driver: domain::Driver| api::Driver {
        label: driver.label,
        share: driver.share,
        time_share: driver.time_share,
    };
    api::ComponentPowerLoss {
        component: part.component.to_string(),
        label: part.label,
        loss_fraction_now: Some(quantiles(part.loss_fraction_now)),
        loss_fraction_next: Some(quantiles(part.loss_fraction_next)),
        mechanism: part.mechanism,
        drivers: part.drivers.into_iter().map(driver).collect(),
    }
}

fn count(count: usize) -> i32 {
    i32::try_from(count).unwrap_or(i32::MAX)
}
