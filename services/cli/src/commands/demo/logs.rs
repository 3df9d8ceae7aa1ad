//! Writes the season's logs as their loggers would and records each of them.

use super::{
    calendar::{Calendar, Log},
    failed,
    served::Folder,
    shop::at,
};
use crate::{
    CliError,
    commands::{Session, record},
    demo::{MapFile, Source, write_log, write_maps},
    out::progress,
};
use ringland_proto::v1::{DutyHeader, DutyRecord, GetDutyRecordRequest};
use std::{
    fs,
    path::{Path, PathBuf},
};

/// A log and what became of it.
#[derive(Clone, Debug)]
pub(in crate::commands) struct Recorded {
    pub log: Log,
    pub record: DutyRecord,
}

impl Recorded {
    /// Whether it comes from a car, not from the dyno.
    pub(in crate::commands) fn is_of_car(&self) -> bool {
        matches!(self.log.plan.source, Source::Car(_))
    }
}

/// Writes and records every log in the order of time. Logs that are not kept are removed once recorded.
pub(super) async fn record_all(
    calendar: &Calendar,
    folder: &Folder,
    session: &Session,
) -> Result<Vec<Recorded>, CliError> {
    let desk = Desk::open(calendar, folder)?;
    let bar = progress(calendar.logs.len() as u64, "recording logs");
    let mut records = Vec::with_capacity(calendar.logs.len());
    for log in &calendar.logs {
        records.push(desk.record(log, session).await?);
        bar.inc(1);
    }
    bar.finish_and_clear();
    Ok(records)
}

/// Where logs are written and sent from.
pub(in crate::commands) struct Desk<'a> {
    calendar: &'a Calendar,
    logs: PathBuf,
    kept: bool,
}

impl<'a> Desk<'a> {
    /// Makes the folders and writes the channel maps.
    pub(in crate::commands) fn open(
        calendar: &'a Calendar,
        folder: &Folder,
    ) -> Result<Self, CliError> {
        let logs = make_folder(folder.path().join("logs"))?;
        write_maps(&make_folder(folder.path().join("channel-maps"))?).map_err(failed)?;
        Ok(Self {
            calendar,
            logs,
            kept: folder.is_kept(),
        })
    }

    /// Writes one log and records it; removes it where logs are not kept.
    pub(in crate::commands) async fn record(
        &self,
        log: &Log,
        session: &Session,
    ) -> Result<Recorded, CliError> {
        let path = self.logs.join(&log.plan.file);
        write(log, &path).await?;
        let record = send(log, &path, self.calendar, session).await?;
        if !self.kept {
            fs::remove_file(&path).map_err(|source| CliError::File { path, source })?;
        }
        Ok(Recorded {
            log: log.clone(),
            record,
        })
    }
}

async fn write(log: &Log, path: &Path) -> Result<(), CliError> {
    let (log, path) = (log.clone(), path.to_path_buf());
    let writing = tokio::task::spawn_blocking(move || write_log(&log.plan, log.seed, &path));
    writing.await.map_err(failed)?.map_err(failed)
}

async fn send(
    log: &Log,
    path: &Path,
    calendar: &Calendar,
    session: &Session,
) -> Result<DutyRecord, CliError> {
    let plan = &log.plan;
    let map = MapFile::of(plan).channel_map()?;
    let unit = format!("units/{}", plan.unit);
    let label = match &plan.source {
        Source::Dyno(_) => "break-in on the dyno",
        Source::Car(_) => calendar.title(&plan.event),
    };
    let header = DutyHeader {
        request_id: record::request_id_of(&unit, path)?,
        unit,
        start_time: Some(at(plan.start_unix_s)),
        session: label.to_owned(),
        source: plan.file.clone(),
        channel_map: Some(map),
        events: Some(plan.events),
        ..Default::default()
    };
    let answer = record::send_csv(header, path, session).await?;
    let missing = || {
        CliError::Failed(format!(
            "{}: the server answered without a record",
            plan.file
        ))
    };
    // The answer leaves out the duty, and with it the shocks.
    let request = GetDutyRecordRequest {
        name: answer.duty_record.ok_or_else(missing)?.name,
    };
    Ok(session
        .api
        .duty()
        .get_duty_record(request)
        .await?
        .into_inner())
}

fn make_folder(path: PathBuf) -> Result<PathBuf, CliError> {
    fs::create_dir_all(&path).map_err(|source| CliError::File {
        path: path.clone(),
        source,
    })?;
    Ok(path)
}
