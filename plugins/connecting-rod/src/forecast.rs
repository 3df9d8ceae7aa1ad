//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, ReadingPath, Spread,
    check_request, check_row, point_and_shock_shares, standing_in, warning,
};

use crate::card::{self, reading, slot};
use crate::condition::{Added, Model, Stretch, after};
use crate::constants::{RZ_PER_RA, SITE_CORRELATION};
use crate::cycle_damage::ZONES;
use crate::operating_map::full_load;
use crate::readings;
use crate::relaxation::weights;
use crate::spec::{SITES, Site, Spec};

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(
    model: &Model<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(SITES, request)?;
    check_row(&card::condition(), &request.condition)?;
    let now = &request.condition;
    let (points, over_revs) = model.added(&request.event)?;
    let event = Stretch::of(points.iter().chain(&over_revs));
    let at = |events: f64| damages(&after(now, &event, events)).to_vec();
    let path = DamagePath::new(SITES, request.horizon_events, at);
    let spreads = spreads(&model.spec, request);
    let lives = path.draw(&spreads, &[SITE_CORRELATION; SITES], request);
    let next = after(now, &event, 1.0);
    let then = damages(&next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&points, &over_revs, index, now, &next);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(then[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, now, &event, &request.ahead_events),
        notes: notes(
            model,
            &next,
            &request.event,
            points.iter().chain(&over_revs),
            now,
        ),
    })
}

/// Damage of each site: of its surface or below it, whichever is ahead.
pub fn damages(row: &[f64]) -> [f64; SITES] {
    std::array::from_fn(|index| row[index * ZONES].max(row[index * ZONES + 1]))
}

/// The rates asked for, widened by the scatter of strength from rod to rod and by what is not known of the roughness.
fn spreads(spec: &Spec, request: &ForecastRequest) -> Vec<Spread> {
    let widened = request.rates.iter().zip(&spec.sites);
    widened
        .map(|(rate, site)| {
            let strength = spec.strength_scatter.hypot(roughness_ln_sd(spec, site));
            Spread::widened(rate, spec.slope * strength)
        })
        .collect()
}

/// Spread of ln(strength at the surface) by that of the roughness: the roughness factor is straight in lg(Rz).
fn roughness_ln_sd(spec: &Spec, site: &Site) -> f64 {
    let rough_pa = site.strength[0].1;
    if RZ_PER_RA * site.ra_m <= 1.0e-6 {
        return 0.0; // smooth: the factor is 1
    }
    let steel = 0.22 * libm::log10(2.0 * spec.ultimate_strength_pa / 4.0e8);
    steel / std::f64::consts::LN_10 * site.ra_ln_sd * spec.strength_pa / rough_pa
}

/// Shares of an event's damage at a site, where it is ahead.
fn split(
    points: &[Added],
    over_revs: &[Added],
    index: usize,
    now: &[f64],
    next: &[f64],
) -> (Vec<f64>, Vec<f64>) {
    let surface = index * ZONES;
    let row = if next[surface] >= next[surface + 1] {
        surface
    } else {
        surface + 1
    };
    let weights = weights(now[slot::CYCLES], next[slot::CYCLES] - now[slot::CYCLES]);
    let amount = |added: &Added| {
        let nodes = added.each.damage[row].iter().zip(&weights);
        added.cycles * nodes.map(|(damage, weight)| damage * weight).sum::<f64>()
    };
    point_and_shock_shares(points.iter().map(amount), over_revs.iter().map(amount))
}

fn paths(model: &Model<'_>, now: &[f64], event: &Stretch, ahead: &[f64]) -> Vec<ReadingPath> {
    let mut paths = readings::empty_paths(model, ahead.len());
    let full = full_load(&model.spec, &model.map);
    for events in ahead {
        let values = readings::readings(model, full, &after(now, event, *events));
        for (path, [low, median, high]) in paths.iter_mut().zip(values) {
            path.low.push(low);
            path.median.push(median);
            path.high.push(high);
        }
    }
    paths
}

fn notes<'a>(
    model: &Model<'_>,
    next: &[f64],
    event: &Duty,
    blocks: impl Iterator<Item = &'a Added>,
    now: &[f64],
) -> Vec<Finding> {
    let mut notes = Vec::new();
    let off = blocks
        .filter(|added| added.each.extrapolated && added.cycles > 0.0)
        .count();
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it are extrapolated, and held further out: their damage is a guess on the low side",
        ));
    }
    let limits = readings::limits(model);
    let margin = readings::margin(model, next[slot::COMPRESSION]);
    if let Some(least) = limits[reading::BUCKLING_MARGIN]
        && margin < least
    {
        let expected = format!("at least {least}");
        let remedy = if margin < 1.0 {
            "the computed compression bends this rod: measure bend and length, scrap it if either changed"
        } else {
            "find the cause (knock, boost) or fit a stouter rod"
        };
        notes.push(warning("buckling_margin", margin, &expected, remedy));
    }
    if let Some(most) = limits[reading::HIGHEST_SPEED]
        && next[slot::SPEED] > most
    {
        let expected = format!("at most {most} rad/s, the rod maker's limit");
        let remedy = "follow the rod maker: replace, or crack check before it runs again";
        notes.push(warning(
            "highest_speed_rad_s",
            next[slot::SPEED],
            &expected,
            remedy,
        ));
    }
    notes.extend(standing_in(&card::duty(), event));
    for (mechanism, damage) in card::mechanisms().iter().zip(damages(now)) {
        if damage >= 1.0 {
            let remedy = "half of such rods have cracked: take it out of service; a clean crack check does not give life back";
            notes.push(warning(&mechanism.name, damage, "a damage below 1", remedy));
        }
    }
    notes
}
