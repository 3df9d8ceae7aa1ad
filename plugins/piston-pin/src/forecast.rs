//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, ReadingPath, Spread,
    check_request, normal_cdf, normal_draws, normal_quantile, past_limits, shares, standing_in,
    warning,
};

use crate::card::{self, mechanism, reading, slot};
use crate::condition::{Model, Row, read};
use crate::constants as c;
use crate::duty::{self, Added};
use crate::readings::{damages, limits, readings};

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(
    model: &Model<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = read(&request.condition)?;
    let (points, over_revs) = model.added(&request.event)?;
    let event = duty::total(points.iter().chain(&over_revs));
    let spreads = spreads(model, request);
    let hazard_now = now[slot::COATING_HAZARD];
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        let mut damages = damages(&model.spec, &model.after(&now, &event, events));
        // A coating that has held so far starts anew: the hazard has no memory.
        damages[mechanism::COATING] -= hazard_now;
        damages.to_vec()
    });
    let mut lives = path.draw(&spreads, &c::CORRELATIONS, request);
    lives[mechanism::COATING] = coating_lives(&path, &spreads[mechanism::COATING], request);
    worst_case_within_an_event(&mut lives[mechanism::SCUFF], request.horizon_events);
    let next = damages(&model.spec, &model.after(&now, &event, 1.0));
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let spread = &spreads[index];
        let risk_next_event = if index == mechanism::COATING {
            hazard_risk(spread, next[index] - hazard_now)
        } else {
            spread.passed(next[index])
        };
        let (point_shares, shock_shares) = split(&points, &over_revs, &event, index);
        MechanismLife {
            lives_events,
            risk_next_event,
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, &now, &event, &spreads, &request.ahead_events),
        notes: notes(model, &now, &event, request),
    })
}

/// The rates asked for, widened by what differs between cylinders, by what is not known of the surfaces, and by the scatter of strength.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &model.spec;
    let scatter = spec.pin_line.slope() * c::PIN_SCATTER;
    let widening = [
        spec.bush_wear.1.hypot(c::CYLINDER_LN_SD),
        spec.pin_wear.1.hypot(c::CYLINDER_LN_SD),
        c::CYLINDER_LN_SD,
        c::CYLINDER_LN_SD,
        scatter.hypot(c::CYLINDER_LN_SD),
    ];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

/// Lives under a hazard: the coating holds until the hazard, times the drawn rate, reaches a drawn exponential threshold `−ln(1 − u)`.
/// Column 0 is what is common to all mechanisms, as in the other draws.
fn coating_lives(path: &DamagePath, spread: &Spread, request: &ForecastRequest) -> Vec<f64> {
    let draws = normal_draws(request.seed, 2 + mechanism::COUNT, request.samples as usize);
    let correlation = c::CORRELATIONS[mechanism::COATING];
    let (shared, own) = (correlation.sqrt(), (1.0 - correlation).sqrt());
    let rates = draws[0].iter().zip(&draws[1 + mechanism::COATING]);
    let chances = &draws[1 + mechanism::COUNT];
    rates
        .zip(chances)
        .map(|((common, alone), chance)| {
            let multiplier = spread.at(shared * common + own * alone);
            let threshold = -libm::log(normal_cdf(-chance));
            path.events_to(mechanism::COATING, threshold / multiplier)
        })
        .collect()
}

/// A worst case is met in the first event or never: a life that ends, ends within it, however coarse the path to a far horizon.
fn worst_case_within_an_event(lives: &mut [f64], horizon_events: f64) {
    for life in lives.iter_mut().filter(|life| **life < horizon_events) {
        *life = life.min(1.0);
    }
}

/// Equally probable strata over which the risk of a hazard is averaged.
const STRATA: u32 = 64;

/// Probability that a hazard strikes, over what is believed of its rate.
fn hazard_risk(spread: &Spread, hazard: f64) -> f64 {
    let one = |k: u32| {
        let z = normal_quantile((f64::from(k) + 0.5) / f64::from(STRATA));
        -libm::expm1(-hazard * spread.at(z))
    };
    (0..STRATA).map(one).sum::<f64>() / f64::from(STRATA)
}

/// Shares of a mechanism's next damage. Severity is a worst case: points that reach it share it.
fn split(points: &[Added], over_revs: &[Added], event: &Added, of: usize) -> (Vec<f64>, Vec<f64>) {
    let amount = |added: &Added| match of {
        mechanism::BUSH => added.bush_m + added.pin_m,
        mechanism::PIN_WEAR => added.pin_m,
        mechanism::SCUFF => {
            let worst = added.severity_w_m2 >= event.severity_w_m2 && added.severity_w_m2 > 0.0;
            f64::from(u8::from(worst))
        }
        mechanism::COATING => added.coating,
        _ => added.pin_damage,
    };
    let mut amounts: Vec<f64> = points.iter().map(amount).collect();
    amounts.push(over_revs.iter().map(amount).sum());
    let mut point_shares = shares(&amounts);
    let shock_shares = point_shares.split_off(points.len());
    (point_shares, shock_shares)
}

/// 95 % quantile of the standard normal distribution.
const Z95: f64 = 1.644_853_626_951_472_7;

fn paths(
    model: &Model<'_>,
    now: &Row,
    event: &Added,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    let empty = |limit| ReadingPath {
        low: Vec::with_capacity(ahead.len()),
        median: Vec::with_capacity(ahead.len()),
        high: Vec::with_capacity(ahead.len()),
        limit,
    };
    let mut paths: Vec<ReadingPath> = limits(&model.spec).into_iter().map(empty).collect();
    for events in ahead {
        let then = model.after(now, event, *events);
        let at = |z: f64| {
            let mut by = [1.0; mechanism::COUNT];
            for (by, spread) in by.iter_mut().zip(spreads) {
                *by = spread.at(z);
            }
            readings(model, &then, &by)
        };
        let (one, median, other) = (at(-Z95), at(0.0), at(Z95));
        for index in 0..reading::COUNT {
            // The coating left falls as wear rises.
            paths[index]
                .low
                .push(one[index].min(other[index]).min(median[index]));
            paths[index].median.push(median[index]);
            paths[index]
                .high
                .push(one[index].max(other[index]).max(median[index]));
        }
    }
    paths
}

fn notes(model: &Model<'_>, now: &Row, event: &Added, request: &ForecastRequest) -> Vec<Finding> {
    let mut notes = Vec::new();
    if event.extrapolated {
        notes.push(warning(
            "event",
            "off the map",
            "operating points on the prepared map",
            "points beyond it are extrapolated in speed or load: treat their damage as a guess",
        ));
    }
    let knock = worst_knock(model, &request.event);
    if knock >= 1.0 {
        notes.push(warning(
            "event.knock_level",
            knock,
            "below 1, the alarm",
            "stop and mend the cause; draw the pin and look for blueing, lines and flakes",
        ));
    }
    notes.extend(standing_in(&model.need, &request.event));
    let mut damages = damages(&model.spec, now);
    // A hazard has no limit to pass.
    damages[mechanism::COATING] = 0.0;
    notes.extend(past_limits(&card::mechanisms(), &damages));
    notes
}

fn worst_knock(model: &Model<'_>, event: &Duty) -> f64 {
    let channels = &model.need.channels;
    let index = channels.iter().position(|need| need.name == "knock_level");
    let column = index.map_or(&[][..], |index| event.channel(index));
    column.iter().copied().fold(0.0, f64::max)
}
