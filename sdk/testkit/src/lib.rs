//! Conformance checks for any plugin, in any language: the plugin runs in the real sandbox, and
//! laws that hold for every life model are tried on it. It knows the contract and nothing of any
//! component type; whether the physics is right is for the plugin's own tests.
//!
//! The program is `ringland-testkit PLUGIN.wasm`; [`check_plugin`] is the same for a test.

mod condition_laws;
mod forecast_laws;
mod report;
mod sample;
mod spec_laws;
mod speed;
mod subject;

pub use report::{Check, Outcome, Report};

use ringland_host::contract::ModelError;
use subject::Subject;

/// Runs every check on a plugin's bytes. Nothing is kept: caches go to a temporary folder.
///
/// # Errors
/// When the sandbox itself cannot start. A bad plugin is a report with failed checks.
pub fn check_plugin(bytes: &[u8]) -> Result<Report, ModelError> {
    let subject = match Subject::load(bytes) {
        Ok(subject) => subject,
        Err(error @ ModelError::NotAPlugin { .. }) => {
            return Ok(Report::of_unloadable(&error));
        }
        Err(error) => return Err(error),
    };
    let mut report = Report::of(&subject);
    report.try_each(&subject, spec_laws::LAWS);
    report.try_each(&subject, condition_laws::LAWS);
    report.try_each(&subject, forecast_laws::LAWS);
    if report.passed() {
        report.speeds = speed::measure(&subject).unwrap_or_default();
    }
    Ok(report)
}
