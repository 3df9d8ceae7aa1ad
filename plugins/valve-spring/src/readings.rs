//! Readings from a condition, with their spread.

use ringland_engine::valvetrain::LOAD_SHARES;
use ringland_plugin::{QUANTILES, ReadingPath, Spread};

use crate::card::{reading, slot};
use crate::condition::{Springs, Stretch};
use crate::constants::{HEAT_LN_SD, STRESS_LN_SD};

/// Readings over events to come: `ahead` asks for the condition so many events from now, at rising or falling times alike.
pub fn paths(
    springs: &Springs<'_>,
    event: &Stretch,
    loss_rate: &Spread,
    ahead: &[f64],
    mut at: impl FnMut(f64) -> Vec<f64>,
) -> Vec<ReadingPath> {
    let path = |limit| ReadingPath {
        low: Vec::with_capacity(ahead.len()),
        median: Vec::with_capacity(ahead.len()),
        high: Vec::with_capacity(ahead.len()),
        limit,
    };
    let mut paths: Vec<ReadingPath> = limits(springs, event).into_iter().map(path).collect();
    for events in ahead {
        let values = readings(springs, event, loss_rate, &at(*events));
        for (path, [low, median, high]) in paths.iter_mut().zip(values) {
            path.low.push(low);
            path.median.push(median);
            path.high.push(high);
        }
    }
    paths
}

/// Readings at a condition: 5 %, 50 % and 95 % quantiles.
fn readings(
    springs: &Springs<'_>,
    event: &Stretch,
    loss_rate: &Spread,
    row: &[f64],
) -> [[f64; 3]; reading::COUNT] {
    let spec = &springs.spec;
    let spring = &spec.train.spring;
    let about = |median: f64, ln_sd: f64| QUANTILES.map(|z| median * libm::exp(z * ln_sd));
    let lost = |lost: f64| QUANTILES.map(|z| lost * loss_rate.at(z));
    let seat_n = spec.train.seat_load_n;
    let [least, median, most] = lost(springs.lost_n(row, event.taller_m));
    let hertz = spring.natural_frequency_rad_s() / std::f64::consts::TAU;
    let mut values = [[0.0; 3]; reading::COUNT];
    values[reading::SEAT_LOAD] = [most, median, least].map(|n| (seat_n - n).max(0.0));
    values[reading::FREE_LENGTH_LOSS] =
        lost(spec.relaxed_n(row[slot::REDUCED_TIME]) / spring.rate_n_m());
    values[reading::COIL_GAP] = [coil_gap_m(springs, row); 3];
    values[reading::HIGHEST_STRESS] = about(row[slot::HIGHEST_STRESS], STRESS_LN_SD);
    values[reading::TEMP_RISE] = about(event.rise_k, HEAT_LN_SD);
    values[reading::FLOAT_LOAD] = about(float_load_n(springs, event), STRESS_LN_SD);
    values[reading::NATURAL_FREQUENCY] = [hertz; 3];
    values
}

/// Least gap between two coils so far \[m\]; below 0 they have met.
pub fn coil_gap_m(springs: &Springs<'_>, row: &[f64]) -> f64 {
    let spec = &springs.spec;
    let spring = &spec.train.spring;
    let shims_m = row[slot::REGAINED] / spring.rate_n_m();
    let room_m = spec.coil_clearance_m + spec.train.lift.largest_m() - shims_m;
    (room_m - row[slot::CLOSURE]) / spring.active_coils
}

/// Seat load \[N\] at which the valve floats at one of an event's speeds, without those at which it does as built; the lowest of the map where it does not
/// within it.
pub fn float_load_n(springs: &Springs<'_>, event: &Stretch) -> f64 {
    let lost = event.float_loss.min(LOAD_SHARES[0] - LOAD_SHARES[1]);
    springs.spec.train.seat_load_n * (1.0 - lost)
}

/// Load \[N\] that the spring may lose.
pub fn allowed_n(springs: &Springs<'_>, event: &Stretch) -> f64 {
    let spec = &springs.spec;
    spec.train.seat_load_n * spec.limit_seat_load_loss_fraction.min(event.float_loss)
}

/// Reject values.
fn limits(springs: &Springs<'_>, event: &Stretch) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::SEAT_LOAD] = Some(springs.spec.train.seat_load_n - allowed_n(springs, event));
    limits
}
