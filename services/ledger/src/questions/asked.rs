//! What a question is asked with: the event to come, prices.

use crate::{
    AskedEvent, FieldViolation, LedgerError, PredictRequest, Reason, UnitName,
    ledger::{Ledger, mean_event},
    predict::Event,
    violations::Violations,
};
use std::collections::BTreeMap;

const SEVERITIES: std::ops::RangeInclusive<f64> = 0.05..=20.0;
const PRICES: std::ops::RangeInclusive<f64> = 0.0..=1e12;
const MOST_PRICES: usize = 300;
pub(super) const REMEDY: &str = "correct it, or leave it out";

/// Checks how hard the event is asked to be.
pub(super) fn check_event(violations: &mut Violations, asked: &AskedEvent) {
    if let Some(severity) = asked.severity.filter(|s| !SEVERITIES.contains(s)) {
        let expected = "0.05 to 20 times the profile";
        violations.add("severity", severity, expected, REMEDY);
    }
}

/// Checks a price.
pub(super) fn check_price(violations: &mut Violations, field: &str, price: f64) {
    if !PRICES.contains(&price) {
        violations.add(field, price, "0 to 1e12, in the shop's currency", REMEDY);
    }
}

/// Checks prices by component or type.
pub(super) fn check_prices(
    violations: &mut Violations,
    field: &str,
    prices: &BTreeMap<String, f64>,
) {
    if prices.len() > MOST_PRICES {
        let expected = format!("at most {MOST_PRICES}");
        let (count, remedy) = (prices.len().to_string(), "name types, not components");
        violations.push(FieldViolation::new(field, &count, &expected, remedy));
    }
    for (of, price) in prices.iter().take(MOST_PRICES) {
        check_price(violations, &format!("{field}[{of}]"), *price);
    }
}

/// The price of a part: its own, else that of its type.
pub(super) fn price_of(
    prices: &BTreeMap<String, f64>,
    component: &crate::ComponentName,
    component_type: &str,
) -> Option<f64> {
    let own = prices
        .get(&component.to_string())
        .or_else(|| prices.get(component.component()));
    own.or_else(|| prices.get(component_type)).copied()
}

impl Ledger {
    /// The event asked about: of the profile named, else of the unit's, as hard as asked.
    pub(super) fn event_in_unit(
        &self,
        asked: &AskedEvent,
        unit: &UnitName,
    ) -> Result<Event, LedgerError> {
        let profile = match &asked.profile {
            Some(profile) => profile.clone(),
            None => self.get_unit(unit)?.event_profile.ok_or_else(|| {
                let text = format!(
                    "profile is not given, and {unit} has no event_profile; name a profile, or give the unit one"
                );
                LedgerError::precondition(Reason::ProfileMissing, unit, text)
            })?,
        };
        self.as_hard(self.event_of_profile(&profile)?, asked)
    }

    /// The same for a component, wherever it is.
    pub(super) fn event_of_component(
        &self,
        asked: &AskedEvent,
        component: &crate::ComponentName,
    ) -> Result<Event, LedgerError> {
        let profile = self.profile_for(&PredictRequest {
            profile: asked.profile.clone(),
            ..PredictRequest::of(component.clone())
        })?;
        self.as_hard(self.event_of_profile(&profile)?, asked)
    }

    /// So many times the use: times and counts of cycles by that factor, shocks in proportion, at least one of each kind.
    fn as_hard(&self, event: Event, asked: &AskedEvent) -> Result<Event, LedgerError> {
        match asked.severity {
            None => Ok(event),
            Some(severity) if severity.total_cmp(&1.0).is_eq() => Ok(event),
            Some(severity) => {
                let duty = mean_event(
                    std::slice::from_ref(&event.duty),
                    1.0 / severity,
                    &self.options,
                )?;
                event.with_duty(duty)
            }
        }
    }
}
