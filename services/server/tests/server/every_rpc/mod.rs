//! Every call of the contract, in the order in which a shop would make them.

mod advice;
mod duty;
mod findings;
mod models;
mod parts;
mod planning;
mod questions;

use crate::{clients::calls_made, contract};

const UNIT: &str = "units/engine-a";
const BUILD: &str = "units/engine-a/builds/b1";
const PLATE: &str = "components/plate-1";
/// Events that a new plate lasts, by hand: 1 mm at 1e-8 m/s, an hour an event.
const NEW_LIFE: f64 = 1e-3 / (1e-8 * 3600.0);

fn mask(path: &str) -> prost_types::FieldMask {
    prost_types::FieldMask {
        paths: vec![path.into()],
    }
}

#[track_caller]
fn close(value: f64, expected: f64) {
    assert!(
        (value - expected).abs() < 1e-9 * expected.abs().max(1e-3),
        "{value} {expected}"
    );
}

/// Makes the calls of each test here again, on this thread, and holds them against the contract.
#[test]
fn no_call_of_the_contract_is_left_out() {
    for make_calls in [
        parts::units,
        parts::builds,
        parts::components,
        parts::installations,
        duty::duty_and_profiles,
        duty::predictions,
        models::models_and_the_ledger,
        findings::inspections,
        findings::treatments,
        findings::evidence,
        advice::comparisons,
        advice::running_in,
        questions::questions_about_a_unit,
        questions::questions_about_several_units,
        planning::plans,
        planning::overrides,
    ] {
        make_calls();
    }
    let made = calls_made();
    let left_out: Vec<String> = contract::methods().difference(&made).cloned().collect();
    assert!(left_out.is_empty(), "never called: {left_out:?}");
}
