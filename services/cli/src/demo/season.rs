//! The demo's shop and season: units, builds, calendar, and which log comes from where.

use serde::Deserialize;

use super::DemoError;
use super::circuit::Circuit;
use super::measured::Inspection;
use super::session::Minutes;
use super::work::{Decision, Ending, Opening, Price, Treated, Work};

const SEASON: &str = include_str!("season.toml");

/// A season of the invented shop.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Season {
    /// The shop.
    pub shop: Shop,
    /// Its customers' cars.
    pub cars: Vec<Car>,
    /// Its engines.
    pub units: Vec<Unit>,
    /// From assembly to teardown, in the order of time for each engine.
    pub builds: Vec<Build>,
    /// The calendar, in the order of time.
    pub events: Vec<Event>,
    /// What goes wrong.
    pub mishaps: Vec<Mishap>,
    /// Blow-by of the break-in day.
    pub break_in: Vec<BreakIn>,
    /// What was measured and looked at, in the order of time.
    pub inspections: Vec<Inspection>,
    /// Which parts were treated how.
    pub treated: Vec<Treated>,
    /// Used parts that the first builds begin with.
    pub openings: Vec<Opening>,
    /// How lives ended that did not end in good order.
    pub endings: Vec<Ending>,
    /// What owners decided against the advice.
    pub decisions: Vec<Decision>,
    /// What work costs.
    pub prices: Vec<Price>,
    /// What was done at the units, in the order of time.
    pub work: Vec<Work>,
}

/// The shop.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shop {
    /// Its name.
    pub name: String,
    /// Start of the Monday of week 1 in seconds since 1970, UTC.
    pub first_monday_unix_s: i64,
}

/// A car.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Car {
    /// Its number.
    pub id: String,
    /// The unit that drives it.
    pub engine: String,
    /// The unit behind the engine, where the shop keeps one.
    pub driveline: Option<String>,
}

/// What a unit is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UnitKind {
    /// An engine.
    #[default]
    Engine,
    /// Clutch, gearbox, final drive, shafts.
    Driveline,
}

/// An engine or a driveline.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unit {
    /// Last part of the unit's name.
    pub id: String,
    /// What it is.
    #[serde(default)]
    pub kind: UnitKind,
    /// Name for people.
    pub name: String,
    /// What sets it apart.
    pub note: String,
    /// Whether the surfaces of its parts were treated.
    pub treated: bool,
    /// Over-rev threshold \[1/min\].
    pub over_rev_rpm: f64,
    /// Oil-overheat threshold \[°C\].
    pub oil_overheat_c: f64,
}

/// A build of a unit.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Build {
    /// Last part of the build's name.
    pub id: String,
    /// The unit.
    pub unit: String,
    /// First event it runs in.
    pub from: String,
    /// Last event it runs in.
    pub until: String,
    /// Component types that are new in it; in the first build of a unit all are.
    #[serde(default)]
    pub replaced: Vec<String>,
}

/// A race meeting or test.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Event {
    /// `t0`, `r1` ...
    pub code: String,
    /// Week of the season, from 1.
    pub week: i64,
    /// For people.
    pub title: String,
    /// Kind of circuit.
    pub circuit: Circuit,
    /// Use as a multiple of the default event.
    pub severity: f64,
    /// Length of the sessions.
    pub minutes: Minutes,
    /// Usual oil temperature \[°C\].
    pub oil_c: f64,
    /// Air \[°C\].
    pub ambient_c: f64,
    /// Engines that run.
    pub engines: Vec<String>,
}

/// What goes wrong with one engine at one event, or with its log.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Mishap {
    /// Event.
    pub event: String,
    /// Engine.
    pub engine: String,
    /// What the engine suffers.
    pub incidents: Vec<Incident>,
    /// The log's gear and map headers are exchanged.
    pub gear_and_map_exchanged: bool,
    /// The log's line of units is wrong.
    pub wrong_unit_line: bool,
    /// Dust got past the air filter.
    pub dust: bool,
    /// Fuel in the oil, where it is not the usual 1.2 %.
    pub fuel_in_oil_percent: Option<f64>,
}

/// Something that an engine suffers. Times are from the start of the log; it happens at the first
/// fitting moment after.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(
    rename_all = "kebab-case",
    rename_all_fields = "snake_case",
    deny_unknown_fields
)]
pub enum Incident {
    /// A missed downshift.
    OverRev {
        /// Not before \[s\].
        after_s: f64,
        /// Held engine speed \[1/min\].
        rpm: f64,
        /// Held for \[s\].
        duration_s: f64,
    },
    /// Oil too hot.
    HotOil {
        /// From \[s\].
        after_s: f64,
        /// Temperature \[°C\].
        oil_c: f64,
        /// Cause lasts \[s\].
        duration_s: f64,
    },
    /// Oil pressure falls in corners.
    OilPressureDips {
        /// Not before \[s\].
        after_s: f64,
        /// How many.
        count: usize,
        /// Lowest gauge pressure \[bar\].
        minimum_bar: f64,
        /// Held for \[s\].
        held_s: f64,
    },
}

/// Blow-by of one engine's break-in pulls.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BreakIn {
    /// Engine.
    pub engine: String,
    /// After each pull \[L/min\].
    pub blow_by_l_min: Vec<f64>,
}

