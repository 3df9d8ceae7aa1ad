//! The break-in day and what follows it on the dyno: how far rings are seated, how power fades.
//!
//! Nothing of what is given is kept: what counts as use is recorded as duty.

mod decision;
mod expected;
mod fade;
mod guards;
mod matching;
mod power;
mod power_rules;
mod priors;
mod seating;
mod seating_rules;

use crate::Quantiles;
use ringland_host::contract::{Finding, Severity};
use ringland_mechanics::statistics::mixture::NormalMixture;

fn warning(field: &str, value: impl std::fmt::Display, expected: &str, remedy: &str) -> Finding {
    Finding {
        severity: Severity::Warning,
        field: field.into(),
        value: value.to_string(),
        expected: expected.into(),
        remedy: remedy.into(),
    }
}

/// 5, 50 and 95 %.
fn quantiles(of: impl Fn(f64) -> f64) -> Quantiles {
    Quantiles {
        p05: of(0.05),
        p50: of(0.5),
        p95: of(0.95),
    }
}

fn spread(mixture: &NormalMixture) -> Quantiles {
    quantiles(|p| mixture.quantile(p))
}
