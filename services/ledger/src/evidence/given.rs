//! Lives and replacements that come with the call: the shop's notebook.

use super::MOST;
use crate::{LedgerError, ObservedLife, RepairedUnit, violations::Violations};

/// Largest age taken.
const OLDEST: f64 = 1e15;

fn check_count(field: &str, count: usize) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    if count > MOST {
        let expected = format!("at most {MOST}");
        violations.add(field, count, &expected, "send fewer");
    }
    if count == 0 {
        violations.add(
            field,
            0,
            "at least one",
            "give them, or name a component_type",
        );
    }
    violations.into_result()
}

/// Refuses lives that cannot be.
pub(super) fn check_lives(lives: &[ObservedLife]) -> Result<(), LedgerError> {
    check_count("lives", lives.len())?;
    let mut violations = Violations::default();
    for (index, life) in lives.iter().enumerate() {
        if !(life.age > 0.0 && life.age <= OLDEST) {
            let field = format!("lives[{index}].age");
            violations.add(field, life.age, "above 0, at most 1e15", "correct it");
        }
    }
    violations.into_result()
}

/// Refuses units that cannot be.
pub(super) fn check_units(units: &[RepairedUnit]) -> Result<(), LedgerError> {
    check_count("units", units.len())?;
    check_count(
        "units.ages",
        units
            .iter()
            .map(|unit| unit.ages.len())
            .sum::<usize>()
            .max(1),
    )?;
    let mut violations = Violations::default();
    for (index, unit) in units.iter().enumerate() {
        if !(unit.end > 0.0 && unit.end <= OLDEST) {
            let field = format!("units[{index}].end");
            violations.add(field, unit.end, "above 0, at most 1e15", "correct it");
        }
        for (at, age) in unit.ages.iter().enumerate() {
            if !(0.0..=unit.end).contains(age) {
                let field = format!("units[{index}].ages[{at}]");
                let expected = format!("0 to the end, {}", unit.end);
                violations.add(field, age, &expected, "correct it, or the end");
            }
        }
    }
    violations.into_result()
}
