//! Usual mistakes of a break-in day that show in its readings.

use super::{
    matching::Doses,
    priors::{Measured, comparable, is_hot},
    warning,
};
use crate::{AssessSeating, BreakInPull, SeatingLeastSquares};
use ringland_host::contract::Finding;

/// Pulls whose speed or torque differ by more are not compared. Assumed.
const MOST_SPEED_CHANGE: f64 = 0.03;
const MOST_TORQUE_CHANGE: f64 = 0.05;
/// A rise by so many errors of a difference is no chance: 0.1 %.
pub(super) const RISE_ERRORS: f64 = 3.0;
/// Chi-squared over its degrees of freedom beyond which readings scatter more than the meter. Assumed.
const MOST_SCATTER: f64 = 4.0;
const FEW_READINGS: usize = 3;

/// What the reader should know of the readings.
pub(super) fn guards(
    call: &AssessSeating,
    measured: &[Measured],
    doses: &Doses,
    fit: Option<&SeatingLeastSquares>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    reference_state(&mut findings, call);
    operating_point(&mut findings, call);
    leak_down(&mut findings, call);
    for one in measured {
        if let Some((index, rise)) = rise(one) {
            findings.push(warning(
                &format!("pulls[{index}]"),
                format!("{rise:.1} errors of a difference above the lowest reading before"),
                "a level that falls from pull to pull",
                "read it again; if it stays, stop: find what lets the gas by before the next pull",
            ));
        }
    }
    let most = measured
        .iter()
        .map(|one| one.levels.len())
        .max()
        .unwrap_or(0);
    if most < FEW_READINGS {
        findings.push(warning(
            "pulls",
            format!("{most} comparable readings"),
            "3 or more",
            "the answer rests on what was assumed; read every pull",
        ));
    }
    if let Some(fit) = fit {
        let ratio = fit.chi_squared / fit.degrees_of_freedom.max(1) as f64;
        if ratio > MOST_SCATTER {
            findings.push(warning(
                "blow_by_meter",
                format!("readings scatter {:.1} times as much as its error says", ratio.sqrt()),
                "scatter like the error",
                "give the meter's true error from reading to reading, or hold speed, load and crankcase pressure better",
            ));
        }
    }
    if doses
        .at
        .windows(2)
        .any(|pair| matches!(pair, [a, b] if b <= a))
    {
        findings.push(warning(
            "pulls",
            "two readings at one seating dose",
            "a dose that grows",
            "check which duty record belongs to which reading",
        ));
    }
    findings
}

/// The last reading, if it is above the lowest before it by more than chance: its pull, and by how many errors.
pub(super) fn rise(measured: &Measured) -> Option<(usize, f64)> {
    let ((index, last), before) = measured.levels.split_last()?;
    let lowest = before.iter().map(|(_, level)| *level).reduce(f64::min)?;
    let errors = (last - lowest) / (std::f64::consts::SQRT_2 * measured.sd_at(lowest));
    (errors > RISE_ERRORS).then_some((*index, errors))
}

fn reference_state(findings: &mut Vec<Finding>, call: &AssessSeating) {
    let read = || call.pulls.iter().filter(|pull| pull.blow_by_m3_s.is_some());
    let mut missing = |field: &str, count: usize, remedy: &str| {
        if count > 0 {
            let text = format!("not given with {count} of {} readings", read().count());
            findings.push(warning(field, text, "that of the gas in the meter", remedy));
        }
    };
    let no_pressure = read()
        .filter(|pull| pull.blow_by_pressure_pa.is_none())
        .count();
    missing(
        "pulls.blow_by_pressure_pa",
        no_pressure,
        "1 bar was taken; 3 % of pressure is 3 % of blow-by",
    );
    let no_temp = read().filter(|pull| pull.blow_by_temp_k.is_none()).count();
    missing(
        "pulls.blow_by_temp_k",
        no_temp,
        "300 K was taken; 10 K are 3 % of blow-by",
    );
}

fn operating_point(findings: &mut Vec<Finding>, call: &AssessSeating) {
    type Of = fn(&BreakInPull) -> Option<f64>;
    let checks: [(&str, Of, f64); 2] = [
        (
            "engine_speed_rad_s",
            |pull| pull.engine_speed_rad_s,
            MOST_SPEED_CHANGE,
        ),
        (
            "engine_torque_n_m",
            |pull| pull.engine_torque_n_m,
            MOST_TORQUE_CHANGE,
        ),
    ];
    for (name, of, most) in checks {
        let values = || call.pulls.iter().filter_map(of);
        let (Some(low), Some(high)) = (values().reduce(f64::min), values().reduce(f64::max)) else {
            continue;
        };
        if high / low - 1.0 > most {
            findings.push(warning(
                &format!("pulls.{name}"),
                format!("{low:.1} to {high:.1}"),
                "one operating point for all readings",
                "read blow-by at the same speed and load: it follows both, and their change is taken for seating here",
            ));
        }
    }
}

fn leak_down(findings: &mut Vec<Finding>, call: &AssessSeating) {
    for (index, pull) in call.pulls.iter().enumerate() {
        if pull.leak_down_fraction.is_none() {
            continue;
        }
        let field = format!("pulls[{index}].leak_down_fraction");
        if !is_hot(pull) {
            let remedy = "left out: cold leak-down is not comparable with hot; test hot";
            findings.push(warning(&field, "cold", "hot", remedy));
        } else if !comparable(call, pull) {
            let remedy = "left out: another orifice gives another figure; use one tester for all";
            findings.push(warning(
                &field,
                "another orifice than before",
                "the same orifice",
                remedy,
            ));
        } else if pull.leak_down_hot.is_none() {
            findings.push(warning(
                &field,
                "not said whether hot",
                "hot",
                "taken as hot; say so, and test hot",
            ));
        }
    }
}
