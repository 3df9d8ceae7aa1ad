//! Parts of a forecast that every model puts together alike: readings ahead with their quantiles, and shares of the next event.

use crate::contract::ReadingPath;
use crate::{Spread, shares};

/// Standard normal draws of the quantiles of a reading: 5 %, 50 %, 95 %.
pub const QUANTILES: [f64; 3] = [-1.644_853_626_951_472_7, 0.0, 1.644_853_626_951_472_7];

/// Multipliers of the mechanisms at one standard normal draw; 1 where there is no spread for one.
pub fn multipliers<const MECHANISMS: usize>(spreads: &[Spread], z: f64) -> [f64; MECHANISMS] {
    let mut multipliers = [1.0; MECHANISMS];
    for (multiplier, spread) in multipliers.iter_mut().zip(spreads) {
        *multiplier = spread.at(z);
    }
    multipliers
}

/// Readings at each of the events ahead. `at` gives all of them after so many events at the draws of [`QUANTILES`]; where a reading falls as a
/// rate rises, its outer two are put in order.
pub fn reading_paths<const READINGS: usize>(
    limits: [Option<f64>; READINGS],
    ahead_events: &[f64],
    mut at: impl FnMut(f64) -> [[f64; READINGS]; 3],
) -> Vec<ReadingPath> {
    let empty = |limit| ReadingPath {
        low: Vec::with_capacity(ahead_events.len()),
        median: Vec::with_capacity(ahead_events.len()),
        high: Vec::with_capacity(ahead_events.len()),
        limit,
    };
    let mut paths: Vec<ReadingPath> = limits.into_iter().map(empty).collect();
    for events in ahead_events {
        let [one, median, other] = at(*events);
        for (index, path) in paths.iter_mut().enumerate() {
            path.low
                .push(one[index].min(other[index]).min(median[index]));
            path.median.push(median[index]);
            path.high
                .push(one[index].max(other[index]).max(median[index]));
        }
    }
    paths
}

/// Shares of what each operating point adds, then of what all shocks of one kind add together.
pub fn point_and_shock_shares(
    points: impl IntoIterator<Item = f64>,
    shocks: impl IntoIterator<Item = f64>,
) -> (Vec<f64>, Vec<f64>) {
    let mut amounts: Vec<f64> = points.into_iter().collect();
    let count = amounts.len();
    // From 0: the sum of nothing would be -0.
    amounts.push(shocks.into_iter().fold(0.0, |sum, amount| sum + amount));
    let mut point_shares = shares(&amounts);
    let shock_shares = point_shares.split_off(count);
    (point_shares, shock_shares)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_are_in_order_whichever_way_a_reading_goes() {
        let spread = Spread {
            ln_mean: 0.0,
            ln_sd: 0.5,
        };
        let paths = reading_paths([None, Some(3.0)], &[0.0, 2.0], |events| {
            QUANTILES.map(|z| {
                let [rate] = multipliers(&[spread], z);
                [events * rate, 9.0 - events * rate]
            })
        });
        let rate = spread.at(QUANTILES[2]);
        assert_eq!(paths[0].high, [0.0, 2.0 * rate]);
        assert_eq!(paths[1].low, [9.0, 9.0 - 2.0 * rate]);
        assert_eq!(paths[1].median, [9.0, 7.0]);
        assert_eq!((paths[0].limit, paths[1].limit), (None, Some(3.0)));
        assert_eq!(multipliers::<2>(&[spread], 0.0).to_vec(), [1.0, 1.0]);
    }

    #[test]
    fn shares_add_up_and_those_of_nothing_are_nothing() {
        let (points, shocks) = point_and_shock_shares([1.0, 2.0], [0.5, 0.5]);
        assert_eq!((points, shocks), (vec![0.25, 0.5], vec![0.25]));
        let (points, shocks) = point_and_shock_shares([], []);
        assert!(points.is_empty() && shocks[0].to_bits() == 0.0_f64.to_bits());
    }
}
