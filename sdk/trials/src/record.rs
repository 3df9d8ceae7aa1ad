//! Duty records, by the names of the card.

use std::slice::from_ref;

use ringland_plugin::{Duty, DutyNeed, LoadCycles, Model, Table};

/// Writes a duty record by the names of a model's card.
///
/// ```text
/// Record::of::<ClutchPack>(&[600.0, 30.0])
///     .column("clutch_torque_n_m", &[200.0, 350.0])
///     .channel("oil_temp_k", 380.0)
///     .shock("launch", &[0.8, 2.0e4, 6.0e4])
///     .mate("flywheel.wear_m", 1.0e-5)
///     .duty()
/// ```
pub struct Record {
    need: DutyNeed,
    duty: Duty,
}

impl Record {
    /// Times at operating points \[s\], every channel at the card's default (0 where the card requires the channel), mates at
    /// theirs, no shocks, no counted cycles.
    pub fn of<M: Model>(times_s: &[f64]) -> Self {
        let need = M::card().duty;
        let column = |default_value| vec![default_value; times_s.len()];
        let no_cycles = LoadCycles {
            ranges: Vec::new(),
            means: Vec::new(),
            counts: Vec::new(),
        };
        let no_shocks = |fields: usize| Table {
            columns: vec![Vec::new(); fields],
        };
        let duty = Duty {
            duration_s: times_s.iter().fold(0.0, |sum, time_s| sum + time_s),
            time_s: times_s.to_vec(),
            points: need
                .channels
                .iter()
                .map(|c| column(c.default_value))
                .collect(),
            cycles: vec![no_cycles; need.cycles.len()],
            shocks: need
                .shocks
                .iter()
                .map(|s| no_shocks(s.fields.len()))
                .collect(),
            mates: need.mates.iter().map(|mate| mate.default_value).collect(),
        };
        Self { need, duty }
    }

    /// Takes up a record of this model to change it.
    pub fn edit<M: Model>(duty: &Duty) -> Self {
        Self {
            need: M::card().duty,
            duty: duty.clone(),
        }
    }

    /// A channel, value by value.
    #[must_use]
    pub fn column(mut self, channel: &str, values: &[f64]) -> Self {
        let names = self.need.channels.iter().map(|need| need.name.as_str());
        let index = position(names, channel);
        assert_eq!(values.len(), self.duty.time_s.len(), "values of {channel}");
        self.duty.points[index] = values.to_vec();
        self
    }

    /// A channel at one value throughout.
    #[must_use]
    pub fn channel(self, channel: &str, value: f64) -> Self {
        let column = vec![value; self.duty.time_s.len()];
        self.column(channel, &column)
    }

    /// One shock more, its fields in the card's order.
    #[must_use]
    pub fn shock(self, kind: &str, fields: &[f64]) -> Self {
        self.shocks(kind, from_ref(&fields))
    }

    /// More shocks of a kind, the fields of each in the card's order.
    #[must_use]
    pub fn shocks(mut self, kind: &str, rows: &[&[f64]]) -> Self {
        let kinds = self.need.shocks.iter().map(|need| need.kind.as_str());
        let columns = &mut self.duty.shocks[position(kinds, kind)].columns;
        for row in rows {
            assert_eq!(row.len(), columns.len(), "fields of {kind}");
            for (column, value) in columns.iter_mut().zip(*row) {
                column.push(*value);
            }
        }
        self
    }

    /// Counted cycles of a channel: range, mean and count of each.
    #[must_use]
    pub fn cycles(mut self, channel: &str, rows: &[[f64; 3]]) -> Self {
        let names = self.need.cycles.iter().map(String::as_str);
        let cycles = &mut self.duty.cycles[position(names, channel)];
        for [range, mean, count] in rows {
            cycles.ranges.push(*range);
            cycles.means.push(*mean);
            cycles.counts.push(*count);
        }
        self
    }

    /// A mate's slot, as `component_type.slot`.
    #[must_use]
    pub fn mate(mut self, slot: &str, value: f64) -> Self {
        let mates = self.need.mates.iter();
        let names: Vec<String> = mates
            .map(|m| format!("{}.{}", m.component_type, m.slot))
            .collect();
        let index = position(names.iter().map(String::as_str), slot);
        self.duty.mates[index] = value;
        self
    }

    /// The record.
    pub fn duty(self) -> Duty {
        self.duty
    }
}

fn position<'a>(mut names: impl Iterator<Item = &'a str>, wanted: &str) -> usize {
    let index = names.position(|name| name == wanted);
    index.unwrap_or_else(|| panic!("the card asks for no {wanted}"))
}

/// Shocks that go on for a while: half of one is one of half the duration. Any other (a launch, a shift) happens or does not.
const LASTING: [&str; 5] = [
    "over_rev",
    "oil_pressure_dip",
    "oil_overheat",
    "knock_burst",
    "start",
];

/// A share of a record: of its time, of its counted cycles, and of the duration of shocks that go on for a while. Shocks that happen at
/// once (a launch, a shift, an impact) stay as they are.
pub fn scaled<M: Model>(duty: &Duty, share: f64) -> Duty {
    let mut part = duty.clone();
    part.duration_s *= share;
    part.time_s.iter_mut().for_each(|time_s| *time_s *= share);
    for cycles in &mut part.cycles {
        cycles.counts.iter_mut().for_each(|count| *count *= share);
    }
    for (need, table) in M::card().duty.shocks.iter().zip(&mut part.shocks) {
        let duration = need.fields.iter().position(|field| field == "duration_s");
        let lasting = LASTING.contains(&need.kind.as_str());
        if let Some(column) = duration.filter(|_| lasting) {
            table.columns[column]
                .iter_mut()
                .for_each(|time_s| *time_s *= share);
        }
    }
    part
}

/// A record cut in two at a share (0 to 1) of its time: shocks that happen at once all fall into the first part.
pub fn cut<M: Model>(duty: &Duty, share: f64) -> [Duty; 2] {
    let mut rest = scaled::<M>(duty, 1.0 - share);
    for (need, table) in M::card().duty.shocks.iter().zip(&mut rest.shocks) {
        if !LASTING.contains(&need.kind.as_str()) {
            table.columns.iter_mut().for_each(Vec::clear);
        }
    }
    [scaled::<M>(duty, share), rest]
}
