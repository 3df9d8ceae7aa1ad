//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, hazard_risk, multipliers, normal_cdf, normal_draws,
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
    let struck = struck_lives(&path, now[slot::SPALL], &spreads, request);
    for (of, drawn) in [mechanism::FATIGUE, mechanism::CAGE]
        .into_iter()
        .zip(struck)
    {
        lives[of] = drawn;
    }
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

/// Lives to a spall and to the end of the cage, which strike by chance, of a set that has lasted so far: nothing happens until the hazard, times the drawn rate,
/// reaches a drawn exponential threshold. The path holds the rated life used, which is almost straight over events where its hazard, a power of
/// it, is not.
fn struck_lives(
    path: &DamagePath,
    hazard_now: f64,
    spreads: &[Spread],
    request: &ForecastRequest,
) -> [Vec<f64>; 2] {
    // Common to all, one for each mechanism, two that decide when chance strikes.
    let draws = normal_draws(request.seed, 3 + mechanism::COUNT, request.samples as usize);
    let drawn = |of: usize, chances: usize, spread: Spread, life: &dyn Fn(f64) -> f64| {
        let (shared, own) = (
            c::CORRELATIONS[of].sqrt(),
            (1.0 - c::CORRELATIONS[of]).sqrt(),
        );
        let rates = draws[0].iter().zip(&draws[1 + of]);
        let each = rates.zip(&draws[chances]).map(|((common, alone), chance)| {
            let threshold = -libm::log(normal_cdf(-chance));
            life(threshold / spread.at(shared * common + own * alone))
        });
        each.collect()
    };
    let (spall, cage) = (mechanism::FATIGUE, mechanism::CAGE);
    let first = 1 + mechanism::COUNT;
    [
        drawn(spall, first, weibull_spread(&spreads[spall]), &|hazard| {
            path.events_to(spall, rated_life_used(hazard_now + hazard))
        }),
        drawn(cage, first + 1, spreads[cage], &|hazard| {
            path.events_to(cage, hazard)
        }),
    ]
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
