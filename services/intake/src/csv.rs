//! CSV (RFC 4180, any delimiter) as a stream of bytes cut anywhere.

use crate::finding::{Refusal, error, settle};
use crate::limits::Settings;
use crate::map::ChannelMap;
use crate::plan::{Wanted, plan};
use crate::reducer::{Reduced, Reducer};
use crate::tracks::Sample;
use csv_core::{ReadRecordResult, Reader, ReaderBuilder};
use std::io::Read;

/// Longest row, and most cells in one.
const ROW_BYTES: usize = 1 << 20;
const ROW_CELLS: usize = 1 << 14;
const BOM: &[u8] = b"\xef\xbb\xbf";

/// A log that comes as CSV bytes.
pub struct CsvLog {
    map: ChannelMap,
    settings: Settings,
    reader: Reader,
    record: Record,
    /// The first bytes, until it is known whether they are a byte-order mark.
    first: Vec<u8>,
    started: bool,
    lines_to_skip: u32,
    body: Option<Body>,
}

/// A record as far as it has come in.
struct Record {
    bytes: Vec<u8>,
    ends: Vec<usize>,
    filled: usize,
    cells: usize,
}

/// What follows the header.
struct Body {
    reducer: Reducer,
    width: usize,
    time: Time,
    unused: Vec<String>,
}

enum Time {
    Column { cell: usize, factor: f64 },
    Rate { hz: f64, rows: u64 },
}

impl CsvLog {
    /// For a file that is read with this map.
    ///
    /// # Errors
    /// What can be said of map and settings without the file's header.
    pub fn new(map: &ChannelMap, settings: &Settings) -> Result<Self, Refusal> {
        map.check()?;
        settings.check()?;
        // What does not depend on the header: channels, units, duplicates.
        planned(map, settings, |_| Some(0))?;
        Ok(Self {
            map: map.clone(),
            settings: *settings,
            reader: ReaderBuilder::new().delimiter(map.delimiter as u8).build(),
            record: Record {
                bytes: vec![0; 4096],
                ends: vec![0; 64],
                filled: 0,
                cells: 0,
            },
            first: Vec::new(),
            started: false,
            lines_to_skip: map.skip_lines,
            body: None,
        })
    }

    /// Takes a piece.
    ///
    /// # Errors
    /// A header without the columns of the map, rows beyond any sense, time going back, too many shocks. The log is of no
    /// use after that.
    pub fn push(&mut self, bytes: &[u8]) -> Result<(), Refusal> {
        if self.started {
            return self.read(bytes);
        }
        self.first.extend_from_slice(bytes);
        if self.first.len() < BOM.len() && BOM.starts_with(&self.first) {
            return Ok(());
        }
        self.start()
    }

    /// Reads the first bytes, now long enough for the reader to take a byte-order mark off them.
    fn start(&mut self) -> Result<(), Refusal> {
        self.started = true;
        let first = std::mem::take(&mut self.first);
        self.read(&first)
    }

    /// Ends the log.
    ///
    /// # Errors
    /// No header, no row, no time that counts, a required channel that is too bad.
    pub fn finish(mut self) -> Result<Reduced, Refusal> {
        if !self.started {
            self.start()?;
        }
        // The last row may be without a line end.
        while self.read_some(&[])?.is_some() {}
        let Some(body) = self.body else {
            return Err(error(
                "log",
                "without a header line",
                format!("a header after {} skipped lines", self.map.skip_lines),
                "check skip_lines, and that the log was exported in full",
            )
            .into());
        };
        let last_step_s = match body.time {
            Time::Column { .. } => 0.0,
            Time::Rate { hz, .. } => 1.0 / hz,
        };
        body.reducer.finish(last_step_s, body.unused)
    }

    /// How much is kept, in numbers. Bounded whatever the length of the log.
    pub fn retained(&self) -> usize {
        let record = self.record.bytes.len() / 8 + self.record.ends.len();
        record + self.body.as_ref().map_or(0, |body| body.reducer.retained())
    }

    fn read(&mut self, mut bytes: &[u8]) -> Result<(), Refusal> {
        while !bytes.is_empty() {
            let read = self.read_some(bytes)?.unwrap_or(bytes.len());
            bytes = bytes.get(read..).unwrap_or_default();
        }
        Ok(())
    }

