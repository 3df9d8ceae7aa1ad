//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, Spread,
    check_request, hazard_lives, hazard_risk, multipliers, point_and_shock_shares, reading_paths,
};

use crate::card::{mechanism, slot};
use crate::condition::{Joint, Row, read_row};
use crate::constants::{CORRELATIONS, PITTING_LN_SD};
use crate::duty::{Added, JointUse};
use crate::notes::notes;
use crate::readings::{damages, limits, readings};

/// Temperature of a reading where the event has no time \[K\].
const STILL_K: f64 = 298.15;

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(joint: &Joint, request: &ForecastRequest) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = read_row(&request.condition)?;
    let event = joint.read(&request.event)?;
    let spreads = spreads(joint, request);
    let hazard_now = now[slot::BOOT];
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        let mut damages = damages(joint, &joint.after(&now, &event.total, events));
        // A boot that has not torn so far starts anew: the hazard has no memory.
        damages[mechanism::BOOT] -= hazard_now;
        damages.to_vec()
    });
    let mut lives = path.draw(&spreads, &CORRELATIONS, request);
    let boot = mechanism::BOOT;
    let row = (boot, mechanism::COUNT);
    lives[boot] = hazard_lives(&path, row, &spreads[boot], CORRELATIONS[boot], request);
    let next = joint.after(&now, &event.total, 1.0);
    let then = damages(joint, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&event, &next, index);
        let risk_next_event = if index == boot {
            hazard_risk(&spreads[boot], then[boot] - hazard_now)
        } else {
            spreads[index].passed(then[index])
        };
        MechanismLife {
            lives_events,
            risk_next_event,
            point_shares,
            shock_shares,
        }
    });
    let surface_k = event.surface_k.unwrap_or(STILL_K);
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: reading_paths(limits(&joint.spec), &request.ahead_events, |events| {
            let then = joint.after(&now, &event.total, events);
            QUANTILES.map(|z| readings(joint, &then, surface_k, &multipliers(&spreads, z)))
        }),
        notes: notes(joint, (&now, &next), &event, request),
    })
}

/// The rates asked for, widened by what differs between joints and what is not known of the surfaces.
fn spreads(joint: &Joint, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &joint.spec;
    let [track, ball, window] = spec.wear_ln_sd;
    let share = spec.track_wear_m2_n / (spec.track_wear_m2_n + spec.ball_wear_m2_n);
    let widening = [
        // Life goes at most with the power 1.3 of the film ratio where films are thin.
        PITTING_LN_SD.hypot(spec.ra_ln_sd),
        (share * track).hypot((1.0 - share) * ball),
        window,
        0.0,
        // Torque at the set goes with the square of hardness.
        2.0 * spec.hardness_ln_sd,
        0.0,
    ];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// Shares of operating points and of impacts in a mechanism's next damage.
fn split(event: &JointUse, next: &Row, index: usize) -> (Vec<f64>, Vec<f64>) {
    let leading = leading_pitting(next);
    let hardest_pa = event.points.iter().map(|row| row[slot::PRESSURE]);
    let hardest_pa = hardest_pa.fold(0.0, f64::max);
    let amount = |row: &Added| match index {
        mechanism::PITTING => row[leading],
        mechanism::WEAR => row[slot::DRIVE_WEAR] + row[slot::COAST_WEAR] + row[slot::BALL_WEAR],
        mechanism::WINDOW => row[slot::WINDOW_WEAR],
        mechanism::GREASE => row[slot::GREASE],
        // Counted peaks have no operating point: those that bear hardest stand for them.
        mechanism::INDENTATION => f64::from(u8::from(
            hardest_pa > 0.0 && row[slot::PRESSURE] >= hardest_pa,
        )),
        _ => row[slot::BOOT],
    };
    let impacts = event.impacts.iter().copied();
    let shocks = impacts.filter(|_| index == mechanism::BOOT);
    point_and_shock_shares(event.points.iter().map(amount), shocks)
}

/// The slot of pitting that is ahead.
fn leading_pitting(next: &Row) -> usize {
    let slots = [slot::DRIVE_PITTING, slot::COAST_PITTING, slot::BALL_PITTING];
    let mut leading = slot::DRIVE_PITTING;
    for at in slots {
        if next[at] > next[leading] {
            leading = at;
        }
    }
    leading
}
