//! The content of a log on its way to one duty record. All of it runs on the bulk lane.

use super::{
    digest::{Content, ContentDigest},
    header::Session,
    refused,
};
use crate::{
    convert::{Fields, duty_table, logs},
    errors,
};
use prost::Message;
use ringland_host::contract as host;
use ringland_intake::{CsvLog, Reduced, Refusal, SampleLog, Settings};
use ringland_ledger::{IntakeReport, RecordDuty, ShockThresholds};
use ringland_proto::v1::{
    Column, DutyHeader, DutyTable, SampleChunk, record_duty_request::Payload,
};
use tonic::Status;

/// A log of which some has come in.
pub struct Upload {
    header: DutyHeader,
    session: Session,
    settings: Settings,
    log_bytes: u64,
    bytes_left: u64,
    /// Begins with the first piece of content, which says what kind the log is.
    reading: Option<Reading>,
}

/// A log of one kind, and its digest so far.
struct Reading {
    digest: ContentDigest,
    log: Log,
}

enum Log {
    Csv(Box<CsvLog>),
    Samples(Box<SampleLog>),
    Reduced(DutyTable),
}

impl Upload {
    /// Before any content; at most `log_bytes` of it are taken.
    pub fn new(
        header: DutyHeader,
        session: Session,
        thresholds: &ShockThresholds,
        log_bytes: u64,
    ) -> Self {
        let thresholds = logs::thresholds(thresholds);
        let settings = Settings {
            limits: session.limits,
            thresholds,
        };
        Self {
            header,
            session,
            settings,
            log_bytes,
            bytes_left: log_bytes,
            reading: None,
        }
    }

    /// Takes pieces in their order.
    ///
    /// # Errors
    /// `INVALID_ARGUMENT`, `RESOURCE_EXHAUSTED`. The log is of no use after that.
    pub fn take_all(mut self, pieces: Vec<Payload>) -> Result<Self, Status> {
        for piece in pieces {
            self.take(piece)?;
        }
        Ok(self)
    }

    fn take(&mut self, piece: Payload) -> Result<(), Status> {
        let left = self.bytes_left.checked_sub(bytes_of(&piece) as u64);
        self.bytes_left = left.ok_or_else(|| errors::too_large("log", self.log_bytes, "bytes"))?;
        let Some(reading) = &mut self.reading else {
            self.reading = Some(self.begin(piece)?);
            return Ok(());
        };
        let Reading { digest, log } = reading;
        match (log, piece) {
            (Log::Csv(log), Payload::Csv(bytes)) => take_csv(log, digest, &bytes),
            (Log::Samples(log), Payload::Samples(chunk)) => take_samples(log, digest, &chunk),
            (_, piece) => Err(out_of_place(&piece)),
        }
    }

    /// With the first piece.
    fn begin(&self, piece: Payload) -> Result<Reading, Status> {
        let digest = |content| ContentDigest::new(&self.header, content);
        match piece {
            Payload::Csv(bytes) => {
                let map = self.session.map.as_ref();
                let map =
                    map.ok_or_else(|| refused("header.channel_map", "is required for CSV"))?;
                let mut log = CsvLog::new(map, &self.settings).map_err(|r| refusal(&r))?;
                let mut digest = digest(Content::Csv);
                take_csv(&mut log, &mut digest, &bytes)?;
                Ok(Reading {
                    digest,
                    log: Log::Csv(Box::new(log)),
                })
            }
            Payload::Samples(chunk) => {
                let channels = &self.session.channels;
                if channels.is_empty() {
                    return Err(refused(
                        "header.sample_channels",
                        "are required for samples",
                    ));
                }
                let mut log = SampleLog::new(channels, &self.settings).map_err(|r| refusal(&r))?;
                let mut digest = digest(Content::Samples);
                take_samples(&mut log, &mut digest, &chunk)?;
                Ok(Reading {
                    digest,
                    log: Log::Samples(Box::new(log)),
                })
            }
            Payload::Reduced(table) => {
                let mut digest = digest(Content::Reduced);
                digest.reduced(&table);
                Ok(Reading {
                    digest,
                    log: Log::Reduced(table),
                })
            }
            Payload::Header(_) => Err(out_of_place(&piece)),
        }
    }

    /// The whole log, reduced.
    ///
    /// # Errors
    /// `INVALID_ARGUMENT` when there is no content or intake refuses it.
    pub fn finish(self) -> Result<RecordDuty, Status> {
        let Some(Reading { digest, log }) = self.reading else {
            return Err(refused("payload", "is missing: a log follows its header"));
        };
        let (duty, intake_report) = match log {
            Log::Csv(log) => reduced(log.finish())?,
            Log::Samples(log) => reduced(log.finish())?,
            Log::Reduced(table) => (duty_table::from_message(table), None),
        };
        Ok(RecordDuty {
            unit: self.session.unit,
            request_id: self.header.request_id,
            start_time: self.session.start_time,
            session: self.header.session,
            source: self.header.source,
            events: self.header.events,
            content_sha256: digest.finish(),
            duty,
            intake_report,
        })
    }
}

fn reduced(
    result: Result<Reduced, Refusal>,
) -> Result<(host::DutyTable, Option<IntakeReport>), Status> {
    let Reduced { duty, report } = result.map_err(|r| refusal(&r))?;
    Ok((duty, Some(logs::report(report))))
}

fn take_csv(log: &mut CsvLog, digest: &mut ContentDigest, bytes: &[u8]) -> Result<(), Status> {
    digest.csv(bytes);
    log.push(bytes).map_err(|r| refusal(&r))
}

fn take_samples(
    log: &mut SampleLog,
    digest: &mut ContentDigest,
    chunk: &SampleChunk,
) -> Result<(), Status> {
    let columns: Vec<&[f64]> = chunk.columns.iter().map(|c| c.values.as_slice()).collect();
    log.push(&chunk.time_s, &columns).map_err(|r| refusal(&r))?;
    // After the push, which refuses columns of unequal length.
    digest.samples(chunk);
    Ok(())
}

fn refusal(refusal: &Refusal) -> Status {
    let mut fields = Fields::new();
    logs::refuse(&mut fields, refusal);
    fields.refusal()
}

fn out_of_place(piece: &Payload) -> Status {
    match piece {
        Payload::Header(_) => refused("header", "came again; it is the first message only"),
        Payload::Csv(_) => refused("csv", "came in a log of another kind"),
        Payload::Samples(_) => refused("samples", "came in a log of another kind"),
        Payload::Reduced(_) => refused(
            "reduced",
            "came beside other content; it is one message and the whole log",
        ),
    }
}

/// Bytes of a piece's content.
pub fn bytes_of(piece: &Payload) -> usize {
    let numbers = |column: &Column| 8 * column.values.len();
    match piece {
        Payload::Csv(bytes) => bytes.len(),
        Payload::Samples(SampleChunk { time_s, columns }) => {
            8 * time_s.len() + columns.iter().map(numbers).sum::<usize>()
        }
        Payload::Reduced(table) => table.encoded_len(),
        Payload::Header(header) => header.encoded_len(),
    }
}
