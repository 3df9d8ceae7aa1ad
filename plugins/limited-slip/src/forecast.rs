//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, Spread,
    check_request, multipliers, reading_paths, shares,
};

use crate::card::{mechanism, slot};
use crate::condition::{Model, Row, read};
use crate::constants as c;
use crate::duty::{Added, PointEffect};
use crate::notes::notes;
use crate::pack::spring_n;
use crate::readings::{damages, limits, readings};

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(model: &Model, request: &ForecastRequest) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = read(&request.condition)?;
    let event = model.added(&request.event)?;
    let spec = &model.spec;
    let spreads = spreads(model, request);
    let before = damages(spec, &now);
    // The path walks on from its last place. Chatter can ease as the springs give way: what has ended a life does not come back.
    let (mut then, mut gone, mut worst) = (now, 0.0, before);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        then = model.after(&then, &event, events - gone);
        gone = events;
        for (worst, damage) in worst.iter_mut().zip(damages(spec, &then)) {
            *worst = damage.max(*worst);
        }
        worst.to_vec()
    });
    let next = damages(spec, &model.after(&now, &event, 1.0));
    let lives = path.draw(&spreads, &c::CORRELATIONS, request);
    let mechanisms = lives
        .into_iter()
        .enumerate()
        .map(|(index, lives_events)| MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(next[index].max(before[index])),
            point_shares: point_shares(model, &now, &event, index),
            shock_shares: Vec::new(),
        });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: reading_paths(limits(spec), &request.ahead_events, |events| {
            let then = model.after(&now, &event, events);
            QUANTILES.map(|z| readings(spec, &then, &multipliers(&spreads, z)))
        }),
        notes: notes(model, &now, &event, request),
    })
}

/// The rates asked for, widened by what is not known of slip, surfaces and friction.
fn spreads(model: &Model, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &model.spec;
    let wear = spec.wear_ln_sd.hypot(c::SLIP_LN_SD);
    let widening = [
        wear,
        wear,
        spec.friction_ln_sd
            .hypot(spec.slope_ln_sd)
            .hypot(c::SLIP_LN_SD),
        c::PLATES_LN_SD,
    ];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

/// Shares of a mechanism's next damage, of each operating point.
fn point_shares(model: &Model, now: &Row, event: &Added, of: usize) -> Vec<f64> {
    let springs_n = spring_n(&model.spec, now[slot::STACK_WEAR]);
    let yields = event.band_strain > now[slot::BAND_STRAIN];
    let amount = |point: &PointEffect| {
        let work = point.sliding_m * (springs_n + point.ramp_n);
        match of {
            mechanism::STACK_WEAR | mechanism::PRELOAD => work * point.wear_factor,
            mechanism::CHATTER => work,
            // A new warp outweighs what scoring one event brings: the points that make it share it.
            _ if yields => (point.band_strain - now[slot::BAND_STRAIN]).max(0.0),
            _ => point.scoring_m,
        }
    };
    shares(&event.points.iter().map(amount).collect::<Vec<f64>>())
}