    /// Reads up to the end of a record at most; gives the number of bytes read. No bytes stand for the end of the
    /// log; `None` when it was reached.
    fn read_some(&mut self, bytes: &[u8]) -> Result<Option<usize>, Refusal> {
        let Record {
            bytes: out,
            ends,
            filled,
            cells,
        } = &mut self.record;
        let (out, ends) = (out.get_mut(*filled..), ends.get_mut(*cells..));
        let (out, ends) = (out.unwrap_or_default(), ends.unwrap_or_default());
        let (result, read, written, ended) = self.reader.read_record(bytes, out, ends);
        *filled += written;
        *cells += ended;
        match result {
            ReadRecordResult::InputEmpty => {}
            ReadRecordResult::End => return Ok(None),
            ReadRecordResult::OutputFull => self.record.more_bytes(self.reader.line())?,
            ReadRecordResult::OutputEndsFull => self.record.more_cells(self.reader.line())?,
            ReadRecordResult::Record => {
                // A record ends after its line feed, or before it when there is a carriage return.
                let past = bytes.get(..read).is_some_and(|read| read.ends_with(b"\n"));
                self.take_record(self.reader.line() - u64::from(past))?;
            }
        }
        Ok(Some(read))
    }

    /// Takes a record that ends in this line.
    fn take_record(&mut self, line: u64) -> Result<(), Refusal> {
        if self.lines_to_skip > 0 {
            self.lines_to_skip -= 1;
        } else if let Some(body) = &mut self.body {
            body.row(line, &self.record)?;
        } else {
            self.body = Some(header(&self.map, &self.settings, &self.record)?);
            self.lines_to_skip = self.map.skip_lines_after_header;
        }
        (self.record.filled, self.record.cells) = (0, 0);
        Ok(())
    }
}

impl Body {
    fn row(&mut self, line: u64, record: &Record) -> Result<(), Refusal> {
        if record.cells != self.width {
            self.reducer.odd_row_length(line);
        }
        let time = match &mut self.time {
            Time::Column { cell, factor } => match sample(record.cell(*cell)) {
                Sample::Number(time) => Sample::Number(time * *factor),
                _ => Sample::Bad,
            },
            Time::Rate { hz, rows } => {
                *rows += 1;
                Sample::Number((*rows - 1) as f64 / *hz)
            }
        };
        self.reducer
            .row(line, time, |cell| sample(record.cell(cell)))
    }
}

impl Record {
    /// Bytes of a cell; none beyond the last.
    fn cell(&self, index: usize) -> &[u8] {
        let ends = self.ends.get(..self.cells).unwrap_or_default();
        let start = index
            .checked_sub(1)
            .map_or(Some(0), |before| ends.get(before).copied());
        match (start, ends.get(index)) {
            (Some(start), Some(end)) => self.bytes.get(start..*end).unwrap_or_default(),
            _ => &[],
        }
    }

    fn more_bytes(&mut self, line: u64) -> Result<(), Refusal> {
        grow(&mut self.bytes, ROW_BYTES, line, "bytes")
    }

    fn more_cells(&mut self, line: u64) -> Result<(), Refusal> {
        grow(&mut self.ends, ROW_CELLS, line, "cells")
    }
}

fn grow<T: Default + Clone>(
    room: &mut Vec<T>,
    limit: usize,
    line: u64,
    of: &str,
) -> Result<(), Refusal> {
    if room.len() >= limit {
        return Err(error(
            format!("log line {line}"),
            format!("more than {limit} {of}"),
            format!("at most {limit} {of} in a row"),
            "check delimiter and quotes: a quote that is never closed swallows all lines after it",
        )
        .into());
    }
    room.resize((2 * room.len()).min(limit), T::default());
    Ok(())
}

fn sample(cell: &[u8]) -> Sample {
    let cell = cell.trim_ascii();
    if cell.is_empty() {
        return Sample::Blank;
    }
    let number = std::str::from_utf8(cell)
        .ok()
        .and_then(|text| text.parse::<f64>().ok());
    number
        .filter(|number| number.is_finite())
        .map_or(Sample::Bad, Sample::Number)
}

