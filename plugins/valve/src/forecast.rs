//! Remaining life, readings and risk.

use ringland_engine::valvetrain::FLOAT_LOFT_M;
use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, check_row, multipliers, past_limits, point_and_shock_shares,
    reading_paths, standing_in, warning,
};

use crate::card::{self, mechanism, slot};
use crate::condition::{Model, after};
use crate::constants::CORRELATION;
use crate::duty::{Added, Record, record};
use crate::readings::{self, damages};
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
    check_row(&card::condition(), &request.condition)?;
    let (spec, now) = (&model.spec, &request.condition);
    let record = record(spec, &model.maps, &request.event)?;
    let event = record.total();
    let spreads = spreads(spec, request);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damages(spec, &after(now, &event, events)).to_vec()
    });
    let lives = path.draw(&spreads, &[CORRELATION; mechanism::COUNT], request);
    let next = after(now, &event, 1.0);
    let then = damages(spec, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(spec, &record, index, &next);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(then[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, &event, &spreads, request),
        notes: notes(model, &next, &record, request),
    })
}

/// The rates asked for, widened by what is not known of surfaces and strengths.
fn spreads(spec: &Spec, request: &ForecastRequest) -> Vec<Spread> {
    let [hardness_sd, wear_sd] = spec.seat_ln_sd;
    let strength = spec.slope * spec.strength_scatter;
    let widening = [
        hardness_sd.max(wear_sd),
        spec.stem_wear_ln_sd,
        spec.stem_wear_ln_sd,
        strength,
        strength,
    ];
    let widened = request.rates.iter().zip(widening);
    widened
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// Shares of operating points and of over-revs in the next damage of a mechanism.
fn split(spec: &Spec, record: &Record, index: usize, next: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let stem = if next[slot::STEM_BOTTOM] > next[slot::STEM_TOP] {
        slot::STEM_BOTTOM
    } else {
        slot::STEM_TOP
    };
    let amount = |added: &Added| match index {
        mechanism::RECESSION => added.slots[slot::RECESSION],
        mechanism::STEM => added.slots[stem],
        mechanism::GALLING if spec.titanium => added.slots[stem],
        mechanism::GALLING => 0.0,
        mechanism::GROOVE => added.slots[slot::GROOVE],
        _ => added.slots[slot::HEAD_FATIGUE] + added.slots[slot::HEAD_CREEP],
    };
    point_and_shock_shares(
        record.points.iter().map(amount),
        record.over_revs.iter().map(amount),
    )
}

fn paths(
    model: &Model<'_>,
    event: &[f64; slot::COUNT],
    spreads: &[Spread],
    request: &ForecastRequest,
) -> Vec<ReadingPath> {
    let spec = &model.spec;
    let full = readings::full_load(model);
    reading_paths(readings::limits(spec), &request.ahead_events, |events| {
        let then = after(&request.condition, event, events);
        QUANTILES.map(|z| readings::readings(spec, &full, &then, &multipliers(spreads, z), z))
    })
}

fn notes(
    model: &Model<'_>,
    next: &[f64],
    record: &Record,
    request: &ForecastRequest,
) -> Vec<Finding> {
    let spec = &model.spec;
    let mut notes = Vec::new();
    let mut tell = |field: &str, value: f64, expected: &str, remedy: &str| {
        notes.push(warning(field, value, expected, remedy));
    };
    let off = record.all().filter(|added| added.extrapolated).count();
    if off > 0 {
        let remedy = "points beyond the maps are extrapolated or held: treat their damage as a guess on the low side";
        tell(
            "event",
            off as f64,
            "operating points on the prepared maps",
            remedy,
        );
    }
    let most = |of: fn(&Added) -> f64| {
        let busy = record.all().filter(|added| added.slots[slot::RUN] > 0.0);
        busy.map(of).fold(0.0, f64::max)
    };
    let hottest_k = most(|added| added.centre_k);
    if hottest_k > spec.material.service_k {
        let expected = format!("at most {:.0} K in long service", spec.material.service_k);
        let remedy = "richer mixture, later over-run cut, wider seat, or a material for this temperature; strengths there are extrapolated";
        tell("head_temp_k", hottest_k, &expected, remedy);
    }
    let loft_m = most(|added| added.loft_m);
    if loft_m > FLOAT_LOFT_M {
        let expected = format!("a valve that flies off its cam by at most {FLOAT_LOFT_M} m");
        let remedy = "valve-train float: the valve can meet the piston; lower limiter, more spring, lighter parts";
        tell("float", loft_m, &expected, remedy);
    }
    let landing_m_s = most(|added| added.seating_m_s);
    if landing_m_s > MOST_SEATING_M_S {
        let expected = format!("seating at most {MOST_SEATING_M_S} m/s");
        let remedy =
            "after such landings look at seats, keepers and grooves before the engine runs again";
        tell("seating_velocity_m_s", landing_m_s, &expected, remedy);
    }
    if next[slot::RUN] > spec.limit_run_s {
        let expected = format!("at most {:.0} s on the valve", spec.limit_run_s);
        let remedy = "the valve maker's limit comes first, whatever is computed: replace the valve";
        tell("run_s", next[slot::RUN], &expected, remedy);
    }
    notes.extend(standing_in(&card::duty(), &request.event));
    let now = damages(spec, &request.condition);
    notes.extend(past_limits(&card::mechanisms(), &now));
    notes
}

/// Landing from which the reader is told \[m/s\].
const MOST_SEATING_M_S: f64 = 1.0;
