//! Remaining life, readings and risk.

use ringland_engine::{Block, points_and_over_revs};
use ringland_mechanics::film::pack::PEAK_VARIANCE;
use ringland_mechanics::statistics::normal;
use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    check_request, normal_draws, past_limits, point_and_shock_shares, reading_paths, standing_in,
    warning,
};

use crate::card::{self, mechanism};
use crate::condition::{Condition, Model};
use crate::constants::{CYLINDER_LN_SD, TENSION_CORRELATION, WEAR_CORRELATION};
use crate::duty::{self, Added};
use crate::path::{Path, damage};
use crate::readings::{self, Multipliers, tension_loss};
use crate::wear_law::Stretch;

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(
    model: &Model<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = Condition::read(&request.condition)?;
    let (points, over_revs) = points_and_over_revs(&card::duty(), &request.event)?;
    let added = |blocks: &[Block]| -> Vec<Added> {
        let one = |block| duty::added(&model.spec, &model.map, block);
        blocks.iter().map(one).collect()
    };
    let (by_point, by_shock) = (added(&points), added(&over_revs));
    let event = duty::total(by_point.iter().chain(&by_shock));
    let rates = spreads(model, &event, request);
    let path = Path::new(model, &now, &event, request.horizon_events);
    let next = model.after(&now, &event, 1.0);
    let lives = draw(&path, &rates, request);
    let after = damage(model, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let weight = weights(model, index, &now, &next, &event);
        let (point_shares, shock_shares) = split(&by_point, &by_shock, &next, model, weight);
        MechanismLife {
            lives_events,
            risk_next_event: risk(after[index], &rates[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, &now, &event, &rates, &request.ahead_events),
        notes: notes(model, &now, &request.event, &by_point, &by_shock),
    })
}

/// What is believed of the multiplier on a mechanism's damage.
#[derive(Debug, Clone, Copy)]
struct Spread {
    ln_mean: f64,
    ln_sd: f64,
}

impl Spread {
    fn at(&self, z: f64) -> f64 {
        libm::exp(self.ln_mean + self.ln_sd * z)
    }
}

/// The rates asked for, widened by the spread between cylinders and by what is not known of the surfaces.
fn spreads(model: &Model<'_>, event: &Stretch, request: &ForecastRequest) -> Vec<Spread> {
    let rings = &model.spec.rings;
    let (bore, top) = (&rings.pack.bore, &rings.pack.rings[0]);
    let face_share = 1.0 / (1.0 + event.bore_over_face());
    let variance = bore.rq_m * bore.rq_m + top.rq_m * top.rq_m;
    let sensitivity = roughness_sensitivity(model, variance) / variance;
    let [face_wear, face_rq] = rings.faces[0].ln_sd;
    let [bore_wear, bore_rq] = rings.bore.ln_sd;
    let roughness = (sensitivity * top.rq_m * top.rq_m * face_rq)
        .hypot(sensitivity * bore.rq_m * bore.rq_m * bore_rq);
    let gap = (face_share * face_wear).hypot((1.0 - face_share) * bore_wear);
    let widening = [
        gap.hypot(roughness).hypot(CYLINDER_LN_SD),
        gap.hypot(roughness).hypot(CYLINDER_LN_SD),
        face_wear.hypot(roughness).hypot(CYLINDER_LN_SD),
        CYLINDER_LN_SD,
    ];
    let widened = request.rates.iter().zip(widening);
    widened
        .map(|(rate, widening)| Spread {
            ln_mean: rate.ln_mean,
            ln_sd: rate.ln_sd.hypot(widening),
        })
        .collect()
}

/// Slope of ln(dose) over ln(composite roughness) at full load, from seated to fresh.
fn roughness_sensitivity(model: &Model<'_>, seated_variance: f64) -> f64 {
    let rpk_m = model.spec.rings.pack.bore.rpk_m;
    let fresh_variance = seated_variance + PEAK_VARIANCE * rpk_m * rpk_m;
    let [seated, _, fresh, ..] = model.map.full_load(&model.spec).dose_pa_m[0];
    2.0 * libm::log(fresh / seated) / libm::log(fresh_variance / seated_variance)
}

/// Lives by each mechanism; the same index is the same drawn pack.
fn draw(path: &Path, rates: &[Spread], request: &ForecastRequest) -> Vec<Vec<f64>> {
    let samples = request.samples as usize;
    let draws = normal_draws(request.seed, 1 + mechanism::COUNT, samples);
    let life = |index: usize, spread: &Spread| {
        let correlation = if index == mechanism::TENSION {
            TENSION_CORRELATION
        } else {
            WEAR_CORRELATION
        };
        let (shared, own) = (correlation.sqrt(), (1.0 - correlation).sqrt());
        let zs = draws[0].iter().zip(&draws[1 + index]);
        zs.map(|(common, alone)| {
            let multiplier = spread.at(shared * common + own * alone);
            path.events_to(index, 1.0 / multiplier)
        })
        .collect()
    };
    rates
        .iter()
        .enumerate()
        .map(|(index, spread)| life(index, spread))
        .collect()
}

/// Probability that damage has passed 1 by the end of the event. A wear limit does not announce itself: packs that may have passed it
/// before, whose drawn life is 0, count.
fn risk(after: f64, spread: &Spread) -> f64 {
    if after <= 0.0 {
        return 0.0;
    }
    let z = (-libm::log(after) - spread.ln_mean) / spread.ln_sd.max(f64::MIN_POSITIVE);
    normal::survival(z)
}

/// How much of a mechanism's next damage follows from face wear and from heat.
fn weights(
    model: &Model<'_>,
    index: usize,
    now: &Condition,
    next: &Condition,
    event: &Stretch,
) -> (f64, f64) {
    if index != mechanism::TENSION {
        return (1.0, 0.0);
    }
    let spec = &model.spec;
    let cool = Condition {
        heat_h: now.heat_h,
        ..*next
    };
    let worn = tension_loss(spec, &cool) - tension_loss(spec, now);
    let heated = tension_loss(spec, next) - tension_loss(spec, &cool);
    let wear_m = next.face_wear_m[0] - now.face_wear_m[0];
    (
        worn / wear_m.max(f64::MIN_POSITIVE),
        heated / event.heat_h.max(f64::MIN_POSITIVE),
    )
}

fn split(
    by_point: &[Added],
    by_shock: &[Added],
    next: &Condition,
    model: &Model<'_>,
    (per_wear, per_heat): (f64, f64),
) -> (Vec<f64>, Vec<f64>) {
    let crown = libm::exp(-next.face_wear_m[0] / model.spec.rings.pack.crown_length_m(0));
    let amount = |added: &Added| {
        let worn_m = added.stretch.faces[0].at(next.unseated(), crown);
        per_wear * worn_m + per_heat * added.stretch.heat_h
    };
    point_and_shock_shares(by_point.iter().map(amount), by_shock.iter().map(amount))
}

fn paths(
    model: &Model<'_>,
    now: &Condition,
    event: &Stretch,
    rates: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    reading_paths(readings::limits(model), ahead, |events| {
        let then = model.after(now, event, events);
        QUANTILES.map(|z| readings::readings(model, &then, &multipliers(rates, z)))
    })
}

fn multipliers(rates: &[Spread], z: f64) -> Multipliers {
    Multipliers {
        wear: rates[mechanism::END_GAP].at(z),
        leak: rates[mechanism::LEAK_DOWN].at(z),
        flat: rates[mechanism::FACE_FLAT].at(z),
        tension: rates[mechanism::TENSION].at(z),
    }
}

/// Seated share below which the reader is told.
const SEATED: f64 = 0.95;

fn notes(
    model: &Model<'_>,
    now: &Condition,
    event: &Duty,
    by_point: &[Added],
    by_shock: &[Added],
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let off = by_point
        .iter()
        .chain(by_shock)
        .filter(|added| added.extrapolated);
    let off = off.count();
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it are extrapolated in speed, temperature or load: treat their wear as a guess",
        ));
    }
    let seated = 1.0 - now.unseated();
    if seated < SEATED {
        notes.push(warning(
            "seating_fraction",
            seated,
            "at least 0.95 before the rings are judged",
            "run full-load pulls until blow-by changes by less than 3 % from pull to pull",
        ));
    }
    notes.extend(standing_in(&card::duty(), event));
    notes.extend(past_limits(&card::mechanisms(), &damage(model, now)));
    notes
}
