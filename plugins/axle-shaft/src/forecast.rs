//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, Spread,
    check_request, multipliers, point_and_shock_shares, reading_paths,
};

use crate::card::mechanism;
use crate::condition::{Shaft, Stretch, read_row};
use crate::constants::{CORRELATIONS, RZ_PER_RA};
use crate::duty::ShaftUse;
use crate::notes::notes;
use crate::readings::{damages, limits, readings};
use crate::site::{Site, ZONES};
use crate::spec::{SITES, Spec};

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(shaft: &Shaft, request: &ForecastRequest) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = read_row(&request.condition)?;
    let used = shaft.read(&request.event)?;
    let event = shaft.stretch(&now, &used);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damages(shaft, &shaft.after(&now, &event, events)).to_vec()
    });
    let spreads = spreads(shaft, request);
    let lives = path.draw(&spreads, &CORRELATIONS, request);
    let next = shaft.after(&now, &event, 1.0);
    let then = damages(shaft, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&shaft.spec, &used, &event, &next, index);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(then[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: reading_paths(limits(&shaft.spec), &request.ahead_events, |events| {
            let then = shaft.after(&now, &event, events);
            QUANTILES.map(|z| readings(shaft, &then, &multipliers(&spreads, z)))
        }),
        notes: notes(shaft, (&now, &next), &used, request),
    })
}

/// The rates asked for, widened by the scatter of strength from shaft to shaft and by what is not known of the surfaces.
fn spreads(shaft: &Shaft, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &shaft.spec;
    let fatigue = |site: &Site| {
        let strength = spec.strength_scatter.hypot(roughness_ln_sd(spec, site));
        spec.slope * strength
    };
    let [spline, groove, shoulder] = &shaft.sites;
    let widening = [
        fatigue(spline),
        fatigue(groove),
        fatigue(shoulder),
        0.0,
        spec.wear_ln_sd,
    ];
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

/// Spread of ln(strength at the surface) by that of the roughness: the roughness factor is straight in lg(Rz).
fn roughness_ln_sd(spec: &Spec, site: &Site) -> f64 {
    if RZ_PER_RA * site.finish.ra_m <= 1.0e-6 {
        return 0.0; // smooth: the factor is 1
    }
    let steel = 0.22 / 3.0_f64.sqrt() * libm::log10(2.0 * spec.ultimate_strength_pa / 4.0e8);
    steel / std::f64::consts::LN_10 * site.finish.ra_ln_sd * spec.strength_pa / site.strength[0].1
}

/// Shares of a mechanism's next damage. Counted cycles have no operating point: points share what they do by time and torque, to the power that the
/// mechanism has of torque. The highest torque is shared by the points nearest to it.
fn split(
    spec: &Spec,
    used: &ShaftUse,
    event: &Stretch,
    next: &[f64],
    index: usize,
) -> (Vec<f64>, Vec<f64>) {
    let by_torque = |power: f64| -> Vec<f64> {
        let weigh = |(time_s, torque): &(f64, f64)| time_s * libm::pow(torque.abs(), power);
        let weights: Vec<f64> = used.points.iter().map(weigh).collect();
        ringland_plugin::shares(&weights)
    };
    match index {
        mechanism::TWIST => {
            let launched = used.launched.iter().fold(0.0, |most: f64, cycle| {
                most.max(cycle.mean_n_m + cycle.amplitude_n_m)
            });
            let set_by_launch =
                launched > 0.0 && launched >= used.highest_n_m.max(used.reverse_n_m);
            let hardest = held_n_m(used);
            let nearest = used.points.iter().map(|(time_s, torque)| {
                let at = *time_s > 0.0 && torque.abs() >= hardest && hardest > 0.0;
                f64::from(u8::from(at && !set_by_launch))
            });
            point_and_shock_shares(nearest, [f64::from(u8::from(set_by_launch))])
        }
        mechanism::WEAR => {
            let cycles = by_torque(2.0).into_iter().zip(&used.tilt_pa_m);
            let amounts = cycles.map(|(share, tilt)| tilt + share * used.torque_pa_m);
            point_and_shock_shares(amounts, [])
        }
        site => {
            let zone = leading_zone(next, site);
            let counted = event.counted[site][zone];
            let points = by_torque(spec.slope).into_iter();
            let launched = event.launched[site][zone];
            point_and_shock_shares(points.map(|share| share * counted), [launched])
        }
    }
}

/// Zone of a site that is ahead.
fn leading_zone(next: &[f64], site: usize) -> usize {
    debug_assert!(site < SITES, "a site");
    let surface = site * ZONES;
    usize::from(next[surface + 1] > next[surface])
}

/// Highest torque that an operating point holds, either way \[N·m\].
fn held_n_m(used: &ShaftUse) -> f64 {
    let held = used.points.iter().filter(|(time_s, _)| *time_s > 0.0);
    held.fold(0.0, |most: f64, (_, torque)| most.max(torque.abs()))
}
