//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES,
    ReadingPath, Spread, check_request, multipliers, past_limits, point_and_shock_shares,
    reading_paths, standing_in, warning,
};

use crate::card::{self, mechanism, slot};
use crate::condition::{Model, Row, read, volumes};
use crate::constants as c;
use crate::duty::Added;
use crate::heat;
use crate::readings::{damages, limits, readings};
use crate::solve::look_up;
use crate::wear_limit::{Ahead, WearLimit};

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
    let event = model.total(points.iter().chain(&over_revs));
    let limit = WearLimit::new(&model.spec, stem_loss_m(&request.event));
    let spreads = spreads(model, request);
    let ahead = Ahead::new(&limit, &now, &event.worn_m3);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        let [clearance, wobble] = ahead.at(events);
        let index = model.after(&now, &event, events)[slot::GALLING];
        vec![clearance, wobble, index]
    });
    let mut lives = path.draw(&spreads, &c::CORRELATIONS, request);
    worst_case_within_an_event(&mut lives[mechanism::GALLING], request.horizon_events);
    let next = damages(&limit, &model.after(&now, &event, 1.0));
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&limit, &points, &over_revs, &event, index);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(next[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, &limit, &now, &event, &spreads, &request.ahead_events),
        notes: notes(model, &limit, &now, &event, request),
    })
}

/// What the stem has lost of its diameter at the top and at the bottom \[m\].
fn stem_loss_m(event: &Duty) -> [f64; 2] {
    [0, 1].map(|mate| event.mates.get(mate).copied().unwrap_or(0.0).max(0.0))
}

/// The rates asked for, widened by what differs between guides and by what is not known of the surfaces.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &model.spec;
    let roughness = roughness_slope(model) * spec.roughness_ln_sd;
    let wear = spec.bore.wear_ln_sd.hypot(roughness).hypot(c::GUIDE_LN_SD);
    let galling = spec
        .bore
        .friction_ln_sd
        .hypot(roughness)
        .hypot(c::GUIDE_LN_SD);
    let widened = request.rates.iter().zip([wear, wear, galling]);
    widened
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// Change of ln(wear) for a change of ln(roughness) at full load and limiter, at the end that it changes more.
fn roughness_slope(model: &Model<'_>) -> f64 {
    let spec = &model.spec;
    let speed_rad_s = spec.train.limiter_speed_rad_s;
    let (cycle, _) = look_up(&model.map, spec, speed_rad_s);
    let viscosity_pa_s = spec.vogel.viscosity_pa_s(c::WARM_OIL_K);
    let layer_m = spec
        .oil
        .layer_m(viscosity_pa_s, cycle.speed_radius_m * speed_rad_s);
    let heat = heat::full_load(spec);
    let ends = [heat.stem_top_k, heat.stem_bottom_k];
    let slopes = ends.map(|stem_k| spec.oil.roughness_slope(layer_m, stem_k));
    slopes[0].max(slopes[1])
}

/// A worst case is met in the first event or never: a life that ends, ends within it, however coarse the path to a far horizon.
fn worst_case_within_an_event(lives: &mut [f64], horizon_events: f64) {
    for life in lives.iter_mut().filter(|life| **life < horizon_events) {
        *life = life.min(1.0);
    }
}

/// Shares of a mechanism's next damage. Galling is a worst case: points that reach it share it. Wear is that of the mouth that the event opens
/// further, and of both mouths for wobble.
fn split(
    limit: &WearLimit,
    points: &[Added],
    over_revs: &[Added],
    event: &Added,
    of: usize,
) -> (Vec<f64>, Vec<f64>) {
    let mut row = [0.0; slot::COUNT];
    row[..slot::GALLING].copy_from_slice(&event.worn_m3);
    let [top_m, bottom_m, _] = limit.sizes_m(&volumes(&row, 1.0));
    let amount = |added: &Added| {
        let [top_plus, top_minus, bottom_plus, bottom_minus] = added.worn_m3;
        match of {
            mechanism::CLEARANCE if top_m > bottom_m => top_plus + top_minus,
            mechanism::CLEARANCE => bottom_plus + bottom_minus,
            mechanism::WOBBLE => added.worn_m3.iter().sum(),
            _ => {
                let worst = added.galling >= event.galling && added.galling > 0.0;
                f64::from(u8::from(worst))
            }
        }
    };
    point_and_shock_shares(points.iter().map(amount), over_revs.iter().map(amount))
}

fn paths(
    model: &Model<'_>,
    limit: &WearLimit,
    now: &Row,
    event: &Added,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    reading_paths(limits(&model.spec), ahead, |events| {
        let then = model.after(now, event, events);
        QUANTILES.map(|z| readings(&model.spec, limit, &then, &multipliers(spreads, z)))
    })
}

fn notes(
    model: &Model<'_>,
    limit: &WearLimit,
    now: &Row,
    event: &Added,
    request: &ForecastRequest,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    if event.extrapolated {
        notes.push(warning(
            "event",
            "off the map",
            "operating points on the prepared map",
            "points beyond it are held at its fastest speed: treat their wear as a guess",
        ));
    }
    let least_m = model.spec.own.limit_hot_clearance_m;
    if event.hot_clearance_m < least_m {
        notes.push(warning(
            "hot_clearance_m",
            event.hot_clearance_m,
            &format!("at least {least_m:.1e} m at the hottest of the event"),
            "do not run it: a tight stem sticks and the valve meets the piston; open the guide or cool the exhaust",
        ));
    }
    notes.extend(standing_in(&model.need, &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damages(limit, now)));
    notes
}
