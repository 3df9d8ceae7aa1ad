//! Load cycles of the channels that the vocabulary counts.

use ringland_host::contract::vocabulary::Channel;
use ringland_host::contract::{DutyCycles, LoadCycles};
use ringland_mechanics::counting::{Rainflow, RangeMeanHistogram};

/// Open reversals kept at most; beyond, the oldest range is counted as a half cycle.
const RESIDUE: usize = 1000;
/// Classes of range and mean at most; beyond, they double in width.
const CLASSES: usize = 2000;

/// The count of one channel.
#[derive(Debug)]
pub(crate) struct Cycles {
    channel: &'static Channel,
    /// Where its values stand in a row.
    pub position: usize,
    rainflow: Rainflow,
    histogram: RangeMeanHistogram,
}

impl Cycles {
    pub fn new(channel: &'static Channel, position: usize) -> Self {
        // Without a cell width of its own, a thousandth of the plausible range.
        let width = channel
            .cell
            .unwrap_or((channel.maximum - channel.minimum) / 1000.0);
        Self {
            channel,
            position,
            rainflow: Rainflow::with_residue_limit(RESIDUE),
            histogram: RangeMeanHistogram::new(width, CLASSES),
        }
    }

    /// Takes a fresh sample. One that is not finite is not counted; tracks let none through.
    pub fn push(&mut self, value: f64) {
        let histogram = &mut self.histogram;
        let taken = self.rainflow.push(value, &mut |cycle| histogram.add(cycle));
        debug_assert!(taken.is_ok(), "a track let {value} through");
    }

    /// Numbers kept.
    pub fn len(&self) -> usize {
        self.rainflow.residue().len() + 5 * self.histogram.classes().len()
    }

    pub fn finish(mut self) -> DutyCycles {
        self.rainflow.finish(&mut |cycle| self.histogram.add(cycle));
        let mut cycles = LoadCycles::default();
        for class in self.histogram.classes() {
            cycles.ranges.push(class.range);
            cycles.means.push(class.mean);
            cycles.counts.push(class.count);
        }
        DutyCycles {
            channel: self.channel.name.to_owned(),
            cycles,
        }
    }
}
