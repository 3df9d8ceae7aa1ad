//! Time at operating points: a sparse histogram over the channels that the vocabulary bins.

use ringland_host::contract::vocabulary::Channel;
use std::collections::BTreeMap;

/// Cells are centred on multiples of their width. Each keeps its time and the time-weighted mean of every
/// channel, so that what the width costs is of second order. With more than `limit` cells, the channel with
/// the most distinct cells has its width doubled.
#[derive(Debug)]
pub(crate) struct Points {
    channels: Vec<&'static Channel>,
    /// Which channels make the cells.
    axes: Vec<Axis>,
    cells: BTreeMap<Vec<i32>, Cell>,
    key: Vec<i32>,
    limit: usize,
}

#[derive(Debug)]
struct Axis {
    channel: usize,
    width: f64,
    /// How often the width was doubled.
    doubled: u32,
}

#[derive(Clone, Debug)]
struct Cell {
    time_s: f64,
    /// For each channel, its integral over the time for which it was known, and that time.
    integrals: Vec<(f64, f64)>,
}

/// Columns of the operating points.
pub(crate) struct Columns {
    pub time_s: Vec<f64>,
    /// For each channel.
    pub means: Vec<Vec<f64>>,
}

impl Points {
    pub fn new(channels: Vec<&'static Channel>, limit: usize) -> Self {
        let axis = |(channel, described): (usize, &&'static Channel)| {
            described.cell.map(|width| Axis {
                channel,
                width,
                doubled: 0,
            })
        };
        let axes = channels.iter().enumerate().filter_map(axis).collect();
        Self {
            channels,
            axes,
            cells: BTreeMap::new(),
            key: Vec::new(),
            limit,
        }
    }

    /// The first channel that makes cells and is unknown here.
    pub fn unknown(&self, values: &[f64]) -> Option<usize> {
        let unknown = |axis: &&Axis| values.get(axis.channel).is_none_or(|value| value.is_nan());
        self.axes.iter().find(unknown).map(|axis| axis.channel)
    }

    /// Adds time at the values of a row, of which those that make cells are known.
    pub fn add(&mut self, values: &[f64], time_s: f64) {
        if time_s <= 0.0 {
            return;
        }
        self.key.clear();
        for axis in &self.axes {
            let value = values.get(axis.channel).copied().unwrap_or(f64::NAN);
            self.key
                .push(((value / axis.width + 0.5).floor() as i32) >> axis.doubled);
        }
        if let Some(cell) = self.cells.get_mut(&self.key) {
            cell.add(values, time_s);
            return;
        }
        let mut cell = Cell {
            time_s: 0.0,
            integrals: vec![(0.0, 0.0); values.len()],
        };
        cell.add(values, time_s);
        self.cells.insert(self.key.clone(), cell);
        while self.cells.len() > self.limit && self.coarsen() {}
    }

    pub fn len(&self) -> usize {
        self.cells.len()
    }

    /// Channels whose cells had to be widened, with their width now.
    pub fn widened(&self) -> impl Iterator<Item = (&'static Channel, f64)> {
        let widened = self.axes.iter().filter(|axis| axis.doubled > 0);
        widened.filter_map(|axis| {
            let channel = self.channels.get(axis.channel)?;
            Some((*channel, axis.width * f64::from(2_u32.pow(axis.doubled))))
        })
    }

    /// Operating points in the order of their cells. A channel that was never known in a cell takes its mean
    /// over the whole log there.
    pub fn columns(&self) -> Columns {
        let mean = |channel: usize| {
            let sums = self
                .cells
                .values()
                .filter_map(|cell| cell.integrals.get(channel));
            let (integral, time) = sums.fold((0.0, 0.0), |(i, t), (di, dt)| (i + di, t + dt));
            if time > 0.0 {
                integral / time
            } else {
                f64::NAN
            }
        };
        let column = |channel: usize| {
            let overall = mean(channel);
            let value = |cell: &Cell| match cell.integrals.get(channel) {
                Some((integral, time)) if *time > 0.0 => integral / time,
                _ => overall,
            };
            self.cells.values().map(value).collect()
        };
        Columns {
            time_s: self.cells.values().map(|cell| cell.time_s).collect(),
            means: (0..self.channels.len()).map(column).collect(),
        }
    }

    /// Doubles the width of the channel with the most distinct cells, and merges neighbours. False when no
    /// channel has more than one. A gear is never merged with another.
    fn coarsen(&mut self) -> bool {
        let distinct = |position: usize| {
            let mut seen: Vec<i32> = self
                .cells
                .keys()
                .filter_map(|key| key.get(position).copied())
                .collect();
            seen.sort_unstable();
            seen.dedup();
            seen.len()
        };
        let whole = |axis: &Axis| {
            self.channels
                .get(axis.channel)
                .is_some_and(|c| c.name == "gear")
        };
        let candidates = self
            .axes
            .iter()
            .enumerate()
            .filter(|(_, axis)| !whole(axis));
        // The later of equals would win: the first shall.
        let counted = candidates
            .map(|(position, _)| (distinct(position), position))
            .rev();
        let Some((cells, position)) = counted.max_by_key(|(cells, _)| *cells) else {
            return false;
        };
        let Some(axis) = self
            .axes
            .get_mut(position)
            .filter(|axis| cells > 1 && axis.doubled < 31)
        else {
            return false;
        };
        axis.doubled += 1;
        for (mut key, fine) in std::mem::take(&mut self.cells) {
            if let Some(index) = key.get_mut(position) {
                *index >>= 1;
            }
            match self.cells.get_mut(&key) {
                Some(cell) => cell.merge(&fine),
                None => {
                    self.cells.insert(key, fine);
                }
            }
        }
        true
    }
}

impl Cell {
    fn add(&mut self, values: &[f64], time_s: f64) {
        self.time_s += time_s;
        for ((integral, known_s), value) in self.integrals.iter_mut().zip(values) {
            if !value.is_nan() {
                *integral += value * time_s;
                *known_s += time_s;
            }
        }
    }

    fn merge(&mut self, other: &Self) {
        self.time_s += other.time_s;
        for (own, others) in self.integrals.iter_mut().zip(&other.integrals) {
            own.0 += others.0;
            own.1 += others.1;
        }
    }
}
