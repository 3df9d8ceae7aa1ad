//! What the next event's wear or damage is due to, in words.

use crate::Driver;
use ringland_host::contract::{Card, DutyTable, MechanismLife, vocabulary::SHOCKS};
use std::collections::BTreeMap;

/// Most drivers of a mechanism.
const MOST: usize = 10;
const RPM_BAND: f64 = 500.0;
const TORQUE_BAND_N_M: f64 = 50.0;
const AXLE_TORQUE_BAND_N_M: f64 = 250.0;

/// A band of a channel: its number and how it reads.
type Band = (i64, String);

/// The shares of a mechanism's wear or damage, largest first.
pub(crate) fn drivers(card: &Card, event: &DutyTable, life: &MechanismLife) -> Vec<Driver> {
    let axes = axes_of(card, event);
    let mut bins: BTreeMap<Vec<i64>, (Vec<String>, f64, f64)> = BTreeMap::new();
    for (i, (share, time)) in life.point_shares.iter().zip(&event.time_s).enumerate() {
        let bands = axes
            .iter()
            .filter_map(|(column, band)| column.get(i).map(|v| band(*v)));
        let (numbers, words): (Vec<i64>, Vec<String>) = bands.unzip();
        let bin = bins.entry(numbers).or_insert_with(|| (words, 0.0, 0.0));
        bin.1 += share;
        bin.2 += time / event.duration_s;
    }
    let points = bins.into_values().map(|(words, share, time_share)| Driver {
        label: if words.is_empty() {
            "running".into()
        } else {
            words.join(", ")
        },
        share,
        time_share: Some(time_share),
    });
    let shocks = card
        .duty
        .shocks
        .iter()
        .zip(&life.shock_shares)
        .map(|(need, share)| {
            let known = SHOCKS.iter().find(|shock| shock.kind == need.kind);
            let label = known.map_or(need.kind.as_str(), |shock| shock.label);
            Driver {
                label: format!("shock: {label}"),
                share: *share,
                time_share: None,
            }
        });
    let mut drivers: Vec<Driver> = points
        .chain(shocks)
        .filter(|driver| driver.share > 0.0)
        .collect();
    // The sort is stable: equal shares stay in the order of the bands.
    drivers.sort_by(|a, b| b.share.total_cmp(&a.share));
    drivers.truncate(MOST);
    drivers
}

type Axis<'a> = (&'a [f64], fn(f64) -> Band);

/// What the points are told apart by: the gear where the model reads it, else the engine speed; and
/// a torque where the event has one.
fn axes_of<'a>(card: &Card, event: &'a DutyTable) -> Vec<Axis<'a>> {
    let reads = |channel: &str| card.duty.channels.iter().any(|need| need.name == channel);
    let axis =
        |channel: &str, band: fn(f64) -> Band| event.column(channel).map(|column| (column, band));
    let gear = if reads("gear") {
        axis("gear", gear_band)
    } else {
        None
    };
    let speed = gear.or_else(|| axis("engine_speed_rad_s", speed_band));
    let torque = if reads("axle_torque_n_m") {
        axis("axle_torque_n_m", axle_torque_band)
    } else {
        axis("engine_torque_n_m", torque_band)
    };
    speed.into_iter().chain(torque).collect()
}

fn gear_band(gear: f64) -> Band {
    let number = gear.round() as i64;
    let words = match number {
        0 => "neutral".into(),
        ..0 => "reverse".into(),
        number => format!("gear {number}"),
    };
    (number, words)
}

fn speed_band(speed_rad_s: f64) -> Band {
    let (number, from) = band(speed_rad_s * 60.0 / std::f64::consts::TAU, RPM_BAND);
    (number, format!("{from:.0}-{:.0} rpm", from + RPM_BAND))
}

fn torque_band(torque_n_m: f64) -> Band {
    let (number, from) = band(torque_n_m, TORQUE_BAND_N_M);
    (
        number,
        format!("{from:.0} to {:.0} N.m", from + TORQUE_BAND_N_M),
    )
}

fn axle_torque_band(torque_n_m: f64) -> Band {
    let (number, from) = band(torque_n_m, AXLE_TORQUE_BAND_N_M);
    (
        number,
        format!(
            "{from:.0} to {:.0} N.m at the axle",
            from + AXLE_TORQUE_BAND_N_M
        ),
    )
}

fn band(value: f64, width: f64) -> (i64, f64) {
    // A cell's mean may miss its own edge by rounding only.
    let number = (value / width + 1e-9).floor();
    (number as i64, number * width)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_read_in_rpm_and_newton_metres() {
        let rpm = |rpm: f64| speed_band(rpm * std::f64::consts::TAU / 60.0).1;
        assert_eq!(rpm(7000.0), "7000-7500 rpm");
        assert_eq!(rpm(7499.0), "7000-7500 rpm");
        assert_eq!(torque_band(-20.0).1, "-50 to 0 N.m");
        assert_eq!(gear_band(3.0).1, "gear 3");
        assert_eq!(gear_band(-1.0).1, "reverse");
    }
}