/// The map's channels, with the places that `place` gives to columns.
fn planned(
    map: &ChannelMap,
    settings: &Settings,
    place: impl Fn(&str) -> Option<usize>,
) -> Result<Vec<crate::plan::Planned>, Refusal> {
    let wanted: Vec<Wanted<'_>> = map
        .columns
        .iter()
        .enumerate()
        .filter_map(|(index, column)| {
            Some(Wanted {
                field: format!("channel_map.columns[{index}]"),
                channel: &column.channel,
                unit: &column.unit,
                scale: column.scale,
                offset: column.offset,
                rate_hz: column.rate_hz,
                hold_s: column.hold_s,
                optional: column.optional,
                cell: place(&column.column)?,
            })
        })
        .collect();
    plan(&wanted, &settings.limits, map.ambient_pressure_pa)
}

fn header(map: &ChannelMap, settings: &Settings, record: &Record) -> Result<Body, Refusal> {
    let text = |index| {
        String::from_utf8_lossy(record.cell(index))
            .trim()
            .to_owned()
    };
    let names: Vec<String> = (0..record.cells).map(text).collect();
    let wanted = map.columns.iter().map(|c| (c.column.as_str(), c.optional));
    let time = (!map.time_column.is_empty()).then_some((map.time_column.as_str(), false));
    let mut findings = Vec::new();
    for (column, optional) in time.into_iter().chain(wanted) {
        match names.iter().filter(|name| *name == column).count() {
            0 if !optional => findings.push(error(
                format!("column {column:?}"),
                "missing",
                format!("one of {}", shown(&names)),
                "correct the channel map, mark the column optional, or check skip_lines",
            )),
            0 | 1 => {}
            count => findings.push(error(
                format!("column {column:?}"),
                format!("{count} times in the header"),
                "once",
                "rename or remove the other columns of this name",
            )),
        }
    }
    settle(findings)?;
    let place = |column: &str| names.iter().position(|name| name == column);
    let time = match (
        map.sample_rate_hz,
        place(&map.time_column),
        map.time_factor(),
    ) {
        (None, Some(cell), Some(factor)) => Time::Column { cell, factor },
        (hz, ..) => Time::Rate {
            hz: hz.unwrap_or(1.0),
            rows: 0,
        },
    };
    let used = |name: &String| {
        *name == map.time_column || map.columns.iter().any(|column| column.column == *name)
    };
    Ok(Body {
        reducer: Reducer::new(planned(map, settings, place)?, settings)?,
        width: record.cells,
        time,
        unused: names.iter().filter(|name| !used(name)).cloned().collect(),
    })
}

/// The first names of a header, for a message.
fn shown(names: &[String]) -> String {
    const MOST: usize = 40;
    let mut text = names
        .iter()
        .take(MOST)
        .map(|name| format!("{name:?}"))
        .collect::<Vec<_>>()
        .join(", ");
    if names.len() > MOST {
        text.push_str(", ...");
    }
    text
}

/// A source that failed, or a log that was refused.
#[derive(Debug)]
pub enum ReadError {
    /// The log.
    Refused(Refusal),
    /// The source.
    Source(std::io::Error),
}

impl std::fmt::Display for ReadError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Refused(refusal) => refusal.fmt(f),
            Self::Source(error) => write!(f, "the log could not be read: {error}"),
        }
    }
}

impl std::error::Error for ReadError {}

/// Reduces a whole CSV log from a file or the like.
///
/// # Errors
/// As [`CsvLog`]; the source's own errors.
pub fn read_csv(
    mut source: impl Read,
    map: &ChannelMap,
    settings: &Settings,
) -> Result<Reduced, ReadError> {
    let mut log = CsvLog::new(map, settings).map_err(ReadError::Refused)?;
    let mut piece = vec![0; 64 << 10];
    loop {
        match source.read(&mut piece) {
            Ok(0) => return log.finish().map_err(ReadError::Refused),
            Ok(read) => {
                log.push(piece.get(..read).unwrap_or_default())
                    .map_err(ReadError::Refused)?;
            }
            Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
            Err(error) => return Err(ReadError::Source(error)),
        }
    }
}
