//! Drawn lives of a part of a unit, made independent of those of its other parts.

use super::shuffle;
use crate::predict::Drawn;
use std::cmp::Ordering;

/// Drawn lives, shuffled so that they are independent of those of other parts, and paired with those of the same part
/// in another case.
#[derive(Clone)]
pub(crate) struct Shuffled {
    pub(crate) events: Vec<f64>,
    /// Which mechanism comes first in each draw.
    pub(crate) first: Vec<usize>,
}

impl Shuffled {
    pub(crate) fn of(drawn: &Drawn) -> Self {
        let lives = &drawn.combined.lives;
        let order = shuffle::order(drawn.seed, lives.len());
        let mechanisms = &drawn.forecast.mechanisms;
        let life_by = |mechanism: usize, draw: usize| {
            let lives = mechanisms.get(mechanism).map(|m| &m.lives_events);
            lives
                .and_then(|lives| lives.get(draw))
                .copied()
                .unwrap_or(f64::INFINITY)
        };
        let first_of = |draw: usize| {
            let by_life = |one: &usize, other: &usize| -> Ordering {
                life_by(*one, draw).total_cmp(&life_by(*other, draw))
            };
            (0..mechanisms.len()).min_by(by_life).unwrap_or(0)
        };
        Self {
            events: order
                .iter()
                .filter_map(|draw| lives.get(*draw).copied())
                .collect(),
            first: order.iter().map(|draw| first_of(*draw)).collect(),
        }
    }
}
