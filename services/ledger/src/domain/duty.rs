//! Use of units, and the duty of one event.

use crate::{BuildName, DutyRecordName, ProfileName, UnitName};
use jiff::Timestamp;
use ringland_host::contract::{DutyTable, Finding};
use serde::{Deserialize, Serialize};

/// A log, reduced, to be recorded.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordDuty {
    /// The unit that ran.
    pub unit: UnitName,
    /// Client-chosen, 1 to 64 characters.
    pub request_id: String,
    /// When the log starts.
    pub start_time: Timestamp,
    /// What it was: `break-in`, `practice`, `race`.
    pub session: String,
    /// Where it came from.
    pub source: String,
    /// How many events this use makes, where it is known.
    pub events: Option<f64>,
    /// SHA-256 of what was sent, 64 hexadecimal digits. It decides whether the same request id
    /// carries the same log, so that a newer intake does not refuse a log sent again.
    pub content_sha256: String,
    /// The log, reduced.
    pub duty: DutyTable,
    /// What intake found; `None` for duty that came already reduced.
    pub intake_report: Option<IntakeReport>,
}

/// The answer to [`RecordDuty`].
#[derive(Clone, Debug, PartialEq)]
pub struct RecordDutyResponse {
    /// The record, without its duty table.
    pub duty_record: DutyRecord,
    /// True when this request id was recorded before and nothing was changed.
    pub replayed: bool,
}

/// A log, reduced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DutyRecord {
    /// `units/{unit}/dutyRecords/{record}`
    pub name: DutyRecordName,
    /// The unit that ran.
    pub unit: UnitName,
    /// The build it ran in.
    pub build: BuildName,
    /// When the log starts.
    pub start_time: Timestamp,
    /// Start and the time covered by the log, gaps included.
    pub end_time: Timestamp,
    /// What it was.
    pub session: String,
    /// Where it came from.
    pub source: String,
    /// How many events this use makes.
    pub events: Option<f64>,
    /// Time that counts as use.
    pub duration_s: f64,
    /// Turns of the crank; 0 without engine speed.
    pub crank_revolutions: f64,
    /// SHA-256 of what was sent, in hexadecimal.
    pub content_sha256: String,
    /// The id it was sent with.
    pub request_id: String,
    /// What intake found.
    pub intake_report: Option<IntakeReport>,
    /// In full from `get_duty_record`; left out elsewhere.
    pub duty: Option<DutyTable>,
    /// When it entered the ledger.
    pub create_time: Timestamp,
}

/// What intake found in a log.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct IntakeReport {
    /// Lines of the file.
    pub rows: i64,
    /// Samples.
    pub samples: i64,
    /// Time covered by the log ...
    pub log_duration_s: f64,
    /// ... and the part that counts as use.
    pub counted_duration_s: f64,
    /// Flaws by kind.
    pub flaws: Vec<IntakeFlaw>,
    /// Columns of the file that no channel uses.
    pub unused_columns: Vec<String>,
    /// Kinds of shock that were not looked for, and why.
    pub not_looked_for: Vec<Finding>,
    /// Anything else to know.
    pub notes: Vec<Finding>,
}

/// One kind of flaw in a log.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct IntakeFlaw {
    /// `gap`, `not_a_number`, `implausible`, `blank`, `row_length`.
    pub kind: String,
    /// Channel or column, where it has one.
    pub channel: String,
    /// How many.
    pub count: i64,
    /// First rows with it, at most 20.
    pub rows: Vec<i64>,
    /// Use that was not counted because of it.
    pub lost_s: f64,
    /// What was done about it.
    pub action: String,
}

/// What a client says of a profile: with `duty`, or with `duty_records` and `events`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ProfileInput {
    /// Name for people.
    pub display_name: String,
    /// Per event.
    pub duty: Option<DutyTable>,
    /// The records that it is made from.
    pub duty_records: Vec<DutyRecordName>,
    /// How many events those records make together.
    pub events: f64,
}

/// The duty of one event.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Profile {
    /// `profiles/{profile}`
    pub name: ProfileName,
    /// Name for people.
    pub display_name: String,
    /// Per event; left out in lists.
    pub duty: Option<DutyTable>,
    /// The records that it was made from.
    pub duty_records: Vec<DutyRecordName>,
    /// How many events those records make together; 0 when made from a table.
    pub events: f64,
    /// Per event.
    pub duration_s: f64,
    /// Per event; 0 without engine speed.
    pub crank_revolutions: f64,
    /// When it entered the ledger.
    pub create_time: Timestamp,
}
