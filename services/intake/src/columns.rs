//! Samples as columns, channel by channel, in pieces.

use crate::finding::{Refusal, error};
use crate::limits::Settings;
use crate::map::standard_atmosphere_pa;
use crate::plan::{Wanted, plan};
use crate::reducer::{Reduced, Reducer};
use crate::tracks::Sample;
use serde::{Deserialize, Serialize};

/// What a column of samples is.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SampleChannel {
    /// Standard channel name.
    pub channel: String,
    /// Unit of the samples.
    pub unit: String,
    /// How long a value holds over missing samples; the limits' default without it.
    pub hold_s: Option<f64>,
}

/// A log that comes as columns of samples.
pub struct SampleLog {
    reducer: Reducer,
    columns: usize,
    rows: u64,
}

impl SampleLog {
    /// For columns in this order. Pressures turn from gauge to absolute and back with the standard
    /// atmosphere.
    ///
    /// # Errors
    /// Unknown channels or units, a channel twice, settings out of range; all at once.
    pub fn new(channels: &[SampleChannel], settings: &Settings) -> Result<Self, Refusal> {
        let wanted: Vec<Wanted<'_>> = channels
            .iter()
            .enumerate()
            .map(|(cell, channel)| Wanted {
                field: format!("sample_channels[{cell}]"),
                channel: &channel.channel,
                unit: &channel.unit,
                scale: 1.0,
                offset: 0.0,
                rate_hz: None,
                hold_s: channel.hold_s,
                optional: false,
                cell,
            })
            .collect();
        let planned = plan(&wanted, &settings.limits, standard_atmosphere_pa())?;
        Ok(Self {
            reducer: Reducer::new(planned, settings)?,
            columns: channels.len(),
            rows: 0,
        })
    }

    /// Takes a piece: times in seconds, never falling, and one column for each channel, as long as the times. A
    /// NaN is a missing sample.
    ///
    /// # Errors
    /// Columns of another number or length, time going back, too many shocks. The log is of no use
    /// after that.
    pub fn push<C: AsRef<[f64]>>(&mut self, time_s: &[f64], columns: &[C]) -> Result<(), Refusal> {
        if columns.len() != self.columns {
            return Err(error(
                "samples.columns",
                columns.len(),
                format!("{}, one for each sample channel", self.columns),
                "send the columns in the order of the sample channels",
            )
            .into());
        }
        if let Some(index) = columns
            .iter()
            .position(|column| column.as_ref().len() != time_s.len())
        {
            return Err(error(
                format!("samples.columns[{index}]"),
                format!(
                    "{} samples",
                    columns.get(index).map_or(0, |c| c.as_ref().len())
                ),
                format!("{}, as many as times", time_s.len()),
                "write a missing sample as NaN",
            )
            .into());
        }
        for (row, time) in time_s.iter().enumerate() {
            let cell = |column: usize| {
                let sample = columns
                    .get(column)
                    .and_then(|column| column.as_ref().get(row));
                sample.map_or(Sample::Blank, |value| from_number(*value))
            };
            let time = if time.is_finite() {
                Sample::Number(*time)
            } else {
                Sample::Bad
            };
            self.rows += 1;
            self.reducer.row(self.rows, time, cell)?;
        }
        Ok(())
    }

    /// How much is kept, in numbers. Bounded whatever the length of the log.
    pub fn retained(&self) -> usize {
        self.reducer.retained()
    }

    /// Ends the log.
    ///
    /// # Errors
    /// No row, no time that counts, a channel that is too bad.
    pub fn finish(self) -> Result<Reduced, Refusal> {
        self.reducer.finish(0.0, Vec::new())
    }
}

fn from_number(value: f64) -> Sample {
    if value.is_finite() {
        Sample::Number(value)
    } else if value.is_nan() {
        Sample::Blank
    } else {
        Sample::Bad
    }
}
