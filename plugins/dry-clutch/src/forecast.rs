//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, Spread,
    check_request, multipliers, reading_paths, shares,
};

use crate::card::{mechanism, slot};
use crate::condition::{Model, Row, read};
use crate::constants as c;
use crate::duty::Added;
use crate::engagement::Effect;
use crate::notes::notes;
use crate::readings::{damages, limits, readings};
use crate::spec::Spec;

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
    let event = model.added(&request.event)?;
    let spec = &model.spec;
    let spreads = spreads(model, request);
    // Wear and glazing only rise, but the clamp load rises before it falls: what has ended a life does not come back.
    let mut worst = [0.0; mechanism::COUNT];
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        let damages = damages(spec, &model.after(&now, &event, events));
        for (worst, damage) in worst.iter_mut().zip(damages) {
            *worst = damage.max(*worst);
        }
        worst.to_vec()
    });
    let next = damages(spec, &model.after(&now, &event, 1.0));
    let before = damages(spec, &now);
    let lives = path.draw(&spreads, &c::CORRELATIONS, request);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(spec, &now, &event, index);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(next[index].max(before[index])),
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
        notes: notes(model, &now, &event, request),
    })
}

/// The rates asked for, widened by what is not known of energies, surfaces and strength.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &model.spec;
    let wear = spec.wear_ln_sd.hypot(c::ENERGY_LN_SD);
    let widening = [
        wear,
        wear.hypot(spec.friction_ln_sd),
        c::SET_LN_SD,
        c::CRACK_LN_SD,
        spec.spline_ln_sd.hypot(c::SPLINE_LN_SD),
    ];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

/// Shares of a mechanism's next damage: of each operating point, of launches, of other engagements.
fn split(spec: &Spec, now: &Row, event: &Added, of: usize) -> (Vec<f64>, Vec<f64>) {
    let (by_wear, by_glaze) = torque_changes(spec, now, event);
    let amount = |effect: &Effect| match of {
        mechanism::STACK_WEAR => effect.wear_m,
        mechanism::CAPACITY => effect.wear_m * by_wear + effect.glaze * by_glaze,
        mechanism::WARP if spec.discs > 1 => {
            effect.floater.added(now[slot::FLOATER_SET])
                + effect.pressure_plate.added(now[slot::PLATE_SET])
        }
        mechanism::WARP => effect.pressure_plate.added(now[slot::PLATE_SET]),
        mechanism::HEAT_CRACKS => effect.heat_check,
        _ => 0.0,
    };
    let kind = |launch: bool| {
        let effects = event
            .effects
            .iter()
            .filter(|effect| effect.launch == launch);
        effects.map(amount).fold(0.0, |sum, value| sum + value)
    };
    let point = |dose: &f64| if of == mechanism::SPLINES { *dose } else { 0.0 };
    let mut amounts: Vec<f64> = event.points_pa_m.iter().map(point).collect();
    let points = amounts.len();
    amounts.extend([kind(true), kind(false)]);
    let mut point_shares = shares(&amounts);
    let shock_shares = point_shares.split_off(points);
    (point_shares, shock_shares)
}

/// Torque that the next event changes, for each metre of its wear and each unit of its glazing.
fn torque_changes(spec: &Spec, now: &Row, event: &Added) -> (f64, f64) {
    let (wear_m, glaze) = (now[slot::STACK_WEAR], now[slot::GLAZE]);
    let now_n_m = spec.capacity_n_m(wear_m, glaze);
    let per = |then_n_m: f64, amount: f64| {
        if amount > 0.0 {
            (now_n_m - then_n_m).abs() / amount
        } else {
            0.0
        }
    };
    (
        per(
            spec.capacity_n_m(wear_m + event.wear_m, glaze),
            event.wear_m,
        ),
        per(spec.capacity_n_m(wear_m, glaze + event.glaze), event.glaze),
    )
}
