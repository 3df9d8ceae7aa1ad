//! Findings that the model did not expect: too unlikely to be use alone.

use super::{
    beside::Observed,
    findings::{figure, warning},
    standing::{cracks_found, limits_passed},
};
use crate::{
    ComponentName, ErrorKind, Inspection, LedgerError, OverrulingFinding, fold::Past, keys,
    ledger::Ledger,
};
use ringland_host::contract::{Card, Digest, Finding, ForecastRequest, Rate};

/// Below this probability use alone is not taken as the cause. Assumed, no source.
const UNLIKELY: f64 = 0.01;
/// The draw is for probabilities alone.
const SEED: u64 = 1;

impl Ledger {
    /// A word where a finding was too unlikely to be use alone by the time of its inspection, at the model's own rates: those that
    /// were learnt have the finding in them.
    pub(crate) fn unlikely_word(
        &self,
        component: &ComponentName,
        (plugin, card): (Digest, &Card),
        finding: &OverrulingFinding,
    ) -> Result<Option<Finding>, LedgerError> {
        let Some(time) = keys::time_of_id(finding.inspection.inspection()) else {
            return Ok(None);
        };
        let past = self.fold_to(component, plugin, time);
        let ended = match past.and_then(|past| self.ended_by(component, &past)) {
            Ok(Some(ended)) => ended,
            Ok(None) => return Ok(None),
            // The finding stands whatever the model can do.
            Err(error) if error.kind() == ErrorKind::FailedPrecondition => {
                return Ok(Some(warning(
                    &finding.inspection,
                    error,
                    "a model that can be asked about it",
                    "whether use alone explains what was found is not known",
                )));
            }
            Err(error) => return Err(error),
        };
        let mechanisms = card.mechanisms.iter().zip(&ended);
        let of_finding: Vec<_> = mechanisms
            .filter(|(mechanism, _)| finding.mechanisms.contains(&mechanism.name))
            .collect();
        // Of several mechanisms any may have made it.
        let probability: f64 = of_finding.iter().map(|(_, ended)| **ended).sum();
        if of_finding.is_empty() || probability >= UNLIKELY {
            return Ok(None);
        }
        let names: Vec<&str> = of_finding.iter().map(|(m, _)| m.name.as_str()).collect();
        let labels: Vec<&str> = of_finding.iter().map(|(m, _)| m.label.as_str()).collect();
        let use_alone = percent(probability);
        Ok(Some(warning(
            format!("{}/{}", finding.inspection, names.join(", ")),
            format!(
                "{}: {use_alone} by then, by the model at its own rates",
                labels.join(", ")
            ),
            "1 % or more (assumed), if use alone has done it",
            &format!(
                "use alone explains this with {use_alone}: look for another cause: assembly and alignment, its contact or wear \
                 pattern, oil and what is in it, its batch, a neighbour that wore or failed; and what the model leaves out: {}",
                card.leaves_out.join("; ")
            ),
        )))
    }

    /// The words for what one inspection has found by itself.
    pub(super) fn unlikely_findings(
        &self,
        component: &ComponentName,
        (plugin, card): (Digest, &Card),
        inspection: &Inspection,
        observed: &Observed,
    ) -> Result<Vec<Finding>, LedgerError> {
        // What the model cannot be compared with it has no probability of.
        if !observed.failure.is_empty() {
            return Ok(Vec::new());
        }
        let mut found = limits_passed(card, &[observed]);
        found.extend(cracks_found(card, std::slice::from_ref(inspection)));
        let mut words = Vec::new();
        for finding in &found {
            words.extend(self.unlikely_word(component, (plugin, card), finding)?);
        }
        Ok(words)
    }

    /// Probability of each mechanism to have ended by a time: what its damage says after one more event like the last, and, for what
    /// strikes without memory, the risk of a fresh part in one such event as often as there were any. `None` without duty.
    fn ended_by(
        &self,
        component: &ComponentName,
        past: &Past,
    ) -> Result<Option<Vec<f64>>, LedgerError> {
        let Some(event) = &past.last_duty else {
            return Ok(None);
        };
        let risks = |condition: &[f64]| -> Result<Vec<f64>, LedgerError> {
            let rates = past.card.mechanisms.iter().map(|mechanism| Rate {
                ln_mean: 0.0,
                ln_sd: mechanism.rate_ln_sd,
            });
            let request = ForecastRequest {
                condition: condition.to_vec(),
                event: event.clone(),
                rates: rates.collect(),
                samples: self.options.samples,
                seed: SEED,
                horizon_events: self.options.horizon_events,
                ahead_events: vec![0.0],
            };
            let sample = &past.sample;
            let forecast = self
                .models
                .forecast(past.plugin, &sample.specimen, &sample.prepared, &request)
                .map_err(|error| LedgerError::of_model(component, error))?;
            let lives = forecast.mechanisms.iter();
            Ok(lives.map(|life| life.risk_next_event).collect())
        };
        let events = past.row.tally.hours * 3600.0 / event.duration_s;
        let (by_now, fresh) = (risks(&past.row.condition)?, risks(&past.at_build)?);
        let joined = |(now, fresh): (&f64, &f64)| (now + events * fresh).min(1.0);
        Ok(Some(by_now.iter().zip(&fresh).map(joined).collect()))
    }
}

fn percent(probability: f64) -> String {
    let percent = 100.0 * probability;
    if percent < 0.001 {
        return "less than 0.001 %".into();
    }
    format!("{} %", figure(percent))
}
