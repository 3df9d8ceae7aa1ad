//! An inspection from its file and flags.

use crate::{CliError, json, measures, names, times};
use clap::{Args, ValueEnum};
use prost_types::Timestamp;
use ringland_proto::v1::{
    CrackCheck, CrackMethod, CrackResult, Inspection, MasterComparison, Material, MeasuredReading,
    ThermalState,
};
use std::path::PathBuf;

/// What was measured and looked for, as given on the command line.
#[derive(Debug, Args)]
pub struct InspectionFields {
    /// Which component
    component: String,
    /// TOML with [[readings]] and [[crack_checks]] as in the contract, in SI; flags add to it
    #[arg(long, value_name = "FILE")]
    file: Option<PathBuf>,
    /// When it was measured
    #[arg(long, value_name = "TIME", value_parser = times::read)]
    at: Option<Timestamp>,
    /// Who measured: a role or initials
    #[arg(long, value_name = "TEXT")]
    by: Option<String>,
    /// A measured value: end_gap_m@1=22.5thou for cylinder 1; without a unit it is SI; several times for several
    #[arg(long = "reading", value_name = "NAME[@POSITION]=VALUE", value_parser = reading)]
    readings: Vec<MeasuredReading>,
    /// What the readings were taken with
    #[arg(long, value_name = "TEXT")]
    instrument: Option<String>,
    /// Which instrument: its serial or the shop's name for it
    #[arg(long, value_name = "TEXT")]
    instrument_id: Option<String>,
    /// Error of the instrument, one standard deviation: 10um [default: as on the model's card]
    #[arg(long, value_name = "VALUE", value_parser = value)]
    sd: Option<f64>,
    /// State of the unit when it was measured
    #[arg(long, value_enum)]
    state: Option<State>,
    /// Temperature of the part, for a length measured against a master: 30degC
    #[arg(long, value_name = "TEMPERATURE", value_parser = temperature, requires_all = ["master_temp", "size"])]
    part_temp: Option<f64>,
    /// Temperature of the master when the gauge was set
    #[arg(long, value_name = "TEMPERATURE", value_parser = temperature, requires = "part_temp")]
    master_temp: Option<f64>,
    /// Nominal length: 86mm
    #[arg(long, value_name = "LENGTH", value_parser = value, requires = "part_temp")]
    size: Option<f64>,
    /// Material of the part
    #[arg(long, value_enum, default_value_t = Metal::Steel)]
    part_material: Metal,
    /// Material of the master
    #[arg(long, value_enum, default_value_t = Metal::Steel)]
    master_material: Metal,
    /// A look for cracks: penetrant=clean, or penetrant=2.5mm for an indication of that length
    #[arg(long = "crack-check", value_name = "METHOD=RESULT", value_parser = crack_check)]
    crack_checks: Vec<CrackCheck>,
    /// Mechanism that the looks for cracks are meant for [default: each that no reading measures]
    #[arg(long = "mechanism", value_name = "NAME")]
    mechanisms: Vec<String>,
    /// Anything to remember
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

/// Hot or cold.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum State {
    /// At running temperature
    Hot,
    /// Cold
    Cold,
}

/// Materials with a usual thermal expansion.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Metal {
    /// 11.5e-6 per kelvin
    Steel,
    /// Grey cast iron, 11.0e-6 per kelvin
    Iron,
    /// 23e-6 per kelvin
    Aluminium,
    /// 8.6e-6 per kelvin
    Titanium,
    /// Tungsten carbide, 5.5e-6 per kelvin
    Carbide,
}

impl Metal {
    fn message(self) -> Material {
        match self {
            Self::Steel => Material::Steel,
            Self::Iron => Material::Iron,
            Self::Aluminium => Material::Aluminium,
            Self::Titanium => Material::Titanium,
            Self::Carbide => Material::Carbide,
        }
    }
}

impl InspectionFields {
    /// Puts file and flags together; flags win.
    ///
    /// # Errors
    /// When the file cannot be used.
    pub(super) fn read(self) -> Result<Inspection, CliError> {
        let mut inspection: Inspection = match &self.file {
            Some(file) => json::from_toml_file("Inspection", file)?,
            None => Inspection::default(),
        };
        let master = self.master();
        inspection.component = names::component(&self.component);
        inspection.inspection_time = self.at.or(inspection.inspection_time);
        inspection.inspected_by = self.by.unwrap_or(inspection.inspected_by);
        inspection.notes = self.note.unwrap_or(inspection.notes);
        inspection.readings.extend(self.readings);
        for line in &mut inspection.readings {
            if let Some(instrument) = &self.instrument {
                line.instrument.clone_from(instrument);
            }
            if let Some(id) = &self.instrument_id {
                line.instrument_id.clone_from(id);
            }
            line.instrument_sd = self.sd.or(line.instrument_sd);
            line.master = master.or(line.master);
            match self.state {
                Some(State::Hot) => line.set_thermal_state(ThermalState::Hot),
                Some(State::Cold) => line.set_thermal_state(ThermalState::Cold),
                None => {}
            }
        }
        let looks = self.crack_checks.into_iter().map(|check| CrackCheck {
            mechanisms: self.mechanisms.clone(),
            ..check
        });
        inspection.crack_checks.extend(looks);
        Ok(inspection)
    }

