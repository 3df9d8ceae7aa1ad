//! Shocks: short events that a histogram would hide. One file for each kind, or for two that are told apart only at
//! the end.

mod clutch;
mod exceedance;
mod impact;
mod knock_burst;
mod oil_overheat;
mod oil_pressure_dip;
mod over_rev;
mod shift;
mod spell;
mod start;

use crate::finding::{Refusal, error, warning};
use crate::limits::ShockThresholds;
use ringland_host::contract::vocabulary::SHOCKS;
use ringland_host::contract::{DutyShocks, Finding};

/// A shock found: its kind and the values of its fields.
pub(crate) struct Found {
    pub kind: &'static str,
    pub fields: Vec<f64>,
}

/// Looks for one kind of shock, row by row.
pub(crate) trait Detector: Send {
    /// Takes the values that hold from `time_s` on (NaN where unknown).
    fn row(&mut self, time_s: f64, values: &[f64]) -> Option<Found>;
    /// The log stops here, for a gap or for good.
    fn stop(&mut self, time_s: f64) -> Option<Found>;
}

/// Where channels stand in a row.
pub(crate) struct Layout<'a> {
    pub channels: Vec<&'static str>,
    pub thresholds: &'a ShockThresholds,
}

impl Layout<'_> {
    fn find(&self, channel: &str) -> Option<usize> {
        self.channels.iter().position(|name| *name == channel)
    }

    fn need(&self, channel: &'static str) -> Result<usize, Missing> {
        self.find(channel).ok_or(Missing::Channel(channel))
    }
}

