//! Rows in, duty out: the one pass that every source feeds.

use crate::cycles::Cycles;
use crate::finding::{Refusal, error, warning};
use crate::limits::Settings;
use crate::plan::Planned;
use crate::points::Points;
use crate::report::{Flaw, FlawKind, IntakeReport, Tally};
use crate::shocks::{Layout, Watch};
use crate::tracks::{ROUNDING, Sample, Track};
use ringland_host::contract::{DutyTable, Finding, Severity};
use serde::{Deserialize, Serialize};

/// A log, reduced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reduced {
    /// The duty.
    pub duty: DutyTable,
    /// What was found on the way.
    pub report: IntakeReport,
}

/// The reduction under way. Its size depends on the channels and the limits, never on the length of the log.
pub(crate) struct Reducer {
    settings: Settings,
    tracks: Vec<Track>,
    points: Points,
    cycles: Vec<Cycles>,
    watch: Watch,
    start_s: Option<f64>,
    /// The row whose values hold now.
    last: Option<Last>,
    /// Values of the present row, kept to be reused.
    values: Vec<f64>,
    gaps: Tally,
    bad_times: Tally,
    row_lengths: Tally,
    rows: u64,
    counted_s: f64,
    radians: f64,
}

struct Last {
    row: u64,
    time_s: f64,
    values: Vec<f64>,
}

impl Reducer {
    pub fn new(planned: Vec<Planned>, settings: &Settings) -> Result<Self, Refusal> {
        settings.check()?;
        let channels: Vec<_> = planned.iter().map(|planned| planned.channel).collect();
        let layout = Layout {
            channels: channels.iter().map(|channel| channel.name).collect(),
            thresholds: &settings.thresholds,
        };
        let watch = Watch::new(&layout, settings.limits.shocks);
        let counted = channels
            .iter()
            .enumerate()
            .filter(|(_, channel)| channel.counted);
        Ok(Self {
            settings: *settings,
            cycles: counted
                .map(|(position, channel)| Cycles::new(channel, position))
                .collect(),
            values: Vec::with_capacity(channels.len()),
            points: Points::new(channels, settings.limits.cells),
            tracks: planned.into_iter().map(Track::new).collect(),
            watch,
            start_s: None,
            last: None,
            gaps: Tally::default(),
            bad_times: Tally::default(),
            row_lengths: Tally::default(),
            rows: 0,
            counted_s: 0.0,
            radians: 0.0,
        })
    }

    /// Takes a row. `cell` gives the samples by their place in the row.
    ///
    /// # Errors
    /// Time going back, too many shocks. The reduction is of no use after that.
    pub fn row(
        &mut self,
        row: u64,
        time: Sample,
        cell: impl Fn(usize) -> Sample,
    ) -> Result<(), Refusal> {
        self.rows += 1;
        let Sample::Number(time_s) = time else {
            self.bad_times.add(row);
            return Ok(());
        };
        let start_s = *self.start_s.get_or_insert(time_s);
        let time_s = time_s - start_s;
        self.close_last(row, time_s)?;

        self.values.clear();
        let mut fresh_cycles = self.cycles.iter_mut().peekable();
        for (position, track) in self.tracks.iter_mut().enumerate() {
            let (value, fresh) = track.take(row, time_s, cell(track.planned.cell));
            self.values.push(value);
            if let Some(cycles) = fresh_cycles.next_if(|cycles| cycles.position == position)
                && fresh
            {
                cycles.push(value);
            }
        }
        self.watch.row(time_s, &self.values)?;
        let mut last = self.last.take().unwrap_or(Last {
            row,
            time_s,
            values: Vec::new(),
        });
        (last.row, last.time_s) = (row, time_s);
        std::mem::swap(&mut last.values, &mut self.values);
        self.last = Some(last);
        Ok(())
    }

    /// A row that is longer or shorter than the header.
    pub fn odd_row_length(&mut self, row: u64) {
        self.row_lengths.add(row);
    }

    /// The values of the row before hold until now, unless there is a gap.
    fn close_last(&mut self, row: u64, time_s: f64) -> Result<(), Refusal> {
        let Some(last) = &self.last else {
            return Ok(());
        };
        let step_s = time_s - last.time_s;
        if step_s < 0.0 {
            return Err(self.time_goes_back(row, last, time_s));
        }
        if step_s > self.settings.limits.gap_s * ROUNDING {
            self.gaps.add(row);
            self.gaps.lost_s += step_s;
            let last_s = last.time_s;
            self.tracks.iter_mut().for_each(Track::interrupt);
            return self.watch.stop(last_s);
        }
        self.count(step_s);
        Ok(())
    }

    fn time_goes_back(&self, row: u64, last: &Last, time_s: f64) -> Refusal {
        let start_s = self.start_s.unwrap_or(0.0);
        error(
            "time",
            format!("{} s in row {row}", time_s + start_s),
            format!("at least the {} s of row {}", last.time_s + start_s, last.row),
            "send one log at a time, in the order in which it was recorded; check the time column's unit",
        )
        .into()
    }

