//! Any duty, for property tests.

use std::marker::PhantomData;
use std::ops::Range;

use proptest::collection::vec;
use proptest::prelude::*;
use ringland_plugin::{Duty, Model};

use crate::Record;

/// Strategy for any duty record of a model: one to five operating points of some seconds to half an hour, the named channels anywhere within their
/// ranges, the others at the card's default.
///
/// ```text
/// AnyRecord::<ClutchPack>::new()
///     .channel("clutch_torque_n_m", 0.0..400.0)
///     .shock("launch", &[0.3..1.5, 5.0e3..4.0e4, 1.0e4..9.0e4], 3)
///     .strategy()
/// ```
pub struct AnyRecord<M> {
    channels: Vec<(String, Range<f64>)>,
    mates: Vec<(String, Range<f64>)>,
    /// Kind, a range for each field, most shocks of a record.
    shocks: Vec<(String, Vec<Range<f64>>, usize)>,
    /// Channel, ranges of range, mean and count.
    cycles: Vec<(String, [Range<f64>; 3])>,
    model: PhantomData<fn() -> M>,
}

impl<M: Model + 'static> Default for AnyRecord<M> {
    fn default() -> Self {
        Self::new()
    }
}

impl<M: Model + 'static> AnyRecord<M> {
    /// Operating points with every channel at the card's default.
    pub fn new() -> Self {
        Self {
            channels: Vec::new(),
            mates: Vec::new(),
            shocks: Vec::new(),
            cycles: Vec::new(),
            model: PhantomData,
        }
    }

    /// A channel within a range, drawn for each operating point. Given again, the later range holds.
    #[must_use]
    pub fn channel(mut self, name: &str, range: Range<f64>) -> Self {
        self.channels.push((name.into(), range));
        self
    }

    /// A mate's slot (`component_type.slot`) within a range.
    #[must_use]
    pub fn mate(mut self, slot: &str, range: Range<f64>) -> Self {
        self.mates.push((slot.into(), range));
        self
    }

    /// Up to `most` shocks of a kind, each field within its range, in the card's order.
    #[must_use]
    pub fn shock(mut self, kind: &str, fields: &[Range<f64>], most: usize) -> Self {
        self.shocks.push((kind.into(), fields.to_vec(), most));
        self
    }

    /// Up to four rows of counted cycles of a channel: range, mean and count within ranges.
    #[must_use]
    pub fn cycles(mut self, channel: &str, range_mean_count: [Range<f64>; 3]) -> Self {
        self.cycles.push((channel.into(), range_mean_count));
        self
    }

    /// The strategy.
    pub fn strategy(self) -> BoxedStrategy<Duty> {
        let ranges = |named: &[(String, Range<f64>)]| -> Vec<Range<f64>> {
            named.iter().map(|(_, range)| range.clone()).collect()
        };
        let point = (3.0..1800.0_f64, ranges(&self.channels));
        let shocks = self.shocks.iter();
        let shocks: Vec<_> = shocks
            .map(|(_, fields, most)| vec(fields.clone(), 0..=*most))
            .collect();
        let cycles: Vec<_> = self
            .cycles
            .iter()
            .map(|(_, ranges)| vec(ranges.clone(), 0..5))
            .collect();
        let drawn = (vec(point, 1..6), ranges(&self.mates), shocks, cycles);
        drawn
            .prop_map(move |(points, mates, shocks, cycles)| {
                let times_s: Vec<f64> = points.iter().map(|(time_s, _)| *time_s).collect();
                let mut record = Record::of::<M>(&times_s);
                for (index, (name, _)) in self.channels.iter().enumerate() {
                    let column: Vec<f64> = points.iter().map(|(_, values)| values[index]).collect();
                    record = record.column(name, &column);
                }
                for ((slot, _), value) in self.mates.iter().zip(&mates) {
                    record = record.mate(slot, *value);
                }
                for ((kind, _, _), rows) in self.shocks.iter().zip(&shocks) {
                    let rows: Vec<&[f64]> = rows.iter().map(Vec::as_slice).collect();
                    record = record.shocks(kind, &rows);
                }
                for ((channel, _), rows) in self.cycles.iter().zip(&cycles) {
                    record = record.cycles(channel, rows);
                }
                record.duty()
            })
            .boxed()
    }
}
