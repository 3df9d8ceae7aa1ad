//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, hazard_lives, hazard_risk, multipliers, normal_cdf, normal_draws,
    point_and_shock_shares, reading_paths,
};

use crate::card::{mechanism, slot};
use crate::condition::{Model, Row, Stretch, read};
use crate::constants as c;
use crate::duty::Added;
use crate::notes::notes;
use crate::readings::{damages, limits, rated_life_used, readings};

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
    let event = model.stretch(&request.event)?;
    let spreads = spreads(model, request);
    let path = path(model, &now, &event, request.horizon_events);
    let mut lives = path.draw(&spreads, &c::CORRELATIONS, request);
    let spall = mechanism::FATIGUE;
    lives[spall] = fatigue_lives(&path, now[slot::SPALL], &spreads[spall], request);
    let cage = mechanism::CAGE;
    // The column of the draws after that which decides on spalls.
    let columns = (cage, mechanism::COUNT + 1);
    lives[cage] = hazard_lives(
        &path,
        columns,
        &spreads[cage],
        c::CORRELATIONS[cage],
        request,
    );
    let next = model.after(&now, &event, 1.0);
    let coming = damages(model, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let spread = &spreads[index];
        let risk_next_event = match index {
            mechanism::FATIGUE => hazard_risk(
                &weibull_spread(spread),
                next[slot::SPALL] - now[slot::SPALL],
            ),
            mechanism::CAGE => hazard_risk(spread, next[slot::CAGE] - now[slot::CAGE]),
            _ => spread.passed(coming[index]),
        };
        let (point_shares, shock_shares) = split(&event, (&now, &next), index);
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

/// Spread of the hazard of a spall when the rate at which rated life is used is spread so: it goes with the Weibull slope's power.
fn weibull_spread(spread: &Spread) -> Spread {
    Spread {
        ln_mean: c::SLOPE * spread.ln_mean,
        ln_sd: c::SLOPE * spread.ln_sd,
    }
}

/// Lives to a spall, as [`hazard_lives`] draws them, of a set that has not spalled so far. The path holds the rated life used, which is almost straight over
/// events where its hazard, a power of it, is not.
fn fatigue_lives(
    path: &DamagePath,
    hazard_now: f64,
    spread: &Spread,
    request: &ForecastRequest,
) -> Vec<f64> {
    let of = mechanism::FATIGUE;
    let draws = normal_draws(request.seed, 2 + mechanism::COUNT, request.samples as usize);
    let (shared, own) = (
        c::CORRELATIONS[of].sqrt(),
        (1.0 - c::CORRELATIONS[of]).sqrt(),
    );
    let spread = weibull_spread(spread);
    let rates = draws[0].iter().zip(&draws[1 + of]);
    let drawn = rates.zip(&draws[1 + mechanism::COUNT]);
    drawn
        .map(|((common, alone), chance)| {
            let threshold = -libm::log(normal_cdf(-chance));
            let hazard = hazard_now + threshold / spread.at(shared * common + own * alone);
            path.events_to(of, rated_life_used(hazard))
        })
        .collect()
}

/// Damage over the events ahead. A cage that has not failed so far starts its hazard anew.
fn path(model: &Model<'_>, now: &Row, event: &Stretch, horizon_events: f64) -> DamagePath {
    let (mut row, mut gone) = (*now, 0.0);
    DamagePath::new(mechanism::COUNT, horizon_events, |events| {
        row = model.after(&row, event, events - gone);
        gone = events;
        let mut ahead = damages(model, &row);
        ahead[mechanism::CAGE] -= now[slot::CAGE];
        ahead.to_vec()
    })
}

/// The rates asked for, widened by what differs between bearings and by what is not known of the surfaces. Life is taken to go with the viscosity
/// ratio, that with the 1.3th power of roughness.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &model.spec;
    let rating = spec.kind().exponent() * c::RATING_SCATTER;
    let film = ringland_mechanics::rolling_bearing::lubrication::KAPPA_OF_LAMBDA;
    let widening = [
        rating.hypot(film * spec.roughness_ln_sd),
        spec.wear_ln_sd.hypot(c::BEARING_LN_SD),
        c::DENT_LN_SD,
        c::BEARING_LN_SD,
        c::BEARING_LN_SD,
    ];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

/// Shares of a mechanism's next damage. Dents are the impacts'; of fatigue, what dents add to the hazard counts with the points that turn it into a spall.
fn split(event: &Stretch, (now, next): (&Row, &Row), of: usize) -> (Vec<f64>, Vec<f64>) {
    let state = rate_state(event, now, next);
    let amount = |added: &Added| match of {
        mechanism::FATIGUE => (0..2).map(|k| state[k] * added.fatigue[k][0]).sum(),
        mechanism::PLAY => added.growth_m,
        mechanism::DENTS => 0.0,
        mechanism::GREASE => added.grease,
        _ => added.cage,
    };
    let shocks = if of == mechanism::DENTS {
        event.dents.deepest
    } else {
        0.0
    };
    point_and_shock_shares(event.points.iter().map(amount), [shocks])
}

/// How much of the next hazard comes of each bearing, for a unit of rated life used as set.
fn rate_state(event: &Stretch, now: &Row, next: &Row) -> [f64; 2] {
    [0, 1].map(|k| {
        let as_set = event.total.fatigue[k][0];
        if as_set <= 0.0 {
            return 0.0;
        }
        let power = |row: &Row| libm::pow(row[slot::FATIGUE + k], c::SLOPE);
        (1.0 + next[slot::DENTED + k]) * (power(next) - power(now)) / as_set
    })
}

fn paths(
    model: &Model<'_>,
    now: &Row,
    event: &Stretch,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    reading_paths(limits(model), ahead, |events| {
        let then = model.after(now, event, events);
        QUANTILES.map(|z| readings(model, &then, &multipliers(spreads, z)))
    })
}
