//! A plan as an answer.

use super::{
    ahead::{Ahead, StopAhead, days},
    draws::{Planned, can_be_ordered},
    make::Chosen,
    parts::Place,
    program::{CAPPED, Cost, SpellEvent},
    words::{amount, percent},
};
use crate::{
    MakePlan, Override, Plan, PlanCost, PlannedCheck, PlannedEvent, PlannedPart,
    PlannedReplacement, PlannedTeardown, StandingLimit,
    predict::{Drawing, warning},
};
use ringland_host::contract::Finding;

const CAUTION: &str = "It advises. Limits of the part's maker, rules of the sanctioning body and what is found at the part come \
                       first; a low risk is not none.";

pub(super) fn plan(
    request: &MakePlan,
    drawing: &Drawing,
    (ahead, places, planned): (&Ahead, &[Place], &[Planned<'_>]),
    chosen: &Chosen,
    checks: Vec<PlannedCheck>,
    overrides: Vec<Override>,
) -> Plan {
    let program = &chosen.program;
    let caps_met = program.caps_met(&chosen.found.choice);
    let answer = Answer {
        ahead,
        planned,
        chosen,
    };
    let events = answer.events();
    let teardowns = answer.teardowns();
    let cost = cost_of(chosen.found.cost, chosen.found.at_least);
    let nothing = program.cost(&program.nothing());
    let remedies = answer.remedies(&events);
    Plan {
        unit: request.unit.clone(),
        calendar: request.calendar.clone(),
        calendar_revision: ahead.calendar.revision,
        as_of_time: ahead.as_of_time,
        samples: drawing.samples,
        verdict: answer.verdict(&events, &teardowns, &cost, nothing.total()),
        events,
        teardowns,
        cost,
        cost_of_nothing: cost_of(nothing, nothing.total()),
        checks,
        standing_limits: answer.standing_limits(),
        caps_met,
        remedies,
        overrides,
        notes: notes(ahead, places, planned),
        cautions: cautions(planned),
    }
}

pub(super) struct Answer<'a> {
    pub(super) ahead: &'a Ahead,
    pub(super) planned: &'a [Planned<'a>],
    pub(super) chosen: &'a Chosen,
}

fn cost_of(cost: Cost, at_least: f64) -> PlanCost {
    let total = cost.total();
    PlanCost {
        parts: cost.parts,
        labour: cost.labour,
        failures: cost.failures,
        total,
        at_least,
        gap: if total > 0.0 {
            ((total - at_least) / total).max(0.0)
        } else {
            0.0
        },
    }
}

