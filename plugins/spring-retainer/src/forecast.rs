//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, hazard_lives, hazard_risk, multipliers, point_and_shock_shares,
    reading_paths,
};

use crate::card::{mechanism, slot};
use crate::condition::{Model, Row, read};
use crate::constants as c;
use crate::duty::{self, Added};
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
    let (points, over_revs) = model.added(&request.event)?;
    let event = duty::total(points.iter().chain(&over_revs));
    let spreads = spreads(model, request);
    let hazard_now = now[slot::GALLING];
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        let mut damages = damages(&model.spec, &model.after(&now, &event, events));
        // A taper that has not galled so far starts anew: the hazard has no memory.
        damages[mechanism::GALLING] -= hazard_now;
        damages.to_vec()
    });
    let mut lives = path.draw(&spreads, &c::CORRELATIONS, request);
    let of = mechanism::GALLING;
    let hazard = (of, mechanism::COUNT);
    lives[of] = hazard_lives(&path, hazard, &spreads[of], c::CORRELATIONS[of], request);
    let then = model.after(&now, &event, 1.0);
    let next = damages(&model.spec, &then);
    let grown_m = then[slot::SINK] - now[slot::SINK];
    let driven = if grown_m > 0.0 {
        (model.driven_further_m(&now, &then) / grown_m).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let spread = &spreads[index];
        let risk_next_event = if index == mechanism::GALLING {
            hazard_risk(spread, next[index] - hazard_now)
        } else {
            spread.passed(next[index])
        };
        let (point_shares, shock_shares) = split(&points, &over_revs, &event, (index, driven));
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
        notes: notes(model, &now, &event, &spreads, request),
    })
}

/// The rates asked for, widened by what differs between retainers, by what is not known of the surfaces, and by the scatter of strength.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &model.spec;
    let scatter = c::SLOPE * c::STRENGTH_SCATTER;
    let (taper, keeper) = (spec.taper.wear_m2_n, spec.keeper_wear_m2_n);
    let share = taper / (taper + keeper);
    let sink = (share * spec.taper.wear_ln_sd).hypot((1.0 - share) * spec.keeper_ln_sd);
    let widening = [
        sink.hypot(c::RETAINER_LN_SD),
        spec.seat.wear_ln_sd.hypot(c::RETAINER_LN_SD),
        scatter,
        scatter,
        c::STRENGTH_SCATTER,
        c::RETAINER_LN_SD,
    ];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

/// Shares of a mechanism's next damage. The highest forces are worst cases: points that reach them share them. `driven` is the share of
/// the next sink that is driving on.
fn split(
    points: &[Added],
    over_revs: &[Added],
    event: &Added,
    (of, driven): (usize, f64),
) -> (Vec<f64>, Vec<f64>) {
    let all = || points.iter().chain(over_revs);
    let hardest =
        |added: &Added| f64::from(u8::from(added.held_n >= event.held_n && added.held_n > 0.0));
    let hardest_of_all: f64 = all().map(hardest).sum();
    let worn = event.taper_pa_m.max(f64::MIN_POSITIVE);
    let amount = |added: &Added| match of {
        mechanism::SINK => {
            (1.0 - driven) * added.taper_pa_m / worn
                + driven * hardest(added) / hardest_of_all.max(1.0)
        }
        mechanism::STEP => added.seat_pa_m,
        mechanism::FLANGE => added.flange,
        mechanism::HUB => added.hub,
        mechanism::PULL_THROUGH => {
            let worst = added.force_n >= event.force_n && added.force_n > 0.0;
            f64::from(u8::from(worst))
        }
        _ => added.worst_pa_m,
    };
    point_and_shock_shares(points.iter().map(amount), over_revs.iter().map(amount))
}

fn paths(
    model: &Model<'_>,
    now: &Row,
    event: &Added,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    reading_paths(limits(&model.spec), ahead, |events| {
        let then = model.after(now, event, events);
        QUANTILES.map(|z| readings(model, &then, &multipliers(spreads, z)))
    })
}
