//! Remaining life, readings and risk.

use ringland_engine::{Block, points_and_over_revs};
use ringland_mechanics::film::pack::PEAK_VARIANCE;
use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, normal_draws, past_limits, point_and_shock_shares, standing_in, warning,
};

use crate::bore_map::REVERSAL;
use crate::card::{self, mechanism, reading};
use crate::condition::{Condition, Model};
use crate::constants::{CYLINDER_LN_SD, SHIFT_HOURS_H, WEAR_CORRELATION};
use crate::duty::{self, Added};
use crate::readings::{self, JUDGED, Multipliers, damage};

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
    let crown = model.crown(&request.event);
    let ahead = |events: f64| model.after(&now, &event, crown, events);
    let spreads = spreads(model, request);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damage(model, &ahead(events)).to_vec()
    });
    let mut lives = path.draw(&spreads, &CORRELATIONS, request);
    lives[mechanism::SHIFT] = shift_lives(model, &now, event.heat_h, &spreads, request);
    let next = ahead(1.0);
    let after = damage(model, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&by_point, &by_shock, index, &next, crown);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(after[index]),
            point_shares,
            shock_shares,
        }
    });
    let mechanisms = mechanisms.collect();
    let rows = request.ahead_events.iter().map(|events| ahead(*events));
    Ok(LifeForecast {
        mechanisms,
        readings: paths(model, &spreads, &rows.collect::<Vec<_>>()),
        notes: notes(model, &now, request, &by_point, &by_shock),
    })
}

/// Taper and valleys follow one contact; the casting's shift has nothing to do with either.
const CORRELATIONS: [f64; mechanism::COUNT] = [WEAR_CORRELATION, 0.0, WEAR_CORRELATION];

/// Lives by the casting's shift in closed form, on the same draws as [`DamagePath::draw`] gives its index: `S m (e^−a − e^−(b + n h)) = limit`
/// with a the hours honed, b those now, h those of an event, all over the model's, and m the drawn multiplier. A path of
/// straight pieces would cut its bend.
fn shift_lives(
    model: &Model<'_>,
    now: &Condition,
    heat_h: f64,
    spreads: &[Spread],
    request: &ForecastRequest,
) -> Vec<f64> {
    let spec = &model.spec;
    let honed = libm::exp(-now.honed_heat_h / SHIFT_HOURS_H);
    let samples = request.samples as usize;
    let draws = normal_draws(request.seed, 1 + mechanism::COUNT, samples);
    let life = |z: &f64| {
        let shift_m = spec.shift_m * spreads[mechanism::SHIFT].at(*z);
        let left = honed - spec.limit_roundness_m / shift_m;
        if left <= 0.0 || heat_h <= 0.0 {
            let past = shift_m * (honed - libm::exp(-now.heat_h / SHIFT_HOURS_H));
            let ended = past >= spec.limit_roundness_m;
            return if ended { 0.0 } else { request.horizon_events };
        }
        let hours = -libm::log(left) * SHIFT_HOURS_H - now.heat_h;
        (hours / heat_h).clamp(0.0, request.horizon_events)
    };
    draws[1 + mechanism::SHIFT].iter().map(life).collect()
}

/// The rates asked for, widened by the spread between cylinders and by what is not known of the surfaces.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let rings = &model.spec.rings;
    let (bore, top) = (&rings.pack.bore, &rings.pack.rings[0]);
    let variance = bore.rq_m * bore.rq_m + top.rq_m * top.rq_m;
    let fresh_variance = variance + PEAK_VARIANCE * bore.rpk_m * bore.rpk_m;
    let [seated, _, fresh, ..] = model.map.full_load(&model.spec).dose_pa_m[REVERSAL];
    // Slope of ln(dose) over ln(variance), from seated to fresh.
    let slope = libm::log(fresh / seated) / libm::log(fresh_variance / variance);
    let by_rq = |rq_m: f64, ln_sd: f64| 2.0 * slope * rq_m * rq_m / variance * ln_sd;
    let [bore_wear, bore_rq] = rings.bore.ln_sd;
    let [_, face_rq] = rings.faces[0].ln_sd;
    let roughness = by_rq(bore.rq_m, bore_rq).hypot(by_rq(top.rq_m, face_rq));
    let wear = bore_wear.hypot(roughness).hypot(CYLINDER_LN_SD);
    let widening = [wear, CYLINDER_LN_SD, wear];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// What each point and the over-revs have in the wear of the next event, or in its heat.
fn split(
    by_point: &[Added],
    by_shock: &[Added],
    index: usize,
    next: &Condition,
    crown: f64,
) -> (Vec<f64>, Vec<f64>) {
    let amount = |added: &Added| match index {
        mechanism::SHIFT => added.stretch.heat_h,
        mechanism::VALLEYS => added.stretch.heights[JUDGED].at(next.unseated(), crown),
        _ => added.stretch.heights[REVERSAL].at(next.unseated(), crown),
    };
    point_and_shock_shares(by_point.iter().map(amount), by_shock.iter().map(amount))
}

fn paths(model: &Model<'_>, spreads: &[Spread], ahead: &[Condition]) -> Vec<ReadingPath> {
    let at = |z: f64, condition: &Condition| {
        let by = Multipliers {
            wear: spreads[mechanism::TAPER].at(z),
            shift: spreads[mechanism::SHIFT].at(z),
            valleys: spreads[mechanism::VALLEYS].at(z),
        };
        readings::readings(model, condition, &by)
    };
    let rows: Vec<[[f64; reading::COUNT]; 3]> = ahead
        .iter()
        .map(|condition| QUANTILES.map(|z| at(z, condition)))
        .collect();
    let path = |(index, limit): (usize, Option<f64>)| {
        // Some readings fall with the rates, so the outer two are put in order.
        let column = |pick: fn(f64, f64, f64) -> f64| {
            let values = rows.iter();
            values
                .map(|[a, b, c]| pick(a[index], b[index], c[index]))
                .collect()
        };
        ReadingPath {
            low: column(|a, b, c| a.min(b).min(c)),
            median: column(|_, b, _| b),
            high: column(|a, b, c| a.max(b).max(c)),
            limit,
        }
    };
    readings::limits(model)
        .into_iter()
        .enumerate()
        .map(path)
        .collect()
}

/// Glazed share from which the reader is told.
const GLAZED: f64 = 0.1;

fn notes(
    model: &Model<'_>,
    now: &Condition,
    request: &ForecastRequest,
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
    let one = Multipliers {
        wear: 1.0,
        shift: 1.0,
        valleys: 1.0,
    };
    let values = readings::readings(model, now, &one);
    if values[reading::GLAZING] > GLAZED {
        notes.push(warning(
            "glazing_fraction",
            values[reading::GLAZING],
            "a bore that seats under load",
            "look for a varnished, shiny bore; deglaze or rehone before judging the rings",
        ));
    }
    for (name, index, limit) in [
        ("removed_m", reading::REMOVED, model.spec.limit_removed_m),
        (
            "clearance_m",
            reading::CLEARANCE,
            model.spec.clearance_m + model.spec.limit_clearance_growth_m,
        ),
    ] {
        if values[index] > limit {
            notes.push(warning(
                name,
                values[index],
                &format!("at most {limit} m"),
                "measure wall and clearance; bore and sleeve, or fit the next piston size",
            ));
        }
    }
    notes.extend(standing_in(&card::duty(), &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damage(model, now)));
    notes
}