    fn master(&self) -> Option<MasterComparison> {
        let ((part, master), size) = self.part_temp.zip(self.master_temp).zip(self.size)?;
        Some(MasterComparison {
            part_temperature_k: part,
            master_temperature_k: master,
            size_m: size,
            part_material: self.part_material.message().into(),
            master_material: self.master_material.message().into(),
            ..Default::default()
        })
    }
}

/// Reads `end_gap_m@1=22.5thou`.
fn reading(text: &str) -> Result<MeasuredReading, String> {
    let expected = || format!("{text:?}: expected NAME=VALUE or NAME@POSITION=VALUE");
    let (name, number) = text.split_once('=').ok_or_else(expected)?;
    let (name, position) = name.split_once('@').unwrap_or((name, ""));
    if name.is_empty() {
        return Err(expected());
    }
    Ok(MeasuredReading {
        reading: name.into(),
        position: position.into(),
        value: value(number)?,
        ..Default::default()
    })
}

/// Reads `22.5thou`, `6.9%` or a plain SI number.
fn value(text: &str) -> Result<f64, String> {
    let text = text.trim();
    if let Ok(si) = text.parse() {
        return Ok(si);
    }
    let split = text
        .char_indices()
        .find(|(i, c)| (c.is_alphabetic() || *c == '%') && !is_exponent(text, *i))
        .map_or(text.len(), |(i, _)| i);
    let (number, symbol) = text.split_at(split);
    let expected =
        || format!("{text:?}: expected a number, in SI or with a unit such as 22.5thou or 0.57mm");
    let number: f64 = number.trim().parse().map_err(|_| expected())?;
    match symbol.trim() {
        "%" => Ok(number / 100.0),
        symbol => measures::find(symbol)
            .map(|unit| unit.to_si(number))
            .ok_or_else(expected),
    }
}

/// Whether the letter is the `e` of `1e-3`.
fn is_exponent(text: &str, at: usize) -> bool {
    let rest = &text[at..];
    let after = rest.chars().nth(1);
    rest.starts_with(['e', 'E'])
        && after.is_some_and(|c| c.is_ascii_digit() || c == '-' || c == '+')
}

fn temperature(text: &str) -> Result<f64, String> {
    measures::read(text, measures::Quantity::Temperature)
}

/// Reads `penetrant=clean` or `penetrant=2.5mm`.
fn crack_check(text: &str) -> Result<CrackCheck, String> {
    let methods = [
        ("naked-eye", CrackMethod::NakedEye),
        ("penetrant", CrackMethod::Penetrant),
        (
            "wet-fluorescent-magnetic-particle",
            CrackMethod::WetFluorescentMagneticParticle,
        ),
        ("eddy-current", CrackMethod::EddyCurrent),
    ];
    let names = methods.map(|(name, _)| name).join(", ");
    let expected = || {
        format!(
            "{text:?}: expected METHOD=clean, METHOD=indication or METHOD=LENGTH; METHOD is one of {names}"
        )
    };
    let (method, result) = text.split_once('=').ok_or_else(expected)?;
    let found = methods.iter().find(|(name, _)| *name == method);
    let (_, method) = found.ok_or_else(expected)?;
    let (result, length) = match result {
        "clean" => (CrackResult::Clean, None),
        "indication" => (CrackResult::Indication, None),
        length => (CrackResult::Indication, Some(value(length)?)),
    };
    Ok(CrackCheck {
        method: (*method).into(),
        result: result.into(),
        indication_length_m: length,
        ..Default::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_is_typed_in_shop_units() {
        let line = reading("end_gap_m@1=22.5thou").unwrap();
        assert_eq!(
            (line.reading.as_str(), line.position.as_str()),
            ("end_gap_m", "1")
        );
        // 1 thou = 25.4 um by definition.
        assert!((line.value - 22.5 * 25.4e-6).abs() < 1e-15);
        assert!((reading("a=5.7e-4").unwrap().value - 5.7e-4).abs() < 1e-18);
        assert!((reading("a=5.7e-1mm").unwrap().value - 5.7e-4).abs() < 1e-18);
        assert!((reading("a=6.9%").unwrap().value - 0.069).abs() < 1e-15);
        for wrong in ["a", "=1", "a=", "a=1furlong", "a=thou"] {
            assert!(reading(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_look_for_cracks_is_clean_or_has_a_length() {
        let clean = crack_check("penetrant=clean").unwrap();
        assert_eq!(clean.result(), CrackResult::Clean);
        let found = crack_check("eddy-current=2.5mm").unwrap();
        assert_eq!(found.result(), CrackResult::Indication);
        assert!((found.indication_length_m.unwrap() - 2.5e-3).abs() < 1e-15);
        assert!(crack_check("xray=clean").unwrap_err().contains("penetrant"));
    }
}
