//! A tiny model: a wheel whose tread wears with distance, and with each launch. Each way to be wrong is a type of its own.

use std::sync::atomic::{AtomicU32, Ordering};

use ringland_plugin::{DamagePath, Rate};
use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, Model, ModelCard, ReadingPath,
    Specimen, Spread, begin_row, check_against_card, check_duty, check_request, check_row,
    default_specimen, error, hold_row, past_limits, shares, warning,
};
use ringland_trials::{Prepared, Record};

use crate::card::{bounds, card};

/// Nothing is wrong.
pub const SOUND: u8 = 0;
pub const HEALS: u8 = 1;
pub const SQUARES_TIME: u8 = 2;
pub const REMEMBERS_RECORDS: u8 = 3;
pub const REMEMBERS_POINTS: u8 = 4;
pub const WEARS_AT_REST: u8 = 5;
pub const LEAVES_ITS_RANGE: u8 = 6;
pub const SWAPS_QUANTILES: u8 = 7;
pub const DOUBLES_SHARES: u8 = 8;
pub const LIKES_A_HIGHER_RATE: u8 = 9;
pub const RISKS_HALF: u8 = 10;
pub const OUTLIVES_ITS_LIMIT: u8 = 11;
pub const READS_OFF_ITS_LIMIT: u8 = 12;
pub const KEEPS_SILENT: u8 = 13;
pub const LIVES_BY_THE_HORIZON: u8 = 14;
pub const OTHER_MAP_EACH_TIME: u8 = 15;
pub const OTHER_CONDITION_EACH_TIME: u8 = 16;
pub const OTHER_FORECAST_EACH_TIME: u8 = 17;
pub const WARNS_OF_NOTHING: u8 = 18;
pub const TELLS_ONE_FINDING: u8 = 19;
pub const TELLS_NO_REMEDY: u8 = 20;
pub const PREPARES_ANY_SPEC: u8 = 21;
pub const TAKES_ANY_DUTY: u8 = 22;
pub const TAKES_ANY_EVENT: u8 = 23;
pub const TAKES_ANY_REQUEST: u8 = 24;
pub const TAKES_ANY_CONDITION: u8 = 25;
pub const TAKES_ANY_MAP: u8 = 26;
pub const TAKES_ANY_OPERATION: u8 = 27;

/// A wheel with one way to be wrong.
pub struct Wheel<const FAULT: u8>;

/// The default wheel.
pub fn wheel<const FAULT: u8>() -> Prepared<Wheel<FAULT>> {
    Prepared::default_spec()
}

/// Some hours of driving, at one speed and at another, with an over-rev and a launch: life is some ten events.
pub fn event() -> Duty {
    Record::of::<Wheel<SOUND>>(&[6000.0, 4000.0])
        .column("engine_speed_rad_s", &[800.0, 600.0])
        .shock("over_rev", &[2.0, 1000.0])
        .shock("launch", &[400.0])
        .cycles("engine_torque_n_m", &[[60.0, 30.0, 5.0]])
        .mate("road.sink_m", 0.0)
        .duty()
}

/// A record in which nothing happens.
pub fn nothing() -> Duty {
    Record::of::<Wheel<SOUND>>(&[60.0]).duty()
}

/// What the model reads of a specimen.
pub struct Spec {
    pub radius_m: f64,
    pub limit_wear_m: f64,
    pub wear_coefficient: f64,
}

impl Spec {
    pub fn read(specimen: &Specimen) -> Self {
        Self {
            radius_m: specimen.numbers[0],
            limit_wear_m: specimen.numbers[1],
            wear_coefficient: specimen.surfaces[0].values[0],
        }
    }
}

/// A number that is never the same twice.
fn other() -> f64 {
    static CALLS: AtomicU32 = AtomicU32::new(1);
    1.0e-6 * f64::from(CALLS.fetch_add(1, Ordering::Relaxed))
}

/// Wear \[m\] of each operating point, then of each kind of shock.
fn wear_m(spec: &Spec, duty: &Duty, fault: u8) -> Vec<f64> {
    let pace = spec.wear_coefficient * spec.radius_m;
    let speeds = duty.channel(0).iter().zip(duty.channel(1));
    let points = duty.time_s.iter().zip(speeds).enumerate();
    let mut parts: Vec<f64> = points
        .map(|(index, (time_s, (speed_rad_s, contamination)))| {
            let wear_m = pace * contamination * speed_rad_s * time_s;
            match fault {
                SQUARES_TIME => wear_m * time_s,
                REMEMBERS_POINTS => wear_m * (1.0 + index as f64),
                WEARS_AT_REST => wear_m + 1.0e-9 * time_s,
                _ => wear_m,
            }
        })
        .collect();
    let over_revs = duty.shock_field(0, 0).iter().zip(duty.shock_field(0, 1));
    let over_revs = over_revs.map(|(time_s, speed_rad_s)| time_s * speed_rad_s);
    parts.push(pace * over_revs.fold(0.0, |sum, part| sum + part));
    let launches = duty.shock_field(1, 0).iter();
    parts.push(launches.fold(0.0, |sum, torque| sum + 1.0e-10 * torque));
    parts
}

fn sum(parts: &[f64]) -> f64 {
    parts.iter().fold(0.0, |sum, part| sum + part)
}

