//! What intake found in a log, in bounded size.

use ringland_host::contract::Finding;
use serde::{Deserialize, Serialize};

/// What intake found in a log. Every row that did not count is in here.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct IntakeReport {
    /// Rows with samples.
    pub rows: u64,
    /// Samples that were used.
    pub samples: u64,
    /// Time from the first row to the end of the last ...
    pub log_duration_s: f64,
    /// ... and the part that counts as use. The difference is what the flaws lost.
    pub counted_duration_s: f64,
    /// Turns of the crank; 0 without engine speed.
    pub crank_revolutions: f64,
    /// Flaws by kind and channel.
    pub flaws: Vec<Flaw>,
    /// Columns of the file that no channel uses.
    pub unused_columns: Vec<String>,
    /// Kinds of shock that were not looked for, and why.
    pub not_looked_for: Vec<Finding>,
    /// Anything else to know.
    pub notes: Vec<Finding>,
}

/// What is wrong with a row or cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FlawKind {
    /// A step between rows longer than the gap limit.
    Gap,
    /// Text that is no number, or a number that is not finite.
    NotANumber,
    /// A sample outside the plausible range of its channel.
    Implausible,
    /// A row at which the last good value was older than the hold time, or there was none yet.
    Blank,
    /// A row with more or fewer cells than the header.
    RowLength,
}

impl FlawKind {
    /// Stable name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Gap => "gap",
            Self::NotANumber => "not_a_number",
            Self::Implausible => "implausible",
            Self::Blank => "blank",
            Self::RowLength => "row_length",
        }
    }
}

/// One kind of flaw in a log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Flaw {
    /// What is wrong.
    pub kind: FlawKind,
    /// Channel, where it has one; `time` for the time column.
    pub channel: String,
    /// How many.
    pub count: u64,
    /// First rows with it (1 is the first line of the file or the first sample), at most
    /// [`Flaw::MOST_ROWS`].
    pub rows: Vec<u64>,
    /// Time that was not counted because of it. Where several channels are unknown at once, it stands
    /// with the first.
    pub lost_s: f64,
    /// What was done about it.
    pub action: String,
}

impl Flaw {
    /// Most rows that are named.
    pub const MOST_ROWS: usize = 20;
}

/// A flaw as it is counted.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    pub count: u64,
    rows: Vec<u64>,
    pub lost_s: f64,
}

impl Tally {
    pub fn add(&mut self, row: u64) {
        self.count += 1;
        if self.rows.len() < Flaw::MOST_ROWS {
            self.rows.push(row);
        }
    }

    /// `None` when there was none.
    pub fn flaw(self, kind: FlawKind, channel: &str, action: &str) -> Option<Flaw> {
        (self.count > 0).then(|| Flaw {
            kind,
            channel: channel.to_owned(),
            count: self.count,
            rows: self.rows,
            lost_s: self.lost_s,
            action: action.to_owned(),
        })
    }
}
