//! What was tried and what came of it.

use crate::subject::Subject;
use ringland_host::contract::ModelError;
use std::{fmt, time::Duration};

/// What came of a check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The law held; what was seen.
    Passed(String),
    /// The law was broken; how.
    Failed(String),
}

/// One law, tried.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Check {
    /// The law.
    pub law: &'static str,
    /// What came of it.
    pub outcome: Outcome,
}

/// A law and how it is tried. `Err` says how it was broken; `Ok` says what was seen.
pub(crate) type Law = (&'static str, fn(&Subject) -> Result<String, String>);

/// All checks of one plugin.
#[derive(Clone, Debug)]
pub struct Report {
    /// Component type, version and digest.
    pub plugin: String,
    /// The checks, in the order in which they were tried.
    pub checks: Vec<Check>,
    /// Time for each kind of call: for information, never a reason to fail.
    pub speeds: Vec<(String, Duration)>,
}

const LOADS: &str = "it loads, and its card is sound";

impl Report {
    pub(crate) fn of(subject: &Subject) -> Self {
        let card = &subject.card;
        let seen = format!(
            "{} numbers, {} surfaces, {} slots, {} mechanisms, {} readings",
            card.numbers.len(),
            card.surfaces.len(),
            card.condition.len(),
            card.mechanisms.len(),
            card.readings.len()
        );
        Self {
            plugin: format!(
                "{} {} ({})",
                card.component_type, card.version, subject.plugin
            ),
            checks: vec![Check {
                law: LOADS,
                outcome: Outcome::Passed(seen),
            }],
            speeds: Vec::new(),
        }
    }

    pub(crate) fn of_unloadable(error: &ModelError) -> Self {
        Self {
            plugin: "unknown".into(),
            checks: vec![Check {
                law: LOADS,
                outcome: Outcome::Failed(error.to_string()),
            }],
            speeds: Vec::new(),
        }
    }

    pub(crate) fn try_each(&mut self, subject: &Subject, laws: &[Law]) {
        for (law, trial) in laws {
            let outcome = match trial(subject) {
                Ok(seen) => Outcome::Passed(seen),
                Err(how) => Outcome::Failed(how),
            };
            self.checks.push(Check { law, outcome });
        }
    }

    /// Whether every law held.
    pub fn passed(&self) -> bool {
        let held = |check: &Check| matches!(check.outcome, Outcome::Passed(_));
        self.checks.iter().all(held)
    }

    /// The laws that were broken.
    pub fn failures(&self) -> impl Iterator<Item = (&'static str, &str)> {
        self.checks.iter().filter_map(|check| match &check.outcome {
            Outcome::Failed(how) => Some((check.law, how.as_str())),
            Outcome::Passed(_) => None,
        })
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}\n", self.plugin)?;
        for Check { law, outcome } in &self.checks {
            match outcome {
                Outcome::Passed(seen) if seen.is_empty() => writeln!(f, "pass  {law}")?,
                Outcome::Passed(seen) => writeln!(f, "pass  {law}: {seen}")?,
                Outcome::Failed(how) => writeln!(f, "FAIL  {law}\n      {how}")?,
            }
        }
        if !self.speeds.is_empty() {
            writeln!(f, "\nfastest of several calls, each in a fresh instance:")?;
            for (what, time) in &self.speeds {
                writeln!(f, "{:>12.1} us  {what}", time.as_secs_f64() * 1e6)?;
            }
        }
        let failed = self.failures().count();
        let verdict = match failed {
            0 => "conforms".to_owned(),
            failed => format!(
                "does not conform: {failed} of {} checks failed",
                self.checks.len()
            ),
        };
        writeln!(f, "\n{verdict}")
    }
}
