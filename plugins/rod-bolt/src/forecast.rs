//! Forecasts: lives and risk, readings, and what the reader should know.

use ringland_plugin::{
    DutyNeed, Finding, ForecastRequest, LifeForecast, MechanismLife, Spread, check_request,
    past_limits, shares, standing_in, warning,
};

use crate::ahead::Ahead;
use crate::bolt::{damages, opening_load_n, opening_preload_n};
use crate::card::{self, mechanism};
use crate::condition::{Bolts, Condition, RecordLoads};
use crate::loads::BoltLoad;
use crate::readings;

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(
    bolts: &Bolts<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = Condition::read(&request.condition)?;
    let need = card::duty();
    let loads = bolts.loads(&need, &request.event)?;
    let event = loads.all();
    let next = bolts.after(&now, &event, loads.running_s);
    let rates: Vec<Spread> = request
        .rates
        .iter()
        .map(|rate| Spread::widened(rate, 0.0))
        .collect();
    let ahead = Ahead::new(bolts, &now, &next, &event);
    let lives = ahead.draw(&rates, request);
    let risks = ahead.risks(&rates);
    let shares = event_shares(&ahead, request, &loads);
    let mechanisms = lives.into_iter().zip(risks).zip(shares);
    Ok(LifeForecast {
        mechanisms: mechanisms
            .map(
                |((lives_events, risk), (point_shares, shock_shares))| MechanismLife {
                    lives_events,
                    risk_next_event: risk,
                    point_shares,
                    shock_shares,
                },
            )
            .collect(),
        readings: readings::paths(bolts, &now, &next, &event, &rates, &request.ahead_events),
        notes: notes(&ahead, &need, request, &event),
    })
}

/// Shares of what the event adds, by each point and by the over-revs, for each mechanism.
fn event_shares(
    ahead: &Ahead<'_>,
    request: &ForecastRequest,
    loads: &RecordLoads,
) -> [(Vec<f64>, Vec<f64>); mechanism::COUNT] {
    let (bolts, points) = (ahead.bolts, &loads.points);
    let all: Vec<BoltLoad> = points
        .iter()
        .chain(&loads.over_revs)
        .map(|load| load.unwrap_or_default())
        .collect();
    let split = |amounts: &[f64]| {
        let mut whole = amounts[..points.len()].to_vec();
        whole.push(amounts[points.len()..].iter().sum());
        let mut point_shares = shares(&whole);
        let shock_shares = point_shares.split_off(points.len());
        (point_shares, shock_shares)
    };
    let lowest = ahead.set.lowest(0.5);
    let preload_n = bolts.bolt(ahead.next, lowest).preload_n;
    let fatigue = damages(&bolts.rod, preload_n, &all, ahead.kept(lowest) > 0.0);
    // Opening and stretch come from the highest load alone, if it is higher than any before.
    let highest = |of: &dyn Fn(&BoltLoad) -> f64, before: f64| -> Vec<f64> {
        let most = all.iter().map(of).fold(before, f64::max);
        let adds = |load: &BoltLoad| f64::from(u8::from(most > before && of(load) >= most));
        all.iter().map(adds).collect()
    };
    let history = &ahead.now.history;
    let opened = highest(
        &|load| opening_load_n(&bolts.rod, load),
        history.opening_load_n,
    );
    let stretched = highest(&|load| load.peak_n[0], history.peak_load_n);
    let time = points.iter().zip(&request.event.time_s);
    let running = time.map(|(load, time_s)| load.map_or(0.0, |_| *time_s));
    let mut running: Vec<f64> = running.collect();
    running.resize(all.len(), 0.0);
    [
        split(&fatigue),
        split(&opened),
        split(&stretched),
        split(&running),
    ]
}

fn notes(
    ahead: &Ahead<'_>,
    need: &DutyNeed,
    request: &ForecastRequest,
    event: &[BoltLoad],
) -> Vec<Finding> {
    let bolts = ahead.bolts;
    let spec = &bolts.spec;
    let mut notes = standing_in(need, &request.event);
    let loosest_n = bolts.bolt(ahead.next, ahead.set.lowest(0.05)).preload_n;
    let opening_n = opening_preload_n(&bolts.rod, event);
    if loosest_n < opening_n {
        notes.push(warning(
            "least_preload_n",
            loosest_n.round(),
            &format!("more than {opening_n:.0} N in nineteen of twenty sets: below it the coming event opens the joint"),
            "measure the stretch of every bolt; tighten the loose ones by stretch, replace bolts that have run loose",
        ));
    }
    let limit_rad_s = spec.limit_over_redline * spec.redline_rad_s;
    let highest_rad_s = ahead.now.highest_speed_rad_s;
    if highest_rad_s > limit_rad_s {
        notes.push(warning(
            "highest_speed_rad_s",
            highest_rad_s,
            &format!("at most {limit_rad_s:.0} rad/s"),
            "replace the bolts: common practice after such an over-rev, no source",
        ));
    }
    let off = event.iter().filter(|load| load.extrapolated).count();
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it are extrapolated in speed or load: treat their loads as a guess",
        ));
    }
    notes.extend(past_limits(&card::mechanisms(), &ahead.median_damage()));
    notes
}
