//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, multipliers, past_limits, reading_paths, shares, standing_in, warning,
};

use crate::card::{self, mechanism};
use crate::condition::{Condition, Model};
use crate::constants::{
    BEARING_LN_SD, FATIGUE_CORRELATION, FATIGUE_EXPONENT, STRENGTH_LN_SD, WEAR_CORRELATION,
};
use crate::duty::{self, Added, Record};
use crate::readings::{self, damage};

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
    let record = duty::record(&model.spec, &model.map, &request.event)?;
    let event = record.total();
    let spec = &model.spec;
    let spreads = spreads(model, request);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damage(model, &now.after(spec, &event, events)).to_vec()
    });
    let correlations = [
        WEAR_CORRELATION,
        FATIGUE_CORRELATION,
        WEAR_CORRELATION,
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

/// The rates asked for, widened by the spread between bearings and by what is not known of the surfaces and of the strength.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let (spec, shell) = (&model.spec, &model.spec.shell);
    let [rq_sd, friction_sd, wear_sd] = shell.ln_sd;
    let variance = shell.rq_m * shell.rq_m + spec.journal_rq_m * spec.journal_rq_m;
    let shell_share = shell.rq_m * shell.rq_m / variance;
    let composite = (shell_share * rq_sd).hypot((1.0 - shell_share) * spec.journal_rq_ln_sd);
    let contact = (model.map.roughness_slope * composite).hypot(BEARING_LN_SD);
    let widening = [
        contact.hypot(wear_sd),
        FATIGUE_EXPONENT * STRENGTH_LN_SD,
        contact.hypot(friction_sd),
        contact.hypot(wear_sd),
    ];
    let widened = request.rates.iter().zip(widening);
    widened
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// Shares of operating points and of shocks in the next damage of the shell that governs.
fn split(record: &Record, mechanism: usize, next: &Condition) -> (Vec<f64>, Vec<f64>) {
    let worse = |pair: [f64; 2]| usize::from(pair[1] > pair[0]);
    let peak = record.total().boundary_heat_w_m2;
    let amount = |added: &Added| match mechanism {
        mechanism::WEAR => added.dose_pa_m[worse(next.wear_m)],
        mechanism::FATIGUE => added.fatigue[worse(next.fatigue)],
        // What makes the peak has it all.
        mechanism::SEIZURE => f64::from(u8::from(peak > 0.0 && added.boundary_heat_w_m2 >= peak)),
        _ => added.dose_pa_m[0] + added.dose_pa_m[1],
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

fn paths(
    model: &Model<'_>,
    now: &Condition,
    event: &Added,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    let least_film_m = readings::least_film_m(model);
    reading_paths(readings::limits(model), ahead, |events| {
        let then = now.after(&model.spec, event, events);
        QUANTILES.map(|z| readings::readings(model, &then, &multipliers(spreads, z), least_film_m))
    })
}

fn notes(
    model: &Model<'_>,
    now: &Condition,
    request: &ForecastRequest,
    record: &Record,
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let all = record.points.iter().chain(&record.shocks);
    let off = all.filter(|added| added.extrapolated).count();
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it are extrapolated in speed or load: treat their wear as a guess",
        ));
    }
    let look = "pull a rod cap before the engine runs again, whatever any number here says";
    if now.cautions > 0.0 {
        notes.push(warning(
            "low_pressure_dips",
            now.cautions,
            "no dip below 2 bar for over 1 s above 5000 1/min since the shells were last seen",
            look,
        ));
    }
    let coming = record.total().cautions;
    if coming > 0.0 {
        notes.push(warning(
            "event.oil_pressure_dip",
            coming,
            "an event without a dip below 2 bar for over 1 s above 5000 1/min",
            "mend pick-up, baffles and level first; after such a dip pull a rod cap",
        ));
    }
    notes.extend(standing_in(&card::duty(), &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damage(model, now)));
    notes
}
