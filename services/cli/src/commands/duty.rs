//! `ringland duty` and `ringland channels`.

use super::{Session, record};
use crate::{
    CliError,
    connect::all_pages,
    json, names, numbers,
    show::{duty_record, intake_report},
    table::table,
    times,
};
use clap::{Args, Subcommand};
use prost_types::Timestamp;
use ringland_proto::v1::{
    ChannelMap, DutyHeader, DutyTable, GetDutyRecordRequest, IntakeLimits, ListChannelsRequest,
    ListDutyRecordsRequest, RecordDutyResponse, record_duty_request::Payload,
};
use std::path::PathBuf;

/// `ringland duty`
#[derive(Debug, Subcommand)]
pub enum DutyCommand {
    /// Record a log; sending the same file for the same unit again changes nothing
    #[command(after_help = MAP_HELP)]
    Record(Box<RecordArgs>),
    /// List duty records of a unit
    List {
        /// Which unit
        unit: String,
    },
    /// Show a duty record: what intake found, shocks, operating points
    Show {
        /// UNIT/RECORD
        record: String,
    },
}

const MAP_HELP: &str = "\
A channel map is TOML with the fields of the API's ChannelMap (ringland channels lists channels and units):

  name = \"car\"
  time_column = \"Time\"
  time_unit = \"s\"
  skip_lines_after_header = 1        # a line of units
  [[columns]]
  channel = \"engine_speed_rad_s\"
  column = \"nEngine\"
  unit = \"rpm\"
  [[columns]]
  channel = \"engine_torque_n_m\"
  column = \"MEngine\"
  unit = \"lbf.ft\"";

/// A log to be recorded.
#[derive(Debug, Args)]
pub struct RecordArgs {
    /// Whose log it is
    unit: String,
    /// The log (CSV)
    #[arg(required_unless_present = "reduced")]
    log: Option<PathBuf>,
    /// How its columns become channels (TOML)
    #[arg(long, value_name = "FILE", required_unless_present = "reduced")]
    map: Option<PathBuf>,
    /// Duty that is already reduced, in place of a log: TOML with the fields of the API's DutyTable
    #[arg(long, value_name = "FILE", conflicts_with_all = ["log", "map"])]
    reduced: Option<PathBuf>,
    /// When it starts
    #[arg(long, value_name = "TIME", value_parser = times::read)]
    start: Timestamp,
    /// What it was: break-in, practice, race
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "TEXT"
    )]
    session: String,
    /// Where it came from [default: the file's name]
    #[arg(long, value_name = "TEXT")]
    source: Option<String>,
    /// How many events this use makes, where it is known
    #[arg(long, value_name = "NUMBER")]
    events: Option<f64>,
    /// Client-chosen id, 1 to 64 characters [default: digest of unit and file]
    #[arg(long, value_name = "ID")]
    request_id: Option<String>,
    /// Larger steps between samples are gaps, in seconds [default: 1]
    #[arg(
        long,
        default_value_t = 0.0,
        hide_default_value = true,
        value_name = "SECONDS"
    )]
    gap: f64,
    /// A bad sample is bridged with the last good one for at most so many seconds [default: 0.5]
    #[arg(
        long,
        default_value_t = 0.0,
        hide_default_value = true,
        value_name = "SECONDS"
    )]
    hold: f64,
    /// A larger share of bad samples in a required channel refuses the log [default: 0.1]
    #[arg(
        long,
        default_value_t = 0.0,
        hide_default_value = true,
        value_name = "SHARE"
    )]
    bad_share: f64,
}

impl RecordArgs {
    fn header(
        &self,
        file: &std::path::Path,
        map: Option<ChannelMap>,
    ) -> Result<DutyHeader, CliError> {
        let unit = names::unit(&self.unit);
        let request_id = match &self.request_id {
            Some(id) => id.clone(),
            None => record::request_id_of(&unit, file)?,
        };
        let file_name = || {
            file.file_name()
                .map(|name| name.to_string_lossy().into_owned())
        };
        let limits = IntakeLimits {
            gap_s: self.gap,
            hold_s: self.hold,
            bad_share: self.bad_share,
        };
        Ok(DutyHeader {
            unit,
            request_id,
            start_time: Some(self.start),
            session: self.session.clone(),
            source: self.source.clone().or_else(file_name).unwrap_or_default(),
            channel_map: map,
            sample_channels: Vec::new(),
            events: self.events,
            intake_limits: Some(limits),
        })
    }
}

