//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES,
    ReadingPath, Spread, check_request, hazard_lives, hazard_risk, multipliers, past_limits,
    point_and_shock_shares, reading_paths, standing_in, warning,
};

use crate::card::{self, mechanism, slot};
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
    let of = mechanism::COATING;
    let hazard = (of, mechanism::COUNT);
    lives[of] = hazard_lives(&path, hazard, &spreads[of], c::CORRELATIONS[of], request);
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

/// A worst case is met in the first event or never: a life that ends, ends within it, however coarse the path to a far horizon.
fn worst_case_within_an_event(lives: &mut [f64], horizon_events: f64) {
    for life in lives.iter_mut().filter(|life| **life < horizon_events) {
        *life = life.min(1.0);
    }
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
