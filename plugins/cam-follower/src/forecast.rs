//! Forecasts: the law of the condition ahead, lives drawn from it.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, multipliers, past_limits, reading_paths, shares, standing_in, warning,
};

use crate::card::{self, mechanism};
use crate::condition::{Condition, Model};
use crate::constants::{
    LOBE_LN_SD, PITTING_CORRELATION, PITTING_EXPONENT, STRENGTH_LN_SD, WEAR_CORRELATION,
};
use crate::duty::{self, Added, Record};
use crate::readings::{self, damage};

/// Answers a request.
///
/// # Errors
/// What is wrong with it.
pub fn forecast(
    model: &Model<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = Condition::read(&request.condition)?;
    let record = duty::record(&model.spec, &model.map, &request.event)?;
    let event = record.total();
    let spec = &model.spec;
    let spreads = spreads(model, request);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damage(model, &now.after(spec, &event, events)).to_vec()
    });
    let correlations = [
        WEAR_CORRELATION,
        WEAR_CORRELATION,
        PITTING_CORRELATION,
        PITTING_CORRELATION,
        WEAR_CORRELATION,
    ];
    let lives = path.draw(&spreads, &correlations, request);
    let next = now.after(spec, &event, 1.0);
    let after = damage(model, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&record, index, &next);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(after[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, &now, &event, &spreads, &request.ahead_events),
        notes: notes(model, &now, request, &record),
    })
}

/// The rates asked for, widened by the spread between lobes and by what is not known of the surfaces and of the strength.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let (lobe, follower) = (&model.spec.lobe, &model.spec.follower);
    let variance = lobe.rq_m * lobe.rq_m + follower.rq_m * follower.rq_m;
    let share = lobe.rq_m * lobe.rq_m / variance;
    let composite = (share * lobe.ln_sd[0]).hypot((1.0 - share) * follower.ln_sd[0]);
    let contact = (model.map.dose_slope * composite).hypot(LOBE_LN_SD);
    let film = model.map.pitting_slope * composite;
    let strength = |hardness_sd: f64| PITTING_EXPONENT * STRENGTH_LN_SD.hypot(hardness_sd);
    let easier = if lobe.boundary_friction < follower.boundary_friction {
        lobe
    } else {
        follower
    };
    let widening = [
        contact.hypot(lobe.ln_sd[3]),
        contact.hypot(follower.ln_sd[3]),
        film.hypot(strength(lobe.ln_sd[1])),
        film.hypot(strength(follower.ln_sd[1])),
        LOBE_LN_SD.hypot(easier.ln_sd[2]),
    ];
    let widened = request.rates.iter().zip(widening);
    widened
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// Shares of operating points and of shocks in the next damage of the place that governs.
fn split(record: &Record, mechanism: usize, next: &Condition) -> (Vec<f64>, Vec<f64>) {
    let deepest = highest(&next.lobe_wear_m);
    let weakest = highest(&next.lobe_pitting);
    let peak = record.total().scuff_severity;
    let amount = |added: &Added| match mechanism {
        mechanism::LOBE_WEAR => added.lobe_dose_pa_m[deepest],
        mechanism::FOLLOWER_WEAR => added.follower_dose_pa_m,
        mechanism::LOBE_PITTING => added.lobe_pitting[weakest],
        mechanism::FOLLOWER_PITTING => added.follower_pitting,
        // What makes the peak has it all.
        _ => f64::from(u8::from(peak > 0.0 && added.scuff_severity >= peak)),
    };
    let amounts: Vec<f64> = record
        .points
        .iter()
        .chain(&record.shocks)
        .map(amount)
        .collect();
    let mut point_shares = shares(&amounts);
    let shock_shares = point_shares.split_off(record.points.len());
    (point_shares, shock_shares)
}

fn highest(values: &[f64]) -> usize {
    let mut at = 0;
    for (index, value) in values.iter().enumerate() {
        if *value > values[at] {
            at = index;
        }
    }
    at
}

fn paths(
    model: &Model<'_>,
    now: &Condition,
    event: &Added,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    let steady = readings::steady(model);
    reading_paths(readings::limits(model), ahead, |events| {
        let then = now.after(&model.spec, event, events);
        QUANTILES.map(|z| readings::readings(&then, &multipliers(spreads, z), steady))
    })
}

fn notes(
    model: &Model<'_>,
    now: &Condition,
    request: &ForecastRequest,
    record: &Record,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let count = |of: fn(&&Added) -> bool| {
        record
            .points
            .iter()
            .chain(&record.shocks)
            .filter(of)
            .count()
    };
    let off = count(|added| added.extrapolated);
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it take its edge in speed, spring load or viscosity: treat their damage as a guess",
        ));
    }
    let floating = count(|added| added.floats);
    if floating > 0 {
        notes.push(warning(
            "event.engine_speed_rad_s",
            floating as f64,
            "operating points at which the valve stays on its cam",
            "the valve floats there: more spring load, less mass or a lower limiter; look at spring, keepers, lobe and valve",
        ));
    }
    if now.lash_growth_m > model.spec.limit_lash_growth_m {
        notes.push(warning(
            "lash_growth_m",
            now.lash_growth_m,
            "lash within its limit since it was last set",
            "measure the lash and look at lobe and follower before it is set again",
        ));
    }
    notes.extend(standing_in(&card::duty(), &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damage(model, now)));
    notes
}
