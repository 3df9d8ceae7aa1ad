//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, Spread,
    check_request, multipliers, reading_paths, shares,
};

use crate::card::mechanism;
use crate::condition::{Model, read};
use crate::constants as c;
use crate::duty::{Added, Parts};
use crate::notes::notes;
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
    let parts = model.added(&request.event)?;
    let event = parts.total();
    let spec = &model.spec;
    let spreads = spreads(model, request);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damages(spec, &model.after(&now, &event, events)).to_vec()
    });
    let lives = path.draw(&spreads, &c::CORRELATIONS, request);
    let next = damages(spec, &model.after(&now, &event, 1.0));
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&parts, index);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(next[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: reading_paths(limits(spec), &request.ahead_events, |events| {
            let then = model.after(&now, &event, events);
            QUANTILES.map(|z| readings(spec, &then, &multipliers(&spreads, z)))
        }),
        notes: notes(model, &now, &parts, request),
    })
}

/// The rates asked for, widened by what differs between packs and by what is not known of the surfaces.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let mut widening = c::PACK_LN_SD;
    let spec = &model.spec;
    // To first order, the glaze that is allowed varies by this for each of ln(friction).
    let allowed = libm::log(spec.friction / spec.limit_friction);
    widening[mechanism::CAPACITY] =
        widening[mechanism::CAPACITY].hypot(spec.friction_ln_sd / allowed);
    let surfaces = spec.wear_ln_sd.hypot(spec.ra_ln_sd);
    widening[mechanism::THICKNESS] = widening[mechanism::THICKNESS].hypot(surfaces);
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

/// Shares of a mechanism's damage, by operating point and by kind of shock.
fn split(parts: &Parts, of: usize) -> (Vec<f64>, Vec<f64>) {
    let amount = |added: &Added| match of {
        mechanism::CAPACITY => added.glaze,
        mechanism::LINING => added.lining,
        mechanism::THICKNESS => added.wear_m,
        mechanism::FLATNESS => added.flatness_m,
        // What makes the slope fall, of a new lining in fresh oil.
        _ => {
            c::AGEING.slope_by_glaze_s_m * added.glaze
                + c::AGEING.slope_by_modifier_s_m * added.oil_age
        }
    };
    let all = parts.points.iter().chain(&parts.shocks);
    let amounts: Vec<f64> = all.map(amount).collect();
    let mut points = shares(&amounts);
    let shocks = points.split_off(parts.points.len());
    (points, shocks)
}
