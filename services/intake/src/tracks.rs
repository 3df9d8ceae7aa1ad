//! Channels as they come in: plausibility, holding of the last good value, and the count of flaws.

use crate::finding::{error, warning};
use crate::plan::Planned;
use crate::report::{Flaw, FlawKind, Tally};
use ringland_host::contract::Finding;

/// Steps are differences of decimal times: a step of exactly the limit is within it.
pub(crate) const ROUNDING: f64 = 1.0 + 1e-6;

/// A cell of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Sample {
    /// A number, in the log's unit.
    Number(f64),
    /// Nothing.
    Blank,
    /// Something that is not a finite number.
    Bad,
}

/// A channel as it comes in.
#[derive(Debug)]
pub(crate) struct Track {
    pub planned: Planned,
    /// Time and value of the last good sample since the last gap.
    held: Option<(f64, f64)>,
    good: u64,
    rows: u64,
    not_a_number: Tally,
    implausible: Tally,
    /// Lost time is booked here.
    pub blank: Tally,
}

impl Track {
    pub fn new(planned: Planned) -> Self {
        Self {
            planned,
            held: None,
            good: 0,
            rows: 0,
            not_a_number: Tally::default(),
            implausible: Tally::default(),
            blank: Tally::default(),
        }
    }

    /// Takes a row's sample; gives the SI value that holds from this row on, NaN when unknown, and
    /// whether it is fresh.
    pub fn take(&mut self, row: u64, time_s: f64, sample: Sample) -> (f64, bool) {
        self.rows += 1;
        let mut fresh = false;
        match sample {
            Sample::Number(raw) => {
                let value = self.planned.si(raw);
                let channel = self.planned.channel;
                if value >= channel.minimum && value <= channel.maximum {
                    self.held = Some((time_s, value));
                    self.good += 1;
                    fresh = true;
                } else {
                    self.implausible.add(row);
                }
            }
            Sample::Bad => self.not_a_number.add(row),
            Sample::Blank => {}
        }
        match self.held {
            Some((at_s, value)) if time_s - at_s <= self.planned.hold_s * ROUNDING => {
                (value, fresh)
            }
            _ => {
                self.blank.add(row);
                (f64::NAN, false)
            }
        }
    }

    /// A gap ends what is held.
    pub fn interrupt(&mut self) {
        self.held = None;
    }

    pub fn good(&self) -> u64 {
        self.good
    }

    /// Good samples per second over the time of the log; `None` for a log without length.
    pub fn rate_hz(&self, log_s: f64) -> Option<f64> {
        (log_s > 0.0).then(|| self.good as f64 / log_s)
    }

    /// What is said of a channel too bad to use.
    pub fn too_bad(&self, limit: f64) -> Option<Finding> {
        let bad = self.not_a_number.count + self.implausible.count;
        let samples = bad + self.good;
        let share = |part: u64, whole: u64| {
            if whole == 0 {
                0.0
            } else {
                part as f64 / whole as f64
            }
        };
        let (bad_share, unknown_share) = (share(bad, samples), share(self.blank.count, self.rows));
        if self.good > 0 && bad_share <= limit && unknown_share <= limit {
            return None;
        }
        let value = format!(
            "bad in {:.1} % of {samples} samples, unknown in {:.1} % of {} rows",
            100.0 * bad_share,
            100.0 * unknown_share,
            self.rows
        );
        let expected = format!(
            "at most {:.1} % of either, samples within {} to {} {}",
            100.0 * limit,
            self.planned.channel.minimum,
            self.planned.channel.maximum,
            self.planned.channel.unit
        );
        let name = self.planned.channel.name;
        // Without a channel that makes operating points no row would count.
        let spared = self.planned.optional && self.planned.channel.cell.is_none();
        Some(if spared {
            warning(
                name,
                value,
                expected,
                "the channel was left out: check sensor, column and unit",
            )
        } else {
            error(
                name,
                value,
                expected,
                "check sensor, column, unit and hold time, or map the log without this channel",
            )
        })
    }

    pub fn flaws(self) -> impl Iterator<Item = Flaw> {
        let name = self.planned.channel.name;
        let bridged = "taken as blank: the last good value for the hold time, then unknown";
        let blank = if self.planned.channel.cell.is_some() {
            "rows not counted"
        } else {
            "rows counted without this channel"
        };
        [
            self.not_a_number.flaw(FlawKind::NotANumber, name, bridged),
            self.implausible.flaw(FlawKind::Implausible, name, bridged),
            self.blank.flaw(FlawKind::Blank, name, blank),
        ]
        .into_iter()
        .flatten()
    }
}
