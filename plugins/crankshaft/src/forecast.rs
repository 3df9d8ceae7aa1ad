//! Remaining life, readings and risk.

use ringland_engine::{Block, points_and_over_revs};
use ringland_plugin::{
    DamagePath, Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, ReadingPath, Spread,
    check_request, past_limits, point_and_shock_shares, standing_in, warning,
};

use crate::card::{self, mechanism, reading};
use crate::condition::{Condition, after, aged, damper_weights};
use crate::constants::{FORGING_CORRELATION, JOURNAL_LN_SD};
use crate::duty::{Added, Crank, Stretch, total};
use crate::operating_map::OperatingMap;
use crate::readings::Readings;
use crate::spec::Spec;
use crate::strength::Strength;

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(
    spec: &Spec,
    prepared: &[f64],
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = Condition::read(&request.condition)?;
    let (points, over_revs) = points_and_over_revs(&card::duty(), &request.event)?;
    let crank = Crank::new(spec, OperatingMap::read(prepared, spec)?, now.ground_m)?;
    let added = |blocks: &[Block]| -> Vec<Added> {
        blocks.iter().map(|block| crank.added(block)).collect()
    };
    let (by_point, by_shock) = (added(&points), added(&over_revs));
    let event = total(by_point.iter().chain(&by_shock));
    let damages_after = |events: f64| damages(spec, &after(spec, &now, &event, events)).to_vec();
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, damages_after);
    let spreads = spreads(&crank, &event, now.ground_m, request)?;
    let correlations = [FORGING_CORRELATION, FORGING_CORRELATION, 0.0];
    let lives = path.draw(&spreads, &correlations, request);
    let next = damages_after(1.0);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(spec, &now, &event, index, &by_point, &by_shock);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(next[index]),
            point_shares,
            shock_shares,
        }
    });
    let readings = Readings::new(&crank);
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: reading_paths(
            &readings,
            spec,
            &now,
            &event,
            &spreads,
            &request.ahead_events,
        ),
        notes: notes(spec, &now, &request.event, &by_point, &by_shock),
    })
}

/// Damage of each mechanism: 1 where half of such cranks have failed, or where the limit is reached.
fn damages(spec: &Spec, condition: &Condition) -> [f64; mechanism::COUNT] {
    [
        condition.fillet_damage(),
        condition.nose_damage,
        condition.journal_wear_m / spec.limit_journal_wear_m,
    ]
}

/// Spread of each mechanism: the rate asked for, widened by the scatter of strength, by what is not known of torsion and of the surface, times the
/// slope of the S-N line.
fn spreads(
    crank: &Crank<'_>,
    event: &Stretch,
    ground_m: f64,
    request: &ForecastRequest,
) -> Result<Vec<Spread>, Vec<Finding>> {
    let spec = crank.spec();
    let concentration = Crank::check_ground(spec, ground_m)?.concentration[0];
    let surface = Strength::surface_ln_sd(spec, concentration, ground_m);
    let torsion = spec.torsion_ln_sd;
    let site = worst_site(spec, event);
    let share = crank.full_load().state(0).site(site).torsion_share;
    let fillet = spec.strength_ln_sd.hypot(surface).hypot(share * torsion);
    let nose = spec.strength_ln_sd.hypot(torsion);
    let widening = [
        spec.sn_slope * fillet,
        spec.sn_slope * nose,
        spec.journal.wear_ln_sd.hypot(JOURNAL_LN_SD),
    ];
    let widened = request.rates.iter().zip(widening);
    Ok(widened
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect())
}

/// The fillet to which an event does most.
fn worst_site(spec: &Spec, event: &Stretch) -> usize {
    let fillets = 0..(2 * spec.throws()).min(event.damage.len());
    fillets
        .max_by(|a, b| event.damage[*a][0].total_cmp(&event.damage[*b][0]))
        .unwrap_or(0)
}

/// Shares of a mechanism's next damage by operating point and by over-revs.
fn split(
    spec: &Spec,
    now: &Condition,
    event: &Stretch,
    mechanism: usize,
    by_point: &[Added],
    by_shock: &[Added],
) -> (Vec<f64>, Vec<f64>) {
    let age_s = now.damper_age_s;
    let weights = damper_weights(spec, age_s, age_s + event.running_s);
    let site = match mechanism {
        mechanism::FILLET => worst_site(spec, event),
        _ => 2 * spec.throws(),
    };
    let amount = |added: &Added| -> f64 {
        if mechanism == mechanism::JOURNAL {
            return added.stretch.journal_wear_m;
        }
        let damage = added.stretch.damage.get(site).copied().unwrap_or_default();
        damage.iter().zip(weights).map(|(d, w)| d * w).sum()
    };
    point_and_shock_shares(by_point.iter().map(amount), by_shock.iter().map(amount))
}

/// 95 % quantile of the standard normal distribution.
const Z95: f64 = 1.644_853_626_951_472_7;

fn reading_paths(
    readings: &Readings<'_>,
    spec: &Spec,
    now: &Condition,
    event: &Stretch,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    let empty = |limit| ReadingPath {
        low: Vec::with_capacity(ahead.len()),
        median: Vec::with_capacity(ahead.len()),
        high: Vec::with_capacity(ahead.len()),
        limit,
    };
    let mut paths: Vec<ReadingPath> = readings.limits().into_iter().map(empty).collect();
    for events in ahead {
        let then = after(spec, now, event, *events);
        let at = |z: f64| readings.at(&then, spreads[mechanism::JOURNAL].at(z));
        let (one, median, other) = (at(-Z95), at(0.0), at(Z95));
        for (index, path) in paths.iter_mut().enumerate().take(reading::COUNT) {
            // The diameter falls as wear rises.
            path.low.push(one[index].min(other[index]));
            path.median.push(median[index]);
            path.high.push(one[index].max(other[index]));
        }
    }
    paths
}

fn notes(
    spec: &Spec,
    now: &Condition,
    event: &Duty,
    by_point: &[Added],
    by_shock: &[Added],
) -> Vec<Finding> {
    let mut notes = past_limits(&card::mechanisms(), &damages(spec, now));
    let off = by_point.iter().chain(by_shock);
    let off = off.filter(|added| added.outside).count();
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it are extrapolated in speed or load: treat their damage as a guess",
        ));
    }
    let aged = aged(spec, now.damper_age_s);
    if aged > 0.5 {
        notes.push(warning(
            "damper_aged_fraction",
            aged,
            "a damper aged by less than a half",
            "renew the damper, or measure its torsional vibration: an aged one lets the crank break",
        ));
    }
    if spec.fillet.case_depth_m > 0.0 && now.ground_m > 0.5 * spec.fillet.case_depth_m {
        notes.push(warning(
            "ground_depth_m",
            now.ground_m,
            &format!(
                "less than half the case depth of {} m",
                spec.fillet.case_depth_m
            ),
            "nitride again after grinding, and crack check",
        ));
    }
    if now.runout_m > spec.limit_runout_m {
        notes.push(warning(
            "runout_m",
            now.runout_m,
            &format!("at most {} m", spec.limit_runout_m),
            "straighten only as the maker allows, else replace; crack check first",
        ));
    }
    notes.extend(standing_in(&card::duty(), event));
    notes
}