impl Answer<'_> {
    fn events(&self) -> Vec<PlannedEvent> {
        let program = &self.chosen.program;
        let with = program.hazards(&self.chosen.found.choice);
        let without = program.hazards(&program.nothing());
        let caps = program.caps;
        let mut events = Vec::with_capacity(program.events);
        for (index, event) in self.ahead.events.iter().take(program.events).enumerate() {
            let [risk, hazard_risk] = with.get(index).map_or([0.0; CAPPED], |h| h.map(risk_of));
            let mut answer = PlannedEvent {
                code: event.event.code.clone(),
                title: event.event.title.clone(),
                start_time: event.event.start_time,
                risk,
                hazard_risk,
                risk_cap: caps[0],
                hazard_risk_cap: caps[1],
                risk_of_nothing: without.get(index).map_or(0.0, |h| risk_of(h[0])),
                ..PlannedEvent::default()
            };
            let mut any_hazard = 0.0;
            for (planned, course) in self.planned.iter().zip(self.courses(index)) {
                let (course, renewed) = course;
                any_hazard += course.any_hazard;
                answer.failure_cost += course.cost;
                answer.parts.push(PlannedPart {
                    component: planned.place.component.clone(),
                    component_type: planned.place.component_type.clone(),
                    position: planned.place.position.clone(),
                    renewed,
                    risk: risk_of(course.hazard[0]),
                    any_end_risk: risk_of(course.any_hazard),
                    used: course.used,
                });
            }
            answer.any_end_risk = risk_of(any_hazard);
            answer.parts.sort_by(|one, other| {
                let by_risk = other.risk.total_cmp(&one.risk);
                by_risk.then(other.any_end_risk.total_cmp(&one.any_end_risk))
            });
            events.push(answer);
        }
        events
    }

    /// Every planned part in one event.
    fn courses(&self, event: usize) -> Vec<(SpellEvent, bool)> {
        let program = &self.chosen.program;
        let pairs = program.parts.iter().zip(&self.chosen.found.choice.replaced);
        pairs
            .map(|(part, replaced)| {
                program
                    .course(part, replaced)
                    .nth(event)
                    .unwrap_or_default()
            })
            .collect()
    }

    fn teardowns(&self) -> Vec<PlannedTeardown> {
        let choice = &self.chosen.found.choice;
        let stops = self
            .ahead
            .stops
            .iter()
            .take(self.chosen.program.stops.len())
            .enumerate();
        stops
            .filter(|(index, _)| choice.replaced.iter().any(|stops| stops.contains(index)))
            .map(|(index, stop)| self.teardown(index, stop))
            .collect()
    }

    fn teardown(&self, index: usize, stop: &StopAhead) -> PlannedTeardown {
        let content = &self.ahead.calendar.content;
        let rate_per_min = content.labour_rate_per_h / 60.0;
        let open = self
            .chosen
            .found
            .choice
            .open
            .get(index)
            .into_iter()
            .flatten();
        let levels: Vec<_> = open
            .filter_map(|level| content.levels.get(*level))
            .collect();
        let mut teardown = PlannedTeardown {
            after_event: stop.after_event.clone(),
            time: stop.time,
            levels: levels.iter().map(|level| level.name.clone()).collect(),
            replacements: Vec::new(),
            labour_min: levels.iter().map(|level| level.labour_min).sum(),
            labour_cost: levels.iter().map(|level| level.cost).sum(),
            parts_cost: 0.0,
        };
        for (number, planned) in self.planned.iter().enumerate() {
            let replaced = self.chosen.found.choice.replaced.get(number);
            if !replaced.is_some_and(|stops| stops.contains(&index)) {
                continue;
            }
            let Some(price) = planned.price else { continue };
            teardown.labour_min += price.fitting_min;
            teardown.parts_cost += price.price;
            let ordered = can_be_ordered(self.ahead, price, stop.time) && price.lead_days > 0.0;
            // What is on the shelf is taken first only where no order comes in time.
            let order_by_time = stop
                .time
                .filter(|_| ordered)
                .map(|time| time - days(price.lead_days));
            teardown.replacements.push(PlannedReplacement {
                component: planned.place.component.clone(),
                component_type: planned.place.component_type.clone(),
                position: planned.place.position.clone(),
                price: price.price,
                fitting_min: price.fitting_min,
                order_by_time,
                reason: self.reason(number, index),
            });
        }
        teardown.labour_cost += teardown.labour_min * rate_per_min;
        teardown
    }

    /// What would come of leaving a part in at a stop.
    fn reason(&self, number: usize, stop: usize) -> String {
        let program = &self.chosen.program;
        let (Some(part), Some(replaced)) = (
            program.parts.get(number),
            self.chosen.found.choice.replaced.get(number),
        ) else {
            return String::new();
        };
        let left: Vec<usize> = replaced
            .iter()
            .copied()
            .filter(|other| *other != stop)
            .collect();
        let begin = program.stops.get(stop).map_or(0, |stop| stop.before_event);
        let next = replaced.iter().find(|other| **other > stop);
        let end = next
            .and_then(|stop| program.stops.get(*stop))
            .map_or(program.events, |s| s.before_event);
        let stretch = |replaced: &[usize]| -> (f64, f64) {
            let course = program
                .course(part, replaced)
                .skip(begin)
                .take(end.saturating_sub(begin));
            course.fold((0.0, 0.0), |(hazard, cost), (event, _)| {
                (hazard + event.any_hazard, cost + event.cost)
            })
        };
        let (old, new) = (stretch(&left), stretch(replaced));
        let mut text = format!(
            "it would end before the next change with {}, a new one with {}; that is {} of expected cost",
            percent(risk_of(old.0)),
            percent(risk_of(new.0)),
            amount(old.1 - new.1),
        );
        let bar = self
            .planned
            .get(number)
            .and_then(|planned| planned.bars.first());
        let first = replaced.first() == Some(&stop);
        if let Some(bar) = bar.filter(|bar| first && bar.may_run < program.events) {
            text = format!("{}; {text}", bar.text);
        }
        text
    }

    fn standing_limits(&self) -> Vec<StandingLimit> {
        let total = self.ahead.events.len();
        let mut standing = Vec::new();
        for (planned, may_run) in self.planned.iter().zip(&self.chosen.may_run) {
            let barred = self.ahead.events.get(*may_run).filter(|_| *may_run < total);
            let code = barred.map_or(String::new(), |event| event.event.code.clone());
            for bar in &planned.bars {
                standing.push(StandingLimit {
                    component: planned.place.component.clone(),
                    event: code.clone(),
                    text: bar.text.clone(),
                });
            }
            if planned.bars.is_empty() && barred.is_some() {
                standing.push(StandingLimit {
                    component: planned.place.component.clone(),
                    event: code,
                    text: "a limit would be passed by a new part before it can be replaced again"
                        .into(),
                });
            }
        }
        standing
    }
}

