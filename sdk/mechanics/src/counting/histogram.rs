//! Cycles gathered by range and mean, in bounded memory.

use super::Cycle;
use std::collections::BTreeMap;

/// Cycles by class of range and mean. Each class keeps the count-weighted means of the ranges and
/// means within it, so that what the class width costs a damage sum is of second order.
///
/// When there would be more than `limit` classes, both widths double and neighbours are merged; the
/// outcome depends on the cycles and their order alone.
#[derive(Clone, Debug, PartialEq)]
pub struct RangeMeanHistogram {
    width: f64,
    limit: usize,
    classes: BTreeMap<(i64, i64), Sums>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Sums {
    count: f64,
    range: f64,
    mean: f64,
}

/// The content of a class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CycleClass {
    /// Mean of the ranges, weighted by count.
    pub range: f64,
    /// Mean of the means, weighted by count.
    pub mean: f64,
    /// Cycles; halves occur.
    pub count: f64,
}

impl RangeMeanHistogram {
    /// Without cycles. `width` (above 0, unit of the history) is the width of a class over range and
    /// over mean; `limit` is the largest number of classes, at least 16.
    ///
    /// A width that is not a positive number is taken as 1.
    pub fn new(width: f64, limit: usize) -> Self {
        let positive = width.is_finite() && width > 0.0;
        Self {
            width: if positive { width } else { 1.0 },
            limit: limit.max(16),
            classes: BTreeMap::new(),
        }
    }

    /// Adds a cycle. Cycles of range 0 do no damage and are left out.
    pub fn add(&mut self, cycle: Cycle) {
        if cycle.range > 0.0 && cycle.count > 0.0 {
            let class = (
                (cycle.range / self.width).floor() as i64,
                (cycle.mean / self.width).floor() as i64,
            );
            let sums = self.classes.entry(class).or_default();
            sums.count += cycle.count;
            sums.range += cycle.count * cycle.range;
            sums.mean += cycle.count * cycle.mean;
            while self.classes.len() > self.limit {
                self.coarsen();
            }
        }
    }

    /// The present width of a class.
    pub fn width(&self) -> f64 {
        self.width
    }

    /// Non-empty classes, by rising range, then mean.
    pub fn classes(&self) -> impl ExactSizeIterator<Item = CycleClass> + '_ {
        self.classes.values().map(|sums| CycleClass {
            range: sums.range / sums.count,
            mean: sums.mean / sums.count,
            count: sums.count,
        })
    }

    fn coarsen(&mut self) {
        self.width *= 2.0;
        for ((range, mean), fine) in std::mem::take(&mut self.classes) {
            let class = (range.div_euclid(2), mean.div_euclid(2));
            let sums = self.classes.entry(class).or_default();
            sums.count += fine.count;
            sums.range += fine.range;
            sums.mean += fine.mean;
        }
    }
}