    /// Counts time at the values that hold.
    fn count(&mut self, step_s: f64) {
        let Some(last) = &self.last else {
            return;
        };
        if let Some(position) = self.points.unknown(&last.values) {
            if let Some(track) = self.tracks.get_mut(position) {
                track.blank.lost_s += step_s;
            }
            return;
        }
        self.points.add(&last.values, step_s);
        self.counted_s += step_s;
        let named = |track: &Track| track.planned.channel.name == "engine_speed_rad_s";
        if let Some(position) = self.tracks.iter().position(named) {
            self.radians += last.values.get(position).copied().unwrap_or(0.0) * step_s;
        }
    }

    /// How much is kept, in numbers. Bounded whatever the length of the log.
    pub fn retained(&self) -> usize {
        let cells = self.points.len() * (2 + 3 * self.tracks.len());
        cells + self.cycles.iter().map(Cycles::len).sum::<usize>() + self.watch.len()
    }

    /// Ends the log. `last_step_s` is how long the last row lasts.
    ///
    /// # Errors
    /// No row, no time that counts, a required channel that is too bad.
    pub fn finish(
        mut self,
        last_step_s: f64,
        unused_columns: Vec<String>,
    ) -> Result<Reduced, Refusal> {
        let end_s = self.last.as_ref().map_or(0.0, |last| last.time_s) + last_step_s;
        self.count(last_step_s);
        self.watch.stop(end_s)?;
        let left_out = self.judge()?;
        if self.counted_s <= 0.0 {
            return Err(self.nothing_counted().into());
        }

        let mut report = IntakeReport {
            rows: self.rows,
            samples: self.tracks.iter().map(Track::good).sum(),
            log_duration_s: end_s,
            counted_duration_s: self.counted_s,
            crank_revolutions: self.radians / std::f64::consts::TAU,
            unused_columns,
            ..IntakeReport::default()
        };
        for (channel, width) in self.points.widened() {
            report.notes.push(warning(
                channel.name,
                format!("cells of {width} {}", channel.unit),
                format!("at most {} cells", self.settings.limits.cells),
                "cells were widened; their means are exact: raise the limit for a finer picture",
            ));
        }
        let names: Vec<&'static str> = self.tracks.iter().map(|t| t.planned.channel.name).collect();
        let dropped = |name: &str| left_out.iter().any(|finding| finding.field == name);

        let columns = self.points.columns();
        let mut duty = DutyTable {
            time_s: columns.time_s,
            ..DutyTable::default()
        };
        duty.duration_s = duty.time_s.iter().sum();
        for (name, column) in names
            .iter()
            .zip(columns.means)
            .filter(|(name, _)| !dropped(name))
        {
            duty.channels.push((*name).to_owned());
            duty.points.push(column);
        }
        let cycles = self.cycles.into_iter().map(Cycles::finish);
        duty.cycles = cycles.filter(|cycles| !dropped(&cycles.channel)).collect();
        let rate = |channel: &str| {
            let mut tracks = self.tracks.iter();
            tracks
                .find(|track| track.planned.channel.name == channel)?
                .rate_hz(end_s)
        };
        let (shocks, not_looked_for, notes) = self.watch.finish(rate);
        duty.shocks = shocks;
        report.not_looked_for = not_looked_for;
        report.notes.extend(notes);
        report.notes.extend(left_out);
        let not_bridged = "not counted as use; held values and shocks end there";
        report
            .flaws
            .extend(self.gaps.flaw(FlawKind::Gap, "time", not_bridged));
        report.flaws.extend(
            self.bad_times
                .flaw(FlawKind::NotANumber, "time", "rows left out"),
        );
        let lengths = "missing cells taken as blank, extra ones left out";
        report
            .flaws
            .extend(self.row_lengths.flaw(FlawKind::RowLength, "", lengths));
        let flaws: Vec<Flaw> = self.tracks.into_iter().flat_map(Track::flaws).collect();
        report.flaws.extend(flaws);
        Ok(Reduced { duty, report })
    }

    /// Optional channels that are too bad to use.
    fn judge(&self) -> Result<Vec<Finding>, Refusal> {
        let limit = self.settings.limits.bad_share;
        if self.rows == 0 {
            return Err(error(
                "log",
                "without a row",
                "a header and at least two rows",
                "check that the log was exported in full",
            )
            .into());
        }
        let mut found: Vec<Finding> = self
            .tracks
            .iter()
            .filter_map(|track| track.too_bad(limit))
            .collect();
        if self.bad_times.count as f64 > limit * self.rows as f64 {
            found.push(error(
                "time",
                format!(
                    "unreadable in {} of {} rows",
                    self.bad_times.count, self.rows
                ),
                format!("at most {:.1} %", 100.0 * limit),
                "check the time column and the decimal sign",
            ));
        }
        if found
            .iter()
            .any(|finding| finding.severity == Severity::Error)
        {
            return Err(Refusal { findings: found });
        }
        Ok(found)
    }

    fn nothing_counted(&self) -> Finding {
        error(
            "log",
            format!("{} rows of which no time counts", self.rows),
            format!("rows at most {} s apart", self.settings.limits.gap_s),
            "check the time column's unit, or raise the gap limit for a slow logger",
        )
    }
}
