//! The season's logs, before any is written: which comes from where, and what is wrong with it.

use super::circuit::Circuit;
use super::season::{BreakIn, Car, Event, Incident, Mishap, SATURDAY_S, Season, UnitKind};
use super::session::Minutes;

/// Where a log comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum Source {
    /// The engine dyno, with the blow-by after each pull \[L/min\].
    Dyno(Vec<f64>),
    /// The logger of a car, by its number.
    Car(String),
}

/// One log to be written.
#[derive(Debug, Clone)]
pub struct LogPlan {
    /// File name.
    pub file: String,
    /// Unit.
    pub unit: String,
    /// What the unit is.
    pub kind: UnitKind,
    /// Event code.
    pub event: String,
    /// Where from.
    pub source: Source,
    /// When it starts, seconds since 1970.
    pub start_unix_s: i64,
    /// Use as a multiple of the default event.
    pub events: f64,
    /// Kind of circuit.
    pub circuit: Circuit,
    /// Length of the sessions.
    pub minutes: Minutes,
    /// Usual oil temperature \[°C\].
    pub oil_c: f64,
    /// Air \[°C\].
    pub ambient_c: f64,
    /// What the engine suffers.
    pub incidents: Vec<Incident>,
    /// What is wrong with the log, and what the shop's oil sample said.
    pub mishap: Mishap,
}

const DAY_S: i64 = 86_400;
/// Length of the default event, and of a break-in on the dyno \[min\].
const EVENT_MIN: f64 = 170.0;
/// Break-in days are Fridays.
const FRIDAY_S: i64 = 4 * DAY_S + 9 * 3600;

impl Season {
    /// Every log of the season in the order of time: for each event and engine one from the car, and one from the
    /// dyno on the break-in day.
    pub fn logs(&self) -> Vec<LogPlan> {
        let mut plans = Vec::new();
        for event in &self.events {
            for engine in &event.engines {
                let broken_in = self.break_in.iter().find(|b| &b.engine == engine);
                let dyno = broken_in.filter(|_| event.code == "t0");
                plans.extend(dyno.map(|b| self.dyno_log(event, b)));
            }
            for engine in &event.engines {
                plans.extend(
                    self.cars
                        .iter()
                        .filter(|c| &c.engine == engine)
                        .map(|car| self.car_log(event, car)),
                );
            }
        }
        plans
    }

    /// The same log read for the driveline of the car that it comes from, where the shop keeps one.
    pub fn of_driveline(&self, plan: &LogPlan) -> Option<LogPlan> {
        let Source::Car(id) = &plan.source else {
            return None;
        };
        let car = self.cars.iter().find(|car| &car.id == id)?;
        Some(LogPlan {
            unit: car.driveline.clone()?,
            kind: UnitKind::Driveline,
            ..plan.clone()
        })
    }

    fn dyno_log(&self, event: &Event, break_in: &BreakIn) -> LogPlan {
        let source = Source::Dyno(break_in.blow_by_l_min.clone());
        let minutes = event.severity * EVENT_MIN - event.minutes.total();
        LogPlan {
            file: format!("{}-{}-dyno.csv", event.code, break_in.engine),
            start_unix_s: self.monday_unix_s(event) + FRIDAY_S,
            events: minutes / EVENT_MIN,
            ..self.plan(event, &break_in.engine, source)
        }
    }

    fn car_log(&self, event: &Event, car: &Car) -> LogPlan {
        LogPlan {
            file: format!("{}-{}-car-{}.csv", event.code, car.engine, car.id),
            start_unix_s: self.monday_unix_s(event) + SATURDAY_S,
            events: event.minutes.total() / EVENT_MIN,
            ..self.plan(event, &car.engine, Source::Car(car.id.clone()))
        }
    }

    fn plan(&self, event: &Event, engine: &str, source: Source) -> LogPlan {
        let mishap = self
            .mishaps
            .iter()
            .find(|m| m.event == event.code && m.engine == engine);
        let mishap = mishap.cloned().unwrap_or_default();
        LogPlan {
            file: String::new(),
            unit: engine.to_owned(),
            kind: UnitKind::Engine,
            event: event.code.clone(),
            source,
            start_unix_s: 0,
            events: event.severity,
            circuit: event.circuit,
            minutes: event.minutes,
            oil_c: event.oil_c,
            ambient_c: event.ambient_c,
            incidents: mishap.incidents.clone(),
            mishap,
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_season_has_a_log_for_every_engine_that_runs() {
        let season = Season::load().unwrap();
        let runs: usize = season.events.iter().map(|e| e.engines.len()).sum();
        let logs = season.logs();
        assert_eq!(logs.len(), runs + season.break_in.len());
        assert!(
            logs.windows(2)
                .all(|pair| pair[0].start_unix_s <= pair[1].start_unix_s)
        );
        let mut files: Vec<&String> = logs.iter().map(|l| &l.file).collect();
        files.sort();
        files.dedup();
        assert_eq!(files.len(), logs.len());
    }

    /// Sessions add up to the severity, with the dyno on the break-in day.
    #[test]
    fn use_adds_up_to_the_severity() {
        let season = Season::load().unwrap();
        for event in &season.events {
            let of = |log: &&LogPlan| log.event == event.code && log.unit == "engine-a";
            let events: f64 = season.logs().iter().filter(of).map(|l| l.events).sum();
            assert!(
                (events - event.severity).abs() < 0.01,
                "{}: {events}",
                event.code
            );
        }
    }
}
