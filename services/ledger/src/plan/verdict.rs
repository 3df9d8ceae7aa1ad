//! A plan in sentences, and what would help where it cannot.

use super::{
    answer::Answer,
    make::part_words,
    words::{amount, percent},
};
use crate::{PlanCost, PlannedEvent, PlannedTeardown};

impl Answer<'_> {
    fn barred_event(&self) -> Option<&str> {
        let event = self.ahead.events.get(self.chosen.program.events)?;
        Some(event.event.code.as_str())
    }

    pub(super) fn remedies(&self, events: &[PlannedEvent]) -> Vec<String> {
        let mut remedies = Vec::new();
        if let Some(code) = self.barred_event() {
            let barred: Vec<String> = self
                .planned
                .iter()
                .zip(&self.chosen.may_run)
                .filter(|(_, may_run)| **may_run == self.chosen.program.events)
                .map(|(planned, _)| part_words(planned))
                .collect();
            remedies.push(if barred.is_empty() {
                format!("{code}: the shelf and the time there is do not serve all limits; add stock, an opportunity before it, or time")
            } else {
                format!(
                    "{code} may not be run with {}: replace it before, by an opportunity, a price and stock in the calendar, or put \
                     in another part; the limit itself cannot be moved here",
                    barred.join(", ")
                )
            });
        }
        for event in events.iter().filter(|event| is_over(event)) {
            let carry: Vec<String> = event
                .parts
                .iter()
                .take(2)
                .map(|part| format!("{} {}", part.component.component(), percent(part.risk)))
                .collect();
            remedies.push(format!(
                "{} is over its cap with {} against {}: most of it is {}; replace that before, sooner or by an opportunity that is \
                 not in the calendar, or leave the event out",
                event.code,
                percent(event.risk),
                percent(event.risk_cap),
                carry.join(", "),
            ));
        }
        remedies
    }

    pub(super) fn verdict(
        &self,
        events: &[PlannedEvent],
        teardowns: &[PlannedTeardown],
        cost: &PlanCost,
        nothing: f64,
    ) -> String {
        let mut sentences = Vec::new();
        match (self.barred_event(), events.is_empty()) {
            (Some(code), true) => sentences.push(format!(
                "It may not run {code}: a limit or a finding stands."
            )),
            (Some(code), false) => sentences.push(format!(
                "Planned up to {code}, which it may not run: a limit stands."
            )),
            (None, true) => sentences.push("No event is ahead of it in this calendar.".into()),
            (None, false) => {}
        }
        if !events.is_empty() {
            sentences.push(match teardowns.first() {
                None => "Replace nothing.".into(),
                Some(first) => format!("{} {}.", first_words(first), list(first)),
            });
            if teardowns.len() > 1 {
                let later: Vec<String> = teardowns
                    .iter()
                    .skip(1)
                    .map(|t| format!("{} {}", place(t), list(t)))
                    .collect();
                sentences.push(format!("Later: {}.", later.join("; ")));
            }
            sentences.push(format!(
                "Expected cost {}, of which {} for ends of parts; {} when nothing is replaced{}.",
                amount(cost.total),
                amount(cost.failures),
                amount(nothing),
                if cost.gap > 1e-4 {
                    format!("; at most {} of it could be saved", percent(cost.gap))
                } else {
                    String::new()
                },
            ));
            let over: Vec<&str> = events
                .iter()
                .filter(|e| is_over(e))
                .map(|e| e.code.as_str())
                .collect();
            if !over.is_empty() {
                sentences.push(format!(
                    "Over the cap whatever is replaced: {}.",
                    over.join(", ")
                ));
            }
        }
        sentences.join(" ")
    }
}

fn is_over(event: &PlannedEvent) -> bool {
    let over = |risk: f64, cap: f64| risk > cap * (1.0 + 1e-4);
    over(event.risk, event.risk_cap) || over(event.hazard_risk, event.hazard_risk_cap)
}

fn place(teardown: &PlannedTeardown) -> String {
    if teardown.after_event.is_empty() {
        "before the first event".into()
    } else {
        format!("after {}", teardown.after_event)
    }
}

fn first_words(teardown: &PlannedTeardown) -> String {
    let place = place(teardown);
    let mut letters = place.chars();
    let first = letters
        .next()
        .map(|first| first.to_uppercase().collect::<String>());
    format!("{}{} replace", first.unwrap_or_default(), letters.as_str())
}

fn list(teardown: &PlannedTeardown) -> String {
    let names = teardown
        .replacements
        .iter()
        .map(|each| each.component.component());
    names.collect::<Vec<_>>().join(", ")
}