fn risk_of(hazard: f64) -> f64 {
    -libm::expm1(-hazard)
}

fn notes(ahead: &Ahead, places: &[Place], planned: &[Planned<'_>]) -> Vec<Finding> {
    let mut notes = vec![
        warning(
            "components".into(),
            "drawn independently of each other".into(),
            "parts of one unit, which share oil, heat and duty",
            "where they are short-lived together, the risk of an event comes to less than told, and that of a season to more".into(),
        ),
        warning(
            "severity".into(),
            "shares of drawn lives, added".into(),
            "wear that does not depend on what ran before",
            "plan again after each event: the order of events is not in it".into(),
        ),
        warning(
            "events".into(),
            "up to the last of the calendar".into(),
            "a season with another after it",
            "what is left in parts at its end counts nothing".into(),
        ),
    ];
    for place in places {
        if let Err(error) = &place.drawn {
            notes.push(warning(
                place.component.to_string(),
                "has no life".into(),
                "a life of every part",
                format!("no risk and no cost of it is in the plan: {error}"),
            ));
        }
    }
    let mut unpriced: Vec<&str> = Vec::new();
    for part in planned {
        let kind = part.place.component_type.as_str();
        if part.price.is_none() && !unpriced.contains(&kind) {
            unpriced.push(kind);
        }
    }
    for kind in unpriced {
        notes.push(warning(
            format!("calendar.parts.{kind}"),
            "no price".into(),
            "a price of every type",
            "it is never replaced here, whatever its risk; give its price in the calendar".into(),
        ));
    }
    let of_parts = planned.iter().flat_map(|part| {
        let component = &part.place.component;
        part.drawn.notes.iter().map(move |note| Finding {
            field: format!("{component}: {}", note.field),
            ..note.clone()
        })
    });
    notes.extend(of_parts);
    notes.extend(ahead.notes.iter().cloned());
    notes
}

/// Ours, then of all cards each once.
fn cautions(planned: &[Planned<'_>]) -> Vec<String> {
    let mut cautions = vec![CAUTION.to_owned()];
    for part in planned {
        for caution in &part.drawn.card.cautions {
            if !cautions.contains(caution) {
                cautions.push(caution.clone());
            }
        }
    }
    cautions
}
