//! What is wrong with a call about power, and the pulls brought to reference air.

use super::{seating_rules::within, warning};
use crate::{AirCorrection, AssessPowerFade, LedgerError, PowerPull, violations::Violations};
use ringland_host::contract::Finding;
use ringland_mechanics::engine::PowerCorrection;

const MOST_PULLS: usize = 200;
/// Engine factor of a diesel up to 40 mg of fuel per litre and cycle.
const USUAL_ENGINE_FACTOR: f64 = 0.3;

type Range = (f64, f64, &'static str);

const POWER: Range = (100.0, 1e7, "100 to 10 000 000 W");
const EVENTS: Range = (0.0, 10_000.0, "0 to 10 000 events");
const FACTOR: Range = (0.5, 2.0, "0.5 to 2");
const PRESSURE: Range = (7e4, 1.15e5, "70 000 to 115 000 Pa");
const TEMPERATURE: Range = (253.0, 333.0, "253 to 333 K");
const SHARE: Range = (0.0, 1.0, "0 to 1");
const LOSS: Range = (1e-4, 0.5, "0.0001 to 0.5");
const SD: Range = (1e-4, 0.1, "0.0001 to 0.1");
const ENGINE_FACTOR: Range = (0.2, 1.2, "0.2 to 1.2");

/// Everything wrong at once.
pub(super) fn check(call: &AssessPowerFade) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    if call.pulls.len() > MOST_PULLS {
        let expected = format!("at most {MOST_PULLS}");
        violations.add(
            "pulls",
            call.pulls.len(),
            &expected,
            "give fewer, or means of a day's",
        );
    }
    for (index, pull) in call.pulls.iter().enumerate().take(MOST_PULLS) {
        check_pull(&mut violations, call, index, pull);
    }
    within(
        &mut violations,
        "baseline_power_w",
        call.baseline_power_w,
        POWER,
    );
    within(
        &mut violations,
        "loss_limit_fraction",
        call.loss_limit_fraction,
        LOSS,
    );
    within(
        &mut violations,
        "engine_factor",
        call.engine_factor,
        ENGINE_FACTOR,
    );
    within(&mut violations, "sd_relative", call.sd_relative, SD);
    violations.into_result()
}

fn check_pull(violations: &mut Violations, call: &AssessPowerFade, index: usize, pull: &PowerPull) {
    let field = |name: &str| format!("pulls[{index}].{name}");
    if pull.time.is_some() == pull.events.is_some() {
        let value = if pull.time.is_some() {
            "time and events"
        } else {
            "neither time nor events"
        };
        violations.add(
            field("events"),
            value,
            "one of both",
            "say when the pull was, or at how many events",
        );
    }
    for (name, value, range) in [
        ("power_w", Some(pull.power_w), POWER),
        ("events", pull.events, EVENTS),
        ("correction_factor", pull.correction_factor, FACTOR),
        ("air_pressure_pa", pull.air_pressure_pa, PRESSURE),
        ("air_temp_k", pull.air_temp_k, TEMPERATURE),
        ("relative_humidity", pull.relative_humidity, SHARE),
    ] {
        within(violations, &field(name), value, range);
    }
    let air = [
        pull.air_pressure_pa,
        pull.air_temp_k,
        pull.relative_humidity,
    ];
    if pull.correction_factor.is_some() || air.iter().all(Option::is_none) {
        return;
    }
    if pull.air_pressure_pa.is_none() || pull.air_temp_k.is_none() {
        let remedy = "give both, or a correction factor";
        violations.add(
            field("air_pressure_pa"),
            "incomplete air",
            "pressure and temperature",
            remedy,
        );
    }
    if call.correction.is_none() {
        let remedy = "choose the law of the engine's kind, or give correction factors";
        violations.add(
            "correction",
            "not set",
            "a law, since pulls give their air",
            remedy,
        );
    }
}

/// The factor of each pull.
pub(super) fn factors(
    call: &AssessPowerFade,
    findings: &mut Vec<Finding>,
) -> Result<Vec<f64>, LedgerError> {
    let law = call
        .correction
        .map(|correction| law(correction, call.engine_factor));
    let (mut outside, mut as_given) = (0, 0);
    let mut factors = Vec::with_capacity(call.pulls.len());
    for (index, pull) in call.pulls.iter().enumerate() {
        let factor = match (
            pull.correction_factor,
            law,
            pull.air_pressure_pa,
            pull.air_temp_k,
        ) {
            (Some(factor), ..) => factor,
            (None, Some(law), Some(pressure), Some(temperature)) => {
                let humidity = pull.relative_humidity.unwrap_or(0.0);
                law.factor(pressure, temperature, humidity)
                    .map_err(|error| {
                        LedgerError::invalid(crate::FieldViolation::new(
                            &format!("pulls[{index}]"),
                            &error.to_string(),
                            "air that the law is written for",
                            "correct it",
                        ))
                    })?
            }
            _ => {
                as_given += 1;
                1.0
            }
        };
        outside += usize::from(!accepted(call.correction).contains(&factor));
        factors.push(factor);
    }
    if outside > 0 {
        findings.push(warning(
            "pulls.correction_factor",
            format!("outside of what the standards accept with {outside} pulls"),
            "0.93 to 1.07; diesel 0.9 to 1.1",
            "pull on a day with air nearer to 99 kPa dry and 298 K; a correction that large is itself in error",
        ));
    }
    if as_given > 0 && as_given < call.pulls.len() {
        findings.push(warning(
            "pulls.correction_factor",
            format!(
                "neither factor nor air with {as_given} of {} pulls",
                call.pulls.len()
            ),
            "the same correction for all",
            "taken as corrected already; correct all pulls alike",
        ));
    }
    Ok(factors)
}

fn accepted(correction: Option<AirCorrection>) -> std::ops::RangeInclusive<f64> {
    match correction {
        Some(
            AirCorrection::CompressionIgnition | AirCorrection::CompressionIgnitionTurbocharged,
        ) => 0.9..=1.1,
        _ => 0.93..=1.07,
    }
}

fn law(correction: AirCorrection, engine_factor: Option<f64>) -> PowerCorrection {
    let engine_factor = engine_factor.unwrap_or(USUAL_ENGINE_FACTOR);
    match correction {
        AirCorrection::SparkIgnition => PowerCorrection::SparkIgnition,
        AirCorrection::SparkIgnitionNetOfFriction => PowerCorrection::SparkIgnitionNetOfFriction,
        AirCorrection::CompressionIgnition => {
            PowerCorrection::CompressionIgnition { engine_factor }
        }
        AirCorrection::CompressionIgnitionTurbocharged => {
            PowerCorrection::CompressionIgnitionTurbocharged { engine_factor }
        }
    }
}
