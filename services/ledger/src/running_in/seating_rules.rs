//! What is wrong with a call about seating.

use crate::{AssessSeating, BreakInPull, LedgerError, violations::Violations};

const MOST_PULLS: usize = 60;

/// A range with its unit in words.
type Range = (f64, f64, &'static str);

const NUMBER: Range = (0.0, 1000.0, "0 to 1000 pulls");
const BLOW_BY: Range = (1e-7, 1.0, "1e-7 to 1 m3/s (6 ml/min to 60 000 l/min)");
const PRESSURE: Range = (5e4, 3e5, "50 000 to 300 000 Pa, absolute");
const TEMPERATURE: Range = (240.0, 500.0, "240 to 500 K");
const SPEED: Range = (1.0, 3000.0, "1 to 3000 rad/s");
const TORQUE: Range = (0.1, 10_000.0, "0.1 to 10 000 N.m");
const LEAK_DOWN: Range = (0.0, 1.0, "0 to 1");
const ORIFICE: Range = (1e-4, 0.01, "0.0001 to 0.01 m");
const SD_FLOW: Range = (1e-9, 0.1, "1e-9 to 0.1 m3/s");
const SD_RELATIVE: Range = (1e-4, 0.5, "0.0001 to 0.5");
const SD_COMMON: Range = (0.0, 0.5, "0 to 0.5");
const SD_LEAK: Range = (1e-4, 0.5, "0.0001 to 0.5");

/// Everything wrong at once.
pub(super) fn check(call: &AssessSeating) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    let count = call.pulls.len();
    if !(1..=MOST_PULLS).contains(&count) {
        let expected = format!("1 to {MOST_PULLS}");
        violations.add(
            "pulls",
            count,
            &expected,
            "give the readings of one break-in",
        );
    }
    let mut last = f64::NEG_INFINITY;
    for (index, (pull, number)) in call
        .pulls
        .iter()
        .zip(numbers(&call.pulls))
        .enumerate()
        .take(MOST_PULLS)
    {
        let field = |name: &str| format!("pulls[{index}].{name}");
        if number <= last {
            violations.add(
                field("number"),
                number,
                "more than the reading before",
                "order the readings, one for each pull",
            );
        }
        last = number;
        check_pull(&mut violations, pull, &field);
    }
    let meter = &call.blow_by_meter;
    within(
        &mut violations,
        "blow_by_meter.sd_m3_s",
        meter.sd_m3_s,
        SD_FLOW,
    );
    within(
        &mut violations,
        "blow_by_meter.sd_relative",
        meter.sd_relative,
        SD_RELATIVE,
    );
    within(
        &mut violations,
        "blow_by_meter.common_sd_relative",
        meter.common_sd_relative,
        SD_COMMON,
    );
    within(&mut violations, "leak_down_sd", call.leak_down_sd, SD_LEAK);
    within(
        &mut violations,
        "expected_end_m3_s",
        call.expected_end_m3_s,
        BLOW_BY,
    );
    within(&mut violations, "limit_m3_s", call.limit_m3_s, BLOW_BY);
    violations.into_result()
}

fn check_pull(violations: &mut Violations, pull: &BreakInPull, field: &dyn Fn(&str) -> String) {
    if pull.blow_by_m3_s.is_none() && pull.leak_down_fraction.is_none() {
        violations.add(
            field("blow_by_m3_s"),
            "not set",
            "blow-by or leak-down",
            "give what was read, or leave the pull out and number the others",
        );
    }
    for (name, value, range) in [
        ("number", pull.number, NUMBER),
        ("blow_by_m3_s", pull.blow_by_m3_s, BLOW_BY),
        ("blow_by_pressure_pa", pull.blow_by_pressure_pa, PRESSURE),
        ("blow_by_temp_k", pull.blow_by_temp_k, TEMPERATURE),
        ("engine_speed_rad_s", pull.engine_speed_rad_s, SPEED),
        ("engine_torque_n_m", pull.engine_torque_n_m, TORQUE),
        ("leak_down_fraction", pull.leak_down_fraction, LEAK_DOWN),
        ("leak_down_orifice_m", pull.leak_down_orifice_m, ORIFICE),
    ] {
        within(violations, &field(name), value, range);
    }
}

/// Refuses a number outside its range; one that is not a number is outside of any.
pub(super) fn within(
    violations: &mut Violations,
    field: &str,
    value: Option<f64>,
    (low, high, expected): Range,
) {
    if let Some(value) = value
        && !(low..=high).contains(&value)
    {
        violations.add(field, value, expected, "correct it, in SI units");
    }
}

/// Pulls done by each reading.
pub(super) fn numbers(pulls: &[BreakInPull]) -> Vec<f64> {
    let mut next = 0.0;
    let number = |pull: &BreakInPull| {
        let number = pull.number.unwrap_or(next);
        next = number + 1.0;
        number
    };
    pulls.iter().map(number).collect()
}