/// Why a kind is not looked for.
pub(crate) enum Missing {
    Channel(&'static str),
    Threshold(&'static str),
}

/// What looks for a kind.
type Build = fn(&Layout<'_>) -> Result<Box<dyn Detector>, Missing>;

/// A detector with what it needs to see well.
struct Kind {
    kinds: &'static [&'static str],
    build: Build,
    /// The channel whose sample rate decides what can be seen, and the least rate (common practice for
    /// loggers, no source).
    fastest: &'static str,
    least_rate_hz: f64,
    /// A channel whose mean is a field, and that is written as 0 when the log is without.
    means: Option<&'static str>,
    /// The last of the kinds needs this channel, too.
    last_needs: Option<&'static str>,
}

#[rustfmt::skip]
const KINDS: &[Kind] = &[
    Kind { kinds: &["over_rev"], build: over_rev::detector, fastest: "engine_speed_rad_s", least_rate_hz: 50.0, means: Some("engine_torque_n_m"), last_needs: None },
    Kind { kinds: &["oil_pressure_dip"], build: oil_pressure_dip::detector, fastest: "oil_pressure_pa", least_rate_hz: 50.0, means: None, last_needs: None },
    Kind { kinds: &["oil_overheat"], build: oil_overheat::detector, fastest: "oil_temp_k", least_rate_hz: 0.1, means: None, last_needs: None },
    Kind { kinds: &["knock_burst"], build: knock_burst::detector, fastest: "knock_level", least_rate_hz: 20.0, means: Some("engine_torque_n_m"), last_needs: None },
    Kind { kinds: &["start"], build: start::detector, fastest: "engine_speed_rad_s", least_rate_hz: 5.0, means: None, last_needs: None },
    Kind { kinds: &["clutch_engagement", "launch"], build: clutch::detector, fastest: "clutch_slip_speed_rad_s", least_rate_hz: 50.0, means: None, last_needs: Some("vehicle_speed_m_s") },
    Kind { kinds: &["shift"], build: shift::detector, fastest: "gear", least_rate_hz: 10.0, means: Some("engine_torque_n_m"), last_needs: None },
    Kind { kinds: &["impact"], build: impact::detector, fastest: "vertical_acceleration_m_s2", least_rate_hz: 100.0, means: None, last_needs: None },
];

/// Every detector that the log has channels for, and what they found.
pub(crate) struct Watch {
    looking: Vec<(&'static Kind, Box<dyn Detector>)>,
    not_looked_for: Vec<Finding>,
    notes: Vec<Finding>,
    found: Vec<DutyShocks>,
    limit: usize,
}

impl Watch {
    pub fn new(layout: &Layout<'_>, limit: usize) -> Self {
        let mut watch = Self {
            looking: Vec::new(),
            not_looked_for: Vec::new(),
            notes: Vec::new(),
            found: Vec::new(),
            limit,
        };
        for kind in KINDS {
            match (kind.build)(layout) {
                Ok(detector) => watch.look(layout, kind, detector),
                Err(missing) => {
                    let finding = |name: &&str| not_looked_for(name, &missing);
                    watch.not_looked_for.extend(kind.kinds.iter().map(finding));
                }
            }
        }
        watch
    }

    fn look(&mut self, layout: &Layout<'_>, kind: &'static Kind, detector: Box<dyn Detector>) {
        self.looking.push((kind, detector));
        let mut kinds = kind.kinds;
        if let Some(channel) = kind
            .last_needs
            .filter(|channel| layout.find(channel).is_none())
            && let Some((last, others)) = kinds.split_last()
        {
            self.not_looked_for
                .push(not_looked_for(last, &Missing::Channel(channel)));
            kinds = others;
        }
        for shock in SHOCKS.iter().filter(|shock| kinds.contains(&shock.kind)) {
            let fields: Vec<String> = shock.fields.iter().map(|&field| field.to_owned()).collect();
            let columns = vec![Vec::new(); fields.len()];
            self.found.push(DutyShocks {
                kind: shock.kind.to_owned(),
                fields,
                columns,
            });
        }
        if let Some(channel) = kind.means.filter(|channel| layout.find(channel).is_none()) {
            self.notes.push(warning(
                kind.kinds.join(", "),
                format!("without {channel}"),
                format!("a log with {channel}"),
                "its mean is written as 0: map the channel to tell motored from fired",
            ));
        }
    }

    pub fn row(&mut self, time_s: f64, values: &[f64]) -> Result<(), Refusal> {
        for index in 0..self.looking.len() {
            let found = self
                .looking
                .get_mut(index)
                .and_then(|(_, d)| d.row(time_s, values));
            self.keep(found)?;
        }
        Ok(())
    }

    pub fn stop(&mut self, time_s: f64) -> Result<(), Refusal> {
        for index in 0..self.looking.len() {
            let found = self
                .looking
                .get_mut(index)
                .and_then(|(_, d)| d.stop(time_s));
            self.keep(found)?;
        }
        Ok(())
    }

    fn keep(&mut self, found: Option<Found>) -> Result<(), Refusal> {
        let Some(found) = found else {
            return Ok(());
        };
        let Some(table) = self.found.iter_mut().find(|table| table.kind == found.kind) else {
            return Ok(());
        };
        for (column, value) in table.columns.iter_mut().zip(&found.fields) {
            column.push(*value);
        }
        let count = table.columns.first().map_or(0, Vec::len);
        if count <= self.limit {
            return Ok(());
        }
        Err(error(
            format!("shocks.{}", found.kind),
            format!("more than {}", self.limit),
            format!("at most {} in one log", self.limit),
            "check the threshold and the channel, or split the log",
        )
        .into())
    }

    /// Numbers kept.
    pub fn len(&self) -> usize {
        self.found
            .iter()
            .flat_map(|table| &table.columns)
            .map(Vec::len)
            .sum()
    }

    /// Shocks, kinds that were not looked for, notes. `rate_hz` gives the sample rate of a channel.
    pub fn finish(
        mut self,
        rate_hz: impl Fn(&str) -> Option<f64>,
    ) -> (Vec<DutyShocks>, Vec<Finding>, Vec<Finding>) {
        for (kind, _) in &self.looking {
            if let Some(rate) =
                rate_hz(kind.fastest).filter(|rate| *rate < 0.9 * kind.least_rate_hz)
            {
                self.notes.push(warning(
                    kind.kinds.join(", "),
                    format!("{} at {rate:.3} samples a second", kind.fastest),
                    format!("at least {} samples a second", kind.least_rate_hz),
                    "short ones are missed or blunted: log the channel faster",
                ));
            }
        }
        (self.found, self.not_looked_for, self.notes)
    }
}

fn not_looked_for(kind: &str, missing: &Missing) -> Finding {
    match missing {
        Missing::Channel(channel) => warning(
            kind,
            format!("not looked for: the log is without {channel}"),
            format!("a log with {channel}"),
            "map the channel if the logger has it",
        ),
        Missing::Threshold(threshold) => warning(
            kind,
            format!("not looked for: {threshold} is not set"),
            "a threshold of the unit",
            format!("set {threshold} from the maker's or builder's limit"),
        ),
    }
}
