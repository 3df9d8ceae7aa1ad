//! Events until the surfaces are seated.

use super::paired::Range;
use crate::{BoundedQuantiles, SeatingTime};
use ringland_host::contract::{Card, ReadingPath};

/// The reading that tells the seated share of a surface.
const READING: &str = "seating_fraction";
/// Share from which a surface counts as seated: common practice, no source.
const SEATED: f64 = 0.95;
/// First point of the grid; seating is a matter of a share of an event.
const FIRST_EVENTS: f64 = 1.0 / 256.0;
/// Points for each doubling of the events.
const POINTS_PER_DOUBLING: f64 = 4.0;

fn index_of(card: &Card) -> Option<usize> {
    card.readings.iter().position(|field| field.name == READING)
}

/// The times asked for, and for a card that tells the seated share a grid on which it can be followed.
pub(super) fn with_grid(card: &Card, asked: &[f64], horizon_events: f64) -> Vec<f64> {
    let mut ahead = asked.to_vec();
    if index_of(card).is_some() {
        let step = libm::exp2(1.0 / POINTS_PER_DOUBLING);
        let grid = std::iter::successors(Some(FIRST_EVENTS), |at| Some(at * step));
        ahead.extend(grid.take_while(|at| *at < horizon_events));
        ahead.push(horizon_events);
    }
    ahead.sort_by(f64::total_cmp);
    ahead.dedup();
    ahead
}

/// When the seated share of a forecast reaches 0.95, from its readings at `ahead`.
pub(super) fn seating(card: &Card, paths: &[ReadingPath], ahead: &[f64]) -> Option<SeatingTime> {
    let path = paths.get(index_of(card)?)?;
    let reached = |values: &[f64]| reached(values, ahead).bounds();
    Some(SeatingTime {
        fraction_now: path.median.first().copied()?,
        // Who seats fast has a high share early.
        events: BoundedQuantiles {
            p05: reached(&path.high),
            p50: reached(&path.median),
            p95: reached(&path.low),
        },
    })
}

/// Events at which a rising share is 0.95. What is left to seat falls about exponentially, so it is the logarithm of
/// that which is linear between two points.
fn reached(shares: &[f64], ahead: &[f64]) -> Range {
    let left = |share: f64| libm::log((1.0 - share).max(f64::MIN_POSITIVE));
    let goal = left(SEATED);
    let Some(after) = shares.iter().position(|share| *share >= SEATED) else {
        let low = ahead.last().copied().unwrap_or(0.0);
        return Range {
            low,
            high: f64::INFINITY,
        };
    };
    let at = |index: usize| ahead.get(index).copied().unwrap_or(0.0);
    let Some(before) = after.checked_sub(1) else {
        return Range::known(at(after));
    };
    let share = |index: usize| left(shares.get(index).copied().unwrap_or(0.0));
    let part = (goal - share(before)) / (share(after) - share(before));
    Range::known(at(before) + part * (at(after) - at(before)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 - exp(-x/x0) reaches 0.95 at x0 ln 20 (closed form).
    #[test]
    fn an_exponential_is_followed_exactly() {
        for x0 in [0.03, 0.7, 12.0] {
            let ahead: Vec<f64> = (0..60).map(|i| f64::from(i) * 0.9).collect();
            let shares: Vec<f64> = ahead.iter().map(|x| 1.0 - (-x / x0).exp()).collect();
            let found = reached(&shares, &ahead);
            let exact = x0 * 20.0_f64.ln();
            assert!(
                (found.low - exact).abs() < 1e-2 * exact,
                "{found:?} {exact}"
            );
        }
    }

    #[test]
    fn what_is_seated_is_and_what_never_seats_takes_at_least_the_horizon() {
        assert_eq!(reached(&[0.96, 0.99], &[0.0, 1.0]), Range::known(0.0));
        let never = reached(&[0.1, 0.5], &[0.0, 200.0]).bounds();
        assert_eq!((never.at_least, never.at_most), (Some(200.0), None));
    }
}
