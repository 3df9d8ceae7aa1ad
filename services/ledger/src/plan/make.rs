//! From a request to a plan.

use super::{
    arcs::may_run,
    checks::Looks,
    draws::{Planned, planned, program},
    optimise::{Found, optimise},
    program::Program,
};
use crate::{
    Calendar, LedgerError, MakePlan, Plan, Unit, ledger::Ledger, predict::Drawing,
    violations::Violations,
};

const SAMPLES: std::ops::RangeInclusive<u32> = 64..=4096;
/// A plan is drawn by at most so many duties; each is a forecast of every part.
const MOST_DUTIES: usize = 30;

/// What was chosen, and how far the season can go.
pub(super) struct Chosen {
    /// Of the events that may be run.
    pub(super) program: Program,
    pub(super) found: Found,
    /// How many events each part may run, replaced as often as possible.
    pub(super) may_run: Vec<usize>,
}

impl Ledger {
    /// Says what to replace at which teardown of a unit's calendar, the risk at every event, and what to look at first.
    /// Nothing is stored; the same state of the ledger gives the same plan.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when nothing is
    /// installed or an event has no profile, [`LedgerError::ResourceExhausted`] when there is too much to plan at once, and
    /// the store's. A part of which no life can be drawn is left out and named.
    pub fn make_plan(&self, request: &MakePlan) -> Result<Plan, LedgerError> {
        let drawing = self.plan_drawing(request)?;
        let unit = self.get_unit(&request.unit)?;
        let calendar = self.get_calendar(&request.calendar, 0)?;
        let ahead = self.ahead(&unit, calendar, request.as_of_time)?;
        if ahead.duties.len() > MOST_DUTIES {
            return Err(LedgerError::ResourceExhausted {
                what: "different profiles and oil temperatures ahead".into(),
                value: ahead.duties.len() as u64,
                limit: MOST_DUTIES as u64,
                remedy: "let events of one kind share a profile and an oil temperature".into(),
            });
        }
        let places = self.places(
            &unit.name,
            &request.substitutions,
            (&ahead.duties, &drawing),
        )?;
        let profile_hours = self.profile_hours(Some(&unit), &ahead.calendar)?;
        let planned = planned(&ahead, &places, profile_hours);
        let whole = program(
            &ahead,
            &planned,
            request.replace_nothing,
            &self.options.risk_caps,
        );
        let chosen = choose(whole)?;
        let looks = Looks::new(&ahead, &planned, &chosen);
        let overrides = self.overrides_of_unit(&unit.name, &places)?;
        Ok(super::answer::plan(
            request,
            &drawing,
            (&ahead, &places, &planned),
            &chosen,
            looks.all(),
            overrides,
        ))
    }

    fn plan_drawing(&self, request: &MakePlan) -> Result<Drawing, LedgerError> {
        let mut violations = Violations::default();
        let samples = request.samples.unwrap_or(self.options.samples);
        if request.samples.is_some() && !SAMPLES.contains(&samples) {
            let remedy = "ask for another number, or leave it out for the ledger's";
            violations.add("samples", samples, "64 to 4096 lives", remedy);
        }
        if let Some(time) = request.as_of_time {
            crate::keys::check_time("as_of_time", time)?;
        }
        violations.into_result()?;
        Ok(Drawing {
            samples,
            horizon_events: self.options.horizon_events,
            ahead: vec![0.0],
        })
    }

    /// Hours of an event of a unit's own profile, else of the first that the calendar names: what past hours are counted by
    /// in events.
    pub(super) fn profile_hours(
        &self,
        unit: Option<&Unit>,
        calendar: &Calendar,
    ) -> Result<f64, LedgerError> {
        let named = calendar
            .content
            .events
            .iter()
            .find_map(|event| event.profile.as_ref());
        let own = unit.and_then(|unit| unit.event_profile.as_ref());
        match own.or(named) {
            Some(profile) => Ok(self.get_profile(profile)?.duration_s / 3600.0),
            None => Ok(0.0),
        }
    }
}

/// The best choice for as many events as limits, time and shelf let the unit run.
fn choose(whole: Program) -> Result<Chosen, LedgerError> {
    let may_run: Vec<usize> = whole
        .parts
        .iter()
        .map(|part| may_run(&whole, part))
        .collect();
    let most = may_run.iter().copied().min().unwrap_or(whole.events);
    for events in (1..=most).rev() {
        let program = shortened(&whole, events);
        if let Some(found) = optimise(&program)? {
            return Ok(Chosen {
                program,
                found,
                may_run,
            });
        }
    }
    let program = shortened(&whole, 0);
    let found = Found {
        choice: program.nothing(),
        cost: program.cost(&program.nothing()),
        at_least: 0.0,
    };
    Ok(Chosen {
        program,
        found,
        may_run,
    })
}

/// The first events of a season.
fn shortened(whole: &Program, events: usize) -> Program {
    let mut program = whole.clone();
    program.events = events;
    let stops = program
        .stops
        .iter()
        .filter(|stop| stop.before_event < events)
        .count();
    program.stops.truncate(stops);
    for shelf in &mut program.shelves {
        shelf.stops.retain(|stop| *stop < stops);
    }
    program
}

/// The part of a planned place in words.
pub(super) fn part_words(planned: &Planned<'_>) -> String {
    let id = planned.place.component.component();
    if planned.place.position.is_empty() {
        id.to_owned()
    } else {
        format!("{id} ({})", planned.place.position)
    }
}
