//! The header of a log: everything in it is checked before the log is looked at.

use crate::convert::{Fields, logs};
use jiff::Timestamp;
use ringland_intake::{ChannelMap, CsvLog, IntakeLimits, SampleChannel, SampleLog, Settings};
use ringland_ledger::UnitName;
use ringland_proto::v1::DutyHeader;
use tonic::Status;

/// What a header says, read.
#[derive(Debug)]
pub struct Session {
    /// The unit that ran.
    pub unit: UnitName,
    /// When the log starts.
    pub start_time: Timestamp,
    /// How to read CSV bytes.
    pub map: Option<ChannelMap>,
    /// What the columns of samples are.
    pub channels: Vec<SampleChannel>,
    /// How flawed the log may be.
    pub limits: IntakeLimits,
}

/// Reads a header.
///
/// # Errors
/// `INVALID_ARGUMENT` with every offending field.
pub fn read(header: &DutyHeader) -> Result<Session, Status> {
    let mut fields = Fields::new();
    let unit = fields.name("header.unit", &header.unit);
    let length = header.request_id.chars().count();
    if !(1..=64).contains(&length) {
        let text = format!("has {length} characters; expected 1 to 64, chosen by the client");
        fields.refuse("header.request_id", text);
    }
    let start_time = fields.time("header.start_time", header.start_time);
    if let Some(events) = header
        .events
        .filter(|events| !(events.is_finite() && *events > 0.0))
    {
        let text = format!("{events} was given; expected a number above 0, or leave it out");
        fields.refuse("header.events", text);
    }
    let limits = logs::limits(header.intake_limits.as_ref());
    let map = header
        .channel_map
        .as_ref()
        .and_then(|map| logs::channel_map(&mut fields, map));
    let channels = logs::sample_channels(&header.sample_channels);
    check_reading(&mut fields, map.as_ref(), &channels, limits);
    fields
        .settle(unit.zip(start_time))
        .map(|(unit, start_time)| Session {
            unit,
            start_time,
            map,
            channels,
            limits,
        })
}

/// What can be said of the reading without the log: channels, units, limits.
fn check_reading(
    fields: &mut Fields,
    map: Option<&ChannelMap>,
    channels: &[SampleChannel],
    limits: IntakeLimits,
) {
    let settings = Settings {
        limits,
        ..Settings::default()
    };
    if let Some(refusal) = map.and_then(|map| CsvLog::new(map, &settings).err()) {
        logs::refuse(fields, &refusal);
    }
    if !channels.is_empty()
        && let Err(refusal) = SampleLog::new(channels, &settings)
    {
        logs::refuse(fields, &refusal);
    }
}
