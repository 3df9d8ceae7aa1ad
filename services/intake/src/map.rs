//! How the columns of a CSV file become channels.

use crate::finding::{Refusal, error, settle};
use crate::units::TIME_UNITS;
use ringland_host::contract::Finding;
use serde::{Deserialize, Serialize};

/// A channel map, as kept in a TOML file or sent with a log.
///
/// ```toml
/// name = "dyno cell"
/// time_column = "Time"
/// time_unit = "s"
///
/// [[columns]]
/// channel = "engine_speed_rad_s"
/// column = "Engine RPM"
/// unit = "rpm"
///
/// [[columns]]
/// channel = "oil_pressure_pa"
/// column = "Oil P"
/// unit = "psig"
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChannelMap {
    /// Name of the map, for messages.
    #[serde(default)]
    pub name: String,
    /// Header of the time column; empty when the rows are evenly spaced (`sample_rate_hz`).
    #[serde(default)]
    pub time_column: String,
    /// `s`, `ms`, `us`, `min`.
    #[serde(default = "seconds")]
    pub time_unit: String,
    /// Rows per second of a file without a time column.
    #[serde(default)]
    pub sample_rate_hz: Option<f64>,
    /// The columns to use.
    pub columns: Vec<ChannelColumn>,
    /// Between cells: one ASCII character.
    #[serde(default = "comma")]
    pub delimiter: char,
    /// Lines before the header line, blank ones not counted.
    #[serde(default)]
    pub skip_lines: u32,
    /// Lines between the header and the first row, such as a line of units, blank ones not counted.
    #[serde(default)]
    pub skip_lines_after_header: u32,
    /// Turns absolute pressures to gauge and back.
    #[serde(default = "standard_atmosphere_pa")]
    pub ambient_pressure_pa: f64,
}

fn seconds() -> String {
    "s".to_owned()
}

fn comma() -> char {
    ','
}

/// Standard atmosphere (ISO 2533).
pub(crate) fn standard_atmosphere_pa() -> f64 {
    101_325.0
}

/// One column of a CSV file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChannelColumn {
    /// Standard channel name.
    pub channel: String,
    /// Header in the file.
    pub column: String,
    /// Unit of the numbers in the file.
    pub unit: String,
    /// Applied before the unit: value = raw * scale + offset.
    #[serde(default = "one")]
    pub scale: f64,
    /// See `scale`.
    #[serde(default)]
    pub offset: f64,
    /// Samples per second, where fewer than rows: the cells between are blank. The value then holds for at
    /// least two samples.
    #[serde(default)]
    pub rate_hz: Option<f64>,
    /// How long a value holds over blank or bad cells; the limits' default without it.
    #[serde(default)]
    pub hold_s: Option<f64>,
    /// The file may be without the column. When it is there but too bad to use it is left out, unless it
    /// makes operating points: then the log is refused as for any other column.
    #[serde(default)]
    pub optional: bool,
}

fn one() -> f64 {
    1.0
}

impl ChannelMap {
    /// What can be said of a map without a file.
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        let mut findings = Vec::new();
        if !self.delimiter.is_ascii() || matches!(self.delimiter, '"' | '\n' | '\r') {
            findings.push(error(
                "channel_map.delimiter",
                format!("{:?}", self.delimiter),
                "one ASCII character such as , ; or a tab",
                "name the character between the file's cells",
            ));
        }
        if !(self.ambient_pressure_pa > 3e4 && self.ambient_pressure_pa < 1.2e5) {
            findings.push(error(
                "channel_map.ambient_pressure_pa",
                self.ambient_pressure_pa,
                "30000 to 120000",
                "give the ambient pressure in pascals",
            ));
        }
        findings.extend(self.check_time());
        settle(findings)
    }

    fn check_time(&self) -> Option<Finding> {
        if self.time_column.is_empty() == self.sample_rate_hz.is_none() {
            return Some(error(
                "channel_map.time_column",
                format!(
                    "{:?} with sample_rate_hz {:?}",
                    self.time_column, self.sample_rate_hz
                ),
                "either a time column or a sample rate",
                "name the time column, or give sample_rate_hz for evenly spaced rows",
            ));
        }
        if let Some(rate) = self.sample_rate_hz
            && !(rate.is_finite() && rate > 0.0)
        {
            return Some(error(
                "channel_map.sample_rate_hz",
                rate,
                "a finite number above 0",
                "give the rows per second",
            ));
        }
        if self.time_factor().is_none() {
            let units: Vec<&str> = TIME_UNITS.iter().map(|(name, _)| *name).collect();
            return Some(error(
                "channel_map.time_unit",
                format!("{:?}", self.time_unit),
                units.join(", "),
                "name the unit of the time column",
            ));
        }
        None
    }

    /// Seconds in the time column's unit.
    pub(crate) fn time_factor(&self) -> Option<f64> {
        TIME_UNITS
            .iter()
            .find(|(name, _)| *name == self.time_unit)
            .map(|(_, factor)| *factor)
    }
}
