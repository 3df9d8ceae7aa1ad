//! Forecasts: the law of the condition ahead, lives drawn from it.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, ReadingPath,
    Spread, check_request, multipliers, past_limits, reading_paths, shares, standing_in, warning,
};

use crate::card::{self, mechanism, slot};
use crate::condition::{Model, Row, read};
use crate::constants::{CORRELATIONS, ONE_PERCENT, PAIR_LN_SD, SETTING_LN_SD, STRENGTH_LN_SD};
use crate::duty::{self, Added, Record};
use crate::readings::{self, damages};
use crate::strength::roughness_factor;

/// Answers a request.
///
/// # Errors
/// What is wrong with it.
pub fn forecast(
    model: &Model<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = read(&request.condition)?;
    let record = duty::record(model, &request.event)?;
    let event = record.total();
    let spec = &model.spec;
    let spreads = spreads(model, request, &event);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damages(spec, &model.after(&now, &event, events)).to_vec()
    });
    let lives = path.draw(&spreads, &CORRELATIONS, request);
    let next = model.after(&now, &event, 1.0);
    let after = damages(spec, &next);
    let mechanisms = lives
        .into_iter()
        .enumerate()
        .map(|(index, lives_events)| MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(after[index]),
            point_shares: split(&record, &event, index, &next),
            shock_shares: Vec::new(),
        });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, &now, &event, &spreads, &request.ahead_events),
        notes: notes(model, &now, request, &record),
    })
}

/// The rates asked for, widened by the scatter of strength, by the setting, and by what is not known of the surfaces.
fn spreads(model: &Model<'_>, request: &ForecastRequest, event: &Added) -> Vec<Spread> {
    let spec = &model.spec;
    let (pinion, ring) = (&spec.pinion, &spec.ring);
    let share = pinion.ra_m / (pinion.ra_m + ring.ra_m);
    let mean_ra_sd = (share * pinion.ln_sd[0]).hypot((1.0 - share) * ring.ln_sd[0]);
    let dose = (model.map.dose_slope * mean_ra_sd).hypot(PAIR_LN_SD);
    let either_wear = 0.5 * pinion.ln_sd[2].hypot(ring.ln_sd[2]);
    let strength = STRENGTH_LN_SD.hypot(SETTING_LN_SD);
    let flank = strength.hypot(roughness_slope(model) * mean_ra_sd);
    let root = strength.hypot(root_roughness_slope(model) * spec.root_ra_ln_sd);
    let weaker_root = usize::from(event.roots[1] > event.roots[0]);
    let easier = if pinion.boundary_friction < ring.boundary_friction {
        pinion
    } else {
        ring
    };
    let widening = [
        slope(event.pitting[0], event.weak_pitting[0], PITTING_SLOPE) * flank,
        slope(event.pitting[1], event.weak_pitting[1], PITTING_SLOPE) * flank,
        slope(
            event.roots[weaker_root],
            event.weak_roots[weaker_root],
            ROOT_SLOPE,
        ) * root,
        PAIR_LN_SD.hypot(easier.ln_sd[1]),
        dose.hypot(either_wear),
        PAIR_LN_SD,
        PAIR_LN_SD,
    ];
    let widened = request.rates.iter().zip(widening);
    widened
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// Slopes above the knees, for an event that does no damage: ISO 6336-2 and -3, from memory.
const PITTING_SLOPE: f64 = 13.22;
const ROOT_SLOPE: f64 = 8.74;

/// Slope of ln(damage) over ln(strength) in an event, between the strength that half of the pairs have and that of all but one in a hundred: the life curve
/// has knees, and it depends on the loads on which side of them they lie.
fn slope(median: f64, weak: f64, otherwise: f64) -> f64 {
    if median <= f64::MIN_POSITIVE {
        return otherwise;
    }
    libm::log(weak / median) / (ONE_PERCENT * STRENGTH_LN_SD)
}

/// Slope of ln(strength) over ln(roughness), without its sign.
fn roughness_slope(model: &Model<'_>) -> f64 {
    let factor = |by: f64| roughness_factor(&model.spec, &model.gears.flanks[0], by);
    (libm::log(factor(1.1) / factor(1.0)) / libm::log(1.1)).abs()
}

fn root_roughness_slope(model: &Model<'_>) -> f64 {
    let factor = |by: f64| crate::strength::root_roughness_factor(by * model.spec.root_ra_m);
    (libm::log(factor(1.1) / factor(1.0)) / libm::log(1.1)).abs()
}

/// Shares of operating points in the next damage.
fn split(record: &Record, event: &Added, mechanism: usize, next: &Row) -> Vec<f64> {
    let weaker = usize::from(next[slot::RING_ROOT] > next[slot::PINION_ROOT]);
    let amount = |added: &Added| match mechanism {
        mechanism::DRIVE_PITTING => added.pitting[0],
        mechanism::COAST_PITTING => added.pitting[1],
        mechanism::ROOT_FATIGUE => added.roots[weaker],
        // What makes the peak has it all.
        mechanism::SCUFF => {
            let peak = event.scuff_severity;
            f64::from(u8::from(peak > 0.0 && added.scuff_severity >= peak))
        }
        // What settles with the bearings is small beside the wear and goes with it.
        mechanism::BACKLASH => added.pinion_dose[1] + added.ring_dose[1],
        _ => added.bearing_turns,
    };
    shares(&record.points.iter().map(amount).collect::<Vec<f64>>())
}

fn paths(
    model: &Model<'_>,
    now: &Row,
    event: &Added,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    let steady = readings::steady(model);
    reading_paths(readings::limits(&model.spec), ahead, |events| {
        let then = model.after(now, event, events);
        QUANTILES.map(|z| readings::readings(&model.spec, &then, &multipliers(spreads, z), steady))
    })
}

fn notes(model: &Model<'_>, now: &Row, request: &ForecastRequest, record: &Record) -> Vec<Finding> {
    let mut notes = Vec::new();
    let off = record
        .points
        .iter()
        .filter(|added| added.extrapolated)
        .count();
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it take its edge in speed, torque or oil temperature: treat their wear and scuffing as a guess",
        ));
    }
    let hottest_k = request
        .event
        .channel(HEAT)
        .iter()
        .copied()
        .fold(0.0, f64::max);
    if hottest_k > HOT_OIL_K {
        notes.push(warning(
            "event.axle_oil_temp_k",
            hottest_k,
            "at most 403 K (130 degC)",
            "cool the oil or change it sooner: gear oil ages fast there",
        ));
    }
    if record.points.len() > 1 && request.event.cycles.iter().all(|c| c.counts.is_empty()) {
        notes.push(warning(
            "event.cycles",
            0.0,
            "counted cycles of the axle torque",
            "launches and hop are not in it: log the axle torque fast enough to count them",
        ));
    }
    notes.extend(standing_in(&card::duty(), &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damages(&model.spec, now)));
    notes
}

/// Index of the oil temperature among the channels.
const HEAT: usize = 3;
/// Oil temperature above which a note tells \[K\]: common practice, no source.
const HOT_OIL_K: f64 = 403.15;