impl<const FAULT: u8> Model for Wheel<FAULT> {
    fn card() -> ModelCard {
        card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        let mut findings = check_against_card(&card(), &specimen);
        match FAULT {
            WARNS_OF_NOTHING => findings.push(warning("radius_m", 0.0, "another", "change it")),
            TELLS_ONE_FINDING => findings.truncate(1),
            TELLS_NO_REMEDY => findings.iter_mut().for_each(|f| f.remedy.clear()),
            _ => {}
        }
        findings
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        let findings = check_against_card(&card(), &specimen);
        if findings.is_empty() || FAULT == PREPARES_ANY_SPEC {
            let varied = if FAULT == OTHER_MAP_EACH_TIME {
                other()
            } else {
                0.0
            };
            Ok(vec![1.0, varied, 3.0])
        } else {
            Err(findings)
        }
    }

    fn begin(
        _: Specimen,
        _: Vec<f64>,
        opening: Vec<Option<f64>>,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        begin_row(&card().condition, &opening)
    }

    fn advance(
        specimen: Specimen,
        prepared: Vec<f64>,
        mut condition: Vec<f64>,
        duties: Vec<Duty>,
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let card = card();
        if FAULT != TAKES_ANY_MAP && prepared.len() != 3 {
            return Err(vec![error(
                "prepared",
                "a list",
                "3 values",
                "prepare again",
            )]);
        }
        if specimen.numbers.len() != card.numbers.len() {
            return Err(vec![error("numbers", "a list", "2 values", "give both")]);
        }
        if FAULT != TAKES_ANY_CONDITION {
            check_row(&card.condition, &condition)?;
        }
        let mut rows = Vec::new();
        for duty in duties {
            if FAULT != TAKES_ANY_DUTY {
                check_duty(&card.duty, &duty, bounds)?;
            }
            let mut added_m = sum(&wear_m(&Spec::read(&specimen), &duty, FAULT));
            match FAULT {
                HEALS => added_m -= 1.0e-2,
                REMEMBERS_RECORDS => added_m *= 1.0 + (1.0e3 * condition[0]).sqrt(),
                OTHER_CONDITION_EACH_TIME => added_m += other(),
                _ => {}
            }
            condition[0] += added_m;
            condition[1] -= added_m;
            if FAULT != LEAVES_ITS_RANGE {
                hold_row(&card.condition, &mut condition);
            }
            rows.push(condition.clone());
        }
        Ok(rows)
    }

    fn rework(
        _: Specimen,
        _: Vec<f64>,
        condition: Vec<f64>,
        operation: u32,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        if operation == 0 || FAULT == TAKES_ANY_OPERATION {
            return Ok(vec![0.0; condition.len()]);
        }
        Err(vec![error(
            "operation",
            operation,
            "0",
            "choose one of the card's",
        )])
    }

    fn forecast(
        specimen: Specimen,
        _: Vec<f64>,
        mut request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        let card = card();
        if FAULT != TAKES_ANY_REQUEST {
            check_request(1, &request)?;
        }
        check_row(&card.condition, &request.condition)?;
        if FAULT != TAKES_ANY_EVENT {
            check_duty(&card.duty, &request.event, bounds)?;
        }
        if FAULT == LIKES_A_HIGHER_RATE {
            request.rates[0].ln_mean *= -1.0;
        }
        Ok(forecast::<FAULT>(&Spec::read(&specimen), &request))
    }
}

fn forecast<const FAULT: u8>(spec: &Spec, request: &ForecastRequest) -> LifeForecast {
    let (now_m, parts) = (request.condition[0], wear_m(spec, &request.event, SOUND));
    let wear_m = |events: f64| now_m + events * sum(&parts);
    let damage = |events: f64| wear_m(events) / spec.limit_wear_m;
    let path = DamagePath::new(1, request.horizon_events, |events| vec![damage(events)]);
    let none = Rate {
        ln_mean: 0.0,
        ln_sd: 0.0,
    };
    let spread = Spread::widened(request.rates.first().unwrap_or(&none), 0.0);
    let mut lives_events = path.draw(&[spread], &[0.5], request).remove(0);
    for life in &mut lives_events {
        match FAULT {
            OUTLIVES_ITS_LIMIT => *life = life.max(1.0),
            LIVES_BY_THE_HORIZON => *life *= request.horizon_events / 1000.0,
            OTHER_FORECAST_EACH_TIME => *life *= 1.0 - other(),
            _ => {}
        }
    }
    let wrong = |fault: u8, factor: f64| if FAULT == fault { factor } else { 1.0 };
    let mut part_shares = shares(&parts);
    part_shares[0] *= wrong(DOUBLES_SHARES, 0.5);
    let shock_shares = part_shares.split_off(request.event.time_s.len());
    let reading = |factor: f64| -> Vec<f64> {
        let at = request.ahead_events.iter();
        at.map(|events| factor * wear_m(*events)).collect()
    };
    let card = card();
    let mut notes = past_limits(&card.mechanisms, &[damage(0.0)]);
    if FAULT == KEEPS_SILENT {
        notes.clear();
    }
    let risk = if FAULT == RISKS_HALF {
        0.5
    } else {
        spread.passed(damage(1.0))
    };
    LifeForecast {
        readings: vec![ReadingPath {
            low: reading(wrong(SWAPS_QUANTILES, 1.2) * 0.9),
            median: reading(wrong(READS_OFF_ITS_LIMIT, 1.01)),
            high: reading(1.1),
            limit: Some(spec.limit_wear_m),
        }],
        mechanisms: vec![MechanismLife {
            lives_events,
            risk_next_event: risk,
            point_shares: part_shares,
            shock_shares,
        }],
        notes,
    }
}

/// The default specimen.
pub fn specimen() -> Specimen {
    default_specimen(&card())
}