pub(super) async fn run(command: DutyCommand, session: &Session) -> Result<(), CliError> {
    match command {
        DutyCommand::Record(arguments) => {
            let answer = send(*arguments, session).await?;
            recorded(&answer, session).await
        }
        DutyCommand::List { unit } => list(&names::unit(&unit), session).await,
        DutyCommand::Show { record } => {
            let request = GetDutyRecordRequest {
                name: names::duty_record(&record),
            };
            let record = session
                .api
                .duty()
                .get_duty_record(request)
                .await?
                .into_inner();
            let out = session.out;
            if out.json {
                return out.json(&json::to_json("DutyRecord", &record)?);
            }
            out.text(&duty_record(&record, &out.look))
        }
    }
}

async fn send(arguments: RecordArgs, session: &Session) -> Result<RecordDutyResponse, CliError> {
    if let Some(file) = &arguments.reduced {
        let table: DutyTable = json::from_toml_file("DutyTable", file)?;
        let header = arguments.header(file, None)?;
        return record::send(header, Payload::Reduced(table), session).await;
    }
    let (Some(log), Some(map)) = (&arguments.log, &arguments.map) else {
        return Err(CliError::Usage(
            "a log and --map, or --reduced, are needed".into(),
        ));
    };
    let header = arguments.header(log, Some(json::from_toml_file("ChannelMap", map)?))?;
    record::send_csv(header, log, session).await
}

async fn recorded(answer: &RecordDutyResponse, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("RecordDutyResponse", answer)?);
    }
    // The answer leaves out the duty, and with it the shocks.
    let name = answer.duty_record.clone().unwrap_or_default().name;
    let request = GetDutyRecordRequest { name };
    let record = session
        .api
        .duty()
        .get_duty_record(request)
        .await?
        .into_inner();
    let word = if answer.replayed {
        "was recorded before; nothing changed"
    } else {
        "recorded"
    };
    out.text(&format!("{} {word}", names::short(&record.name)))?;
    out.text(&intake_report(&record, &out.look))
}

async fn list(unit: &str, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.duty();
    let records = all_pages(async |page_token| {
        let request = ListDutyRecordsRequest {
            parent: unit.to_owned(),
            page_token,
            ..Default::default()
        };
        let page = client.list_duty_records(request).await?.into_inner();
        Ok((page.duty_records, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("duty_records", "DutyRecord", &records)?);
    }
    let rows = records.iter().map(|record| {
        let flaws = record
            .intake_report
            .as_ref()
            .map_or(0, |report| report.flaws.len());
        vec![
            names::id(&record.name).to_owned(),
            record.session.clone(),
            names::id(&record.build).to_owned(),
            numbers::duration(record.duration_s),
            format!("{:.3}", record.crank_revolutions / 1e6),
            record.source.clone(),
            flaws.to_string(),
        ]
    });
    let header = [
        "record",
        "session",
        "build",
        ">counted",
        ">M rev",
        "source",
        ">kinds of flaw",
    ];
    out.text(&table(&out.look, &header, rows.collect()))
}

/// `ringland channels`
pub(super) async fn channels(session: &Session) -> Result<(), CliError> {
    let request = ListChannelsRequest {};
    let answer = session
        .api
        .duty()
        .list_channels(request)
        .await?
        .into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("ListChannelsResponse", &answer)?);
    }
    let rows = answer.channels.iter().map(|channel| {
        let mut uses = Vec::new();
        if channel.cell.is_some() {
            uses.push("operating points");
        }
        if channel.counted {
            uses.push("load cycles");
        }
        let significant = |value| numbers::significant(value, 3);
        vec![
            channel.name.clone(),
            channel.label.clone(),
            format!(
                "{} to {} {}",
                significant(channel.minimum),
                significant(channel.maximum),
                channel.unit
            ),
            channel.accepted_units.join(", "),
            uses.join(", "),
        ]
    });
    let header = [
        "channel",
        "what it is",
        "plausible",
        "units in a log",
        "kept as",
    ];
    out.text(&table(&out.look, &header, rows.collect()))?;
    let rows = answer.shock_kinds.iter().map(|shock| {
        vec![
            shock.kind.clone(),
            shock.label.clone(),
            shock.fields.join(", "),
        ]
    });
    out.text(&table(
        &out.look,
        &["shock", "what it is", "fields"],
        rows.collect(),
    ))
}
