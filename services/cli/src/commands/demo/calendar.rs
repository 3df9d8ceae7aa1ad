//! What of the season is played: its events, logs and builds in the order of time.

use std::collections::HashMap;

use crate::demo::{Build, LogPlan, Season, Work};

/// Events of a quick demo: break-in, a clean event, one with an over-rev.
const QUICK_EVENTS: usize = 3;
const DAY_S: i64 = 86_400;

/// A log and the seed that it is drawn with.
#[derive(Clone, Debug)]
pub(in crate::commands) struct Log {
    pub plan: LogPlan,
    pub seed: u64,
}

/// The season as it is played. Its "now" is the Monday after the last event.
#[derive(Debug)]
pub(in crate::commands) struct Calendar {
    pub season: Season,
    pub logs: Vec<Log>,
}

impl Calendar {
    /// All of a season, or its first events.
    pub(in crate::commands) fn of(mut season: Season, quick: bool, seed: u64) -> Self {
        if quick {
            season.events.truncate(QUICK_EVENTS);
        }
        let plays = |code: &str| season.events.iter().any(|event| event.code == code);
        season.builds.retain(|build| plays(&build.from));
        let mut logs = Vec::new();
        for (index, plan) in season.logs().into_iter().enumerate() {
            let seed = seed.wrapping_add(1000 * index as u64);
            let driveline = season.of_driveline(&plan);
            let plans = std::iter::once(plan).chain(driveline);
            logs.extend(plans.map(|plan| Log { plan, seed }));
        }
        Self { season, logs }
    }

    /// Two days before the first event of a build.
    pub(in crate::commands) fn assembly_s(&self, build: &Build) -> Option<i64> {
        Some(self.season.start_unix_s(&build.from)? - 2 * DAY_S)
    }

    /// Two days after the last event of a build; nothing while it is still in use at the end.
    pub(in crate::commands) fn teardown_s(&self, build: &Build) -> Option<i64> {
        let last = self.season.events.last()?;
        if build.until == last.code {
            return None;
        }
        Some(self.season.start_unix_s(&build.until)? + 2 * DAY_S)
    }

    /// What is done while a build goes on, of the events that are played.
    pub(super) fn work_in(&self, build: &Build) -> impl Iterator<Item = &Work> {
        let of_build = move |work: &&Work| {
            let here = self.build_at(&work.unit, &work.event);
            here.is_some_and(|here| here.id == build.id)
        };
        self.season.work.iter().filter(of_build)
    }

    /// The build that a unit is in at an event; nothing for an event that is not played.
    pub(super) fn build_at(&self, unit: &str, event: &str) -> Option<&Build> {
        let time_s = self.season.start_unix_s(event)?;
        let mut own = self.season.builds.iter().filter(|build| build.unit == unit);
        own.find(|build| {
            let from = self.assembly_s(build).is_some_and(|from| from <= time_s);
            from && self.teardown_s(build).is_none_or(|until| time_s < until)
        })
    }

    /// Treatments of a unit's parts of a type.
    pub(super) fn treatments(&self, unit: &str, part: &str) -> Vec<String> {
        let mut treated = self.season.treated.iter();
        let found = treated.find(|treated| treated.unit == unit && treated.part == part);
        found.map_or_else(Vec::new, |treated| treated.treatments.clone())
    }

    /// What is known of a unit's first part of a type when it enters the ledger.
    pub(super) fn opening(&self, unit: &str, part: &str, number: usize) -> HashMap<String, f64> {
        let mut openings = self.season.openings.iter();
        let found = openings.find(|one| number == 1 && one.unit == unit && one.part == part);
        let condition = found.into_iter().flat_map(|one| one.condition.clone());
        condition.collect()
    }

    /// Title of an event.
    pub(in crate::commands) fn title(&self, code: &str) -> &str {
        let event = self.season.events.iter().find(|event| event.code == code);
        event.map_or("", |event| event.title.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quick_demo_is_the_start_of_the_season() {
        let whole = Calendar::of(Season::load().unwrap(), false, 1);
        let quick = Calendar::of(Season::load().unwrap(), true, 1);
        assert!(quick.logs.len() < whole.logs.len());
        for (one, other) in quick.logs.iter().zip(&whole.logs) {
            assert_eq!((&one.plan.file, one.seed), (&other.plan.file, other.seed));
        }
        assert_eq!(quick.season.builds.len(), quick.season.units.len());
        assert!(
            quick
                .season
                .builds
                .iter()
                .all(|build| quick.teardown_s(build).is_none())
        );
    }

    #[test]
    fn builds_of_an_engine_do_not_overlap_and_hold_their_logs() {
        let calendar = Calendar::of(Season::load().unwrap(), false, 1);
        for log in &calendar.logs {
            let start = log.plan.start_unix_s;
            let open = calendar.season.builds.iter().filter(|build| {
                build.unit == log.plan.unit
                    && calendar.assembly_s(build).is_some_and(|from| from <= start)
                    && calendar.teardown_s(build).is_none_or(|until| start < until)
            });
            assert_eq!(open.count(), 1, "{}", log.plan.file);
        }
    }
}
