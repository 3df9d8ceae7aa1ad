//! `ringland seating`.

use super::Session;
use crate::{
    CliError, json,
    measures::{self, MEASURES, Measure, Quantity},
    names,
    show::seating,
};
use clap::Args;
use ringland_proto::v1::{AssessSeatingRequest, BlowByMeter, BreakInPull, LeakDownState};
use std::path::PathBuf;

/// `ringland seating`
#[derive(Debug, Args)]
pub struct SeatingArgs {
    /// The ring pack [default: from the readings alone]
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "COMPONENT"
    )]
    component: String,
    /// Blow-by of the engine at full load, after pull 0, 1, 2 ...; - where none was read
    #[arg(
        long,
        value_delimiter = ',',
        allow_hyphen_values = true,
        value_name = "FLOWS"
    )]
    #[arg(required_unless_present_any = ["leak_down", "file"])]
    pulls: Vec<String>,
    /// Unit of blow-by: l/min, cfm, m3/s
    #[arg(long, default_value = "l/min", value_parser = flow_unit)]
    unit: &'static Measure,
    /// Pulls done by each reading [default: 0,1,2,...]
    #[arg(long, value_delimiter = ',', value_name = "NUMBERS")]
    numbers: Vec<f64>,
    /// Duty record that ends with each reading: UNIT/RECORD, - for none [default: found by their session]
    #[arg(
        long,
        value_delimiter = ',',
        allow_hyphen_values = true,
        value_name = "RECORDS"
    )]
    records: Vec<String>,
    /// Absolute pressure in the meter, as 1.01bar [default: 1 bar]
    #[arg(long, value_parser = pressure)]
    gas_pressure: Option<f64>,
    /// Temperature in the meter, as 85degF [default: 300 K]
    #[arg(long, value_parser = temperature)]
    gas_temp: Option<f64>,
    /// Error of the meter from reading to reading in percent [default: 2]
    #[arg(long, value_name = "PERCENT")]
    meter_error: Option<f64>,
    /// Leak-down in percent after pull 0, 1, 2 ..., hot; - where none was read
    #[arg(
        long,
        value_delimiter = ',',
        allow_hyphen_values = true,
        value_name = "PERCENT"
    )]
    leak_down: Vec<String>,
    /// Leak-down was read cold
    #[arg(long, requires = "leak_down")]
    cold: bool,
    /// Orifice of the leak-down tester, as 1mm
    #[arg(long, value_parser = length, requires = "leak_down")]
    orifice: Option<f64>,
    /// Blow-by that such an engine reads when seated, in --unit [default: the model's]
    #[arg(long, value_name = "FLOW")]
    expected: Option<f64>,
    /// Seated blow-by that is not accepted any more, in --unit [default: the model's, or twice the expected]
    #[arg(long, value_name = "FLOW")]
    limit: Option<f64>,
    /// Profile of an event, for what the break-in costs [default: the unit's]
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "PROFILE"
    )]
    profile: String,
    /// The whole call instead: TOML with the fields of the API's AssessSeatingRequest
    #[arg(long, value_name = "FILE", conflicts_with_all = ["pulls", "leak_down", "component"])]
    file: Option<PathBuf>,
}

impl SeatingArgs {
    fn request(&self) -> Result<AssessSeatingRequest, CliError> {
        if let Some(file) = &self.file {
            return json::from_toml_file("AssessSeatingRequest", file);
        }
        let count = self.pulls.len().max(self.leak_down.len());
        for (option, given) in [
            ("--leak-down", self.leak_down.len()),
            ("--pulls", self.pulls.len()),
            ("--numbers", self.numbers.len()),
            ("--records", self.records.len()),
        ] {
            if given != 0 && given != count {
                let text = format!(
                    "{option} has {given} entries for {count} readings; give one for each, - for none"
                );
                return Err(CliError::Usage(text));
            }
        }
        let flow = |value: f64| self.unit.to_si(value);
        let pulls = (0..count).map(|index| self.pull(index));
        Ok(AssessSeatingRequest {
            component: names::component(&self.component),
            profile: names::profile(&self.profile),
            pulls: pulls.collect::<Result<_, _>>()?,
            blow_by_meter: Some(BlowByMeter {
                sd_relative: self.meter_error.map(|percent| percent / 100.0),
                ..Default::default()
            }),
            expected_end_m3_s: self.expected.map(flow),
            limit_m3_s: self.limit.map(flow),
            ..Default::default()
        })
    }

    fn pull(&self, index: usize) -> Result<BreakInPull, CliError> {
        let flow = number("--pulls", self.pulls.get(index))?;
        let leak = number("--leak-down", self.leak_down.get(index))?;
        let state = match (leak, self.cold) {
            (None, _) => LeakDownState::Unspecified,
            (Some(_), false) => LeakDownState::Hot,
            (Some(_), true) => LeakDownState::Cold,
        };
        let record = self.records.get(index).filter(|record| *record != "-");
        Ok(BreakInPull {
            number: self.numbers.get(index).copied(),
            duty_record: record
                .map(|record| names::duty_record(record))
                .unwrap_or_default(),
            blow_by_m3_s: flow.map(|flow| self.unit.to_si(flow)),
            blow_by_pressure_pa: self.gas_pressure,
            blow_by_temp_k: self.gas_temp,
            leak_down_fraction: leak.map(|percent| percent / 100.0),
            leak_down_state: state.into(),
            leak_down_orifice_m: self.orifice.filter(|_| leak.is_some()),
            ..Default::default()
        })
    }
}

pub(super) async fn run(arguments: SeatingArgs, session: &Session) -> Result<(), CliError> {
    let request = arguments.request()?;
    let answer = session
        .api
        .running_in()
        .assess_seating(request)
        .await?
        .into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("SeatingAssessment", &answer)?);
    }
    out.text(&seating(&answer, arguments.unit, &out.look))
}

/// An entry of a list; a dash is none.
fn number(option: &str, text: Option<&String>) -> Result<Option<f64>, CliError> {
    let Some(text) = text.filter(|text| *text != "-") else {
        return Ok(None);
    };
    let number = text.trim().parse();
    number
        .map(Some)
        .map_err(|_| CliError::Usage(format!("{option}: {text:?} is neither a number nor -")))
}

/// A unit of volume flow, whatever its case.
fn flow_unit(text: &str) -> Result<&'static Measure, String> {
    let flows = || {
        MEASURES
            .iter()
            .filter(|measure| measure.quantity == Quantity::Flow)
    };
    flows()
        .find(|measure| measure.symbol.eq_ignore_ascii_case(text))
        .ok_or_else(|| {
            let known: Vec<&str> = flows().map(|measure| measure.symbol).collect();
            format!("expected one of {}", known.join(", "))
        })
}

fn pressure(text: &str) -> Result<f64, String> {
    measures::read(text, Quantity::Pressure)
}

fn temperature(text: &str) -> Result<f64, String> {
    measures::read(text, Quantity::Temperature)
}

fn length(text: &str) -> Result<f64, String> {
    measures::read(text, Quantity::Length)
}