const DAY_S: i64 = 86_400;
/// Running starts on Saturday at ten.
pub(super) const SATURDAY_S: i64 = 5 * DAY_S + 10 * 3600;

impl Season {
    /// The season that ships with the program.
    ///
    /// # Errors
    /// [`DemoError::Season`] when its file does not parse or names what it does not define.
    pub fn load() -> Result<Self, DemoError> {
        let season: Self =
            toml::from_str(SEASON).map_err(|error| DemoError::Season(error.to_string()))?;
        season.check()?;
        Ok(season)
    }

    /// Every name used is defined.
    fn check(&self) -> Result<(), DemoError> {
        let events = (self.builds.iter().flat_map(|b| [&b.from, &b.until]))
            .chain(self.mishaps.iter().map(|m| &m.event))
            .chain(self.inspections.iter().map(|i| &i.event))
            .chain(self.decisions.iter().flat_map(|d| [&d.event, &d.about]))
            .chain(self.work.iter().map(|w| &w.event));
        let units = (self.events.iter().flat_map(|e| &e.engines))
            .chain(self.builds.iter().map(|b| &b.unit))
            .chain(self.cars.iter().map(|c| &c.engine))
            .chain(self.cars.iter().filter_map(|c| c.driveline.as_ref()))
            .chain(self.mishaps.iter().map(|m| &m.engine))
            .chain(self.break_in.iter().map(|b| &b.engine))
            .chain(self.inspections.iter().map(|i| &i.unit))
            .chain(self.treated.iter().map(|t| &t.unit))
            .chain(self.openings.iter().map(|o| &o.unit))
            .chain(self.decisions.iter().map(|d| &d.unit))
            .chain(self.work.iter().map(|w| &w.unit));
        let defined_events: Vec<&String> = self.events.iter().map(|e| &e.code).collect();
        let defined_units: Vec<&String> = self.units.iter().map(|u| &u.id).collect();
        all_defined("event", events, &defined_events)?;
        all_defined("unit", units, &defined_units)?;
        let prices: Vec<&String> = self.prices.iter().map(|p| &p.code).collect();
        all_defined("price", self.work.iter().map(|w| &w.price), &prices)
    }

    /// Start of an event's running, seconds since 1970; `None` for an unknown code.
    pub fn start_unix_s(&self, event: &str) -> Option<i64> {
        let event = self.events.iter().find(|e| e.code == event)?;
        Some(self.monday_unix_s(event) + SATURDAY_S)
    }

    /// When an inspection was made, seconds since 1970; `None` for an unknown event.
    pub fn inspection_unix_s(&self, inspection: &Inspection) -> Option<i64> {
        Some(self.start_unix_s(&inspection.event)? + inspection.hours_after * 3600)
    }

    /// When a decision was made, seconds since 1970: before anything is measured. `None` for an unknown event.
    pub fn decision_unix_s(&self, decision: &Decision) -> Option<i64> {
        Some(self.start_unix_s(&decision.event)? + 30 * 3600)
    }

    /// When work was done, seconds since 1970: after what was measured, before a teardown. `None` for an unknown event.
    pub fn work_unix_s(&self, work: &Work) -> Option<i64> {
        Some(self.start_unix_s(&work.event)? + 46 * 3600)
    }

    /// What a piece of work costs \[$\].
    pub fn price_usd(&self, work: &Work) -> f64 {
        let price = self.prices.iter().find(|price| price.code == work.price);
        price.map_or(0.0, |price| price.usd)
    }

    pub(super) fn monday_unix_s(&self, event: &Event) -> i64 {
        self.shop.first_monday_unix_s + (event.week - 1) * 7 * DAY_S
    }
}

fn all_defined<'a>(
    what: &str,
    mut used: impl Iterator<Item = &'a String>,
    defined: &[&String],
) -> Result<(), DemoError> {
    match used.find(|name| !defined.contains(name)) {
        Some(name) => Err(DemoError::Season(format!("{what} {name} is not defined"))),
        None => Ok(()),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// Every event an engine runs in lies in exactly one of its builds.
    #[test]
    fn builds_cover_the_events() {
        let season = Season::load().unwrap();
        let order = |code: &String| season.events.iter().position(|e| &e.code == code).unwrap();
        for (i, event) in season.events.iter().enumerate() {
            for engine in &event.engines {
                let covers =
                    |b: &&Build| &b.unit == engine && order(&b.from) <= i && i <= order(&b.until);
                assert_eq!(
                    season.builds.iter().filter(covers).count(),
                    1,
                    "{engine} at {}",
                    event.code
                );
            }
        }
    }

    /// A part is measured while its build is open: after an event that its unit ran in.
    #[test]
    fn inspections_follow_events_that_the_engine_ran_in() {
        let season = Season::load().unwrap();
        for inspection in &season.inspections {
            let event = season
                .events
                .iter()
                .find(|e| e.code == inspection.event)
                .unwrap();
            let engine = season
                .cars
                .iter()
                .find(|car| car.driveline.as_ref() == Some(&inspection.unit));
            let engine = engine.map_or(&inspection.unit, |car| &car.engine);
            assert!(event.engines.contains(engine), "{inspection:?}");
            assert!(
                inspection
                    .readings
                    .iter()
                    .all(|r| r.sd > 0.0 && r.value > 0.0)
            );
        }
    }
}
