//! What was measured and looked for at a component.

use crate::{ComponentName, InspectionName, RateBelief};
use jiff::Timestamp;
use ringland_host::contract::{Digest, Finding};
use serde::{Deserialize, Serialize};

/// What a client says of an inspection.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct InspectionInput {
    /// Required.
    pub inspection_time: Option<Timestamp>,
    /// A role or initials.
    pub inspected_by: String,
    /// Anything to remember.
    pub notes: String,
    /// Measured values.
    pub readings: Vec<MeasuredReading>,
    /// Looks for cracks.
    pub crack_checks: Vec<CrackCheck>,
}

/// What was measured of a component and looked for at it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Inspection {
    /// `components/{component}/inspections/{inspection}`
    pub name: InspectionName,
    /// Which component.
    pub component: ComponentName,
    /// When. It sees the component as it was just before shop operations and duty of that time.
    pub inspection_time: Timestamp,
    /// A role or initials.
    pub inspected_by: String,
    /// Anything to remember.
    pub notes: String,
    /// Measured values.
    pub readings: Vec<MeasuredReading>,
    /// Looks for cracks.
    pub crack_checks: Vec<CrackCheck>,
    /// When it entered the ledger.
    pub create_time: Timestamp,
}

/// One measured value.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct MeasuredReading {
    /// As on the model's card.
    pub reading: String,
    /// As the instrument showed it, SI.
    pub value: f64,
    /// Cylinder, side, gear: free text.
    pub position: String,
    /// Kind of instrument.
    pub instrument: String,
    /// Which one; its bias is learnt by this.
    pub instrument_id: String,
    /// Instrument error, one standard deviation; `None`: as on the model's card.
    pub instrument_sd: Option<f64>,
    /// For a length that was measured against a master.
    pub master: Option<MasterComparison>,
    /// State of the unit.
    pub thermal_state: ThermalState,
    /// The same reading at the build, if their difference counts.
    pub zero: Option<f64>,
    /// Why it is as it is.
    pub explanation: Explanation,
    /// The value corrected to 20 degC.
    pub corrected_value: f64,
    /// Earlier explanations, oldest first.
    pub explanation_history: Vec<ExplanationChange>,
}

/// A length measured as a deviation from a master.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct MasterComparison {
    /// Temperature of the part when it was measured.
    pub part_temperature_k: f64,
    /// Temperature of the master when the instrument was set.
    pub master_temperature_k: f64,
    /// Nominal length.
    pub size_m: f64,
    /// Material of the part.
    pub part_material: Material,
    /// Material of the master.
    pub master_material: Material,
    /// In place of the material's.
    pub part_expansion_per_k: Option<f64>,
    /// In place of the material's.
    pub master_expansion_per_k: Option<f64>,
}

/// Materials with a usual thermal expansion.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Material {
    /// Steel.
    #[default]
    Steel,
    /// Grey cast iron.
    Iron,
    /// Aluminium.
    Aluminium,
    /// Titanium.
    Titanium,
    /// Tungsten carbide.
    Carbide,
}

/// State of the unit when it was measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThermalState {
    /// Not said.
    #[default]
    Unspecified,
    /// At running temperature.
    Hot,
    /// Cold.
    Cold,
}

/// Why a reading is as it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Explanation {
    /// Learnt as a rate.
    #[default]
    Wear,
    /// A casting that settled: the part is as measured and goes on at the normal rate.
    CastingShift,
    /// As a casting shift.
    Abuse,
    /// As a casting shift.
    AssemblyError,
    /// Counts for the instrument's bias only.
    InstrumentBias,
    /// Not learnt before somebody explains it.
    Unexplained,
}

impl Explanation {
    /// The part is as measured and goes on at the normal rate.
    pub fn moves_condition(self) -> bool {
        matches!(self, Self::CastingShift | Self::Abuse | Self::AssemblyError)
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Wear => "wear",
            Self::CastingShift => "casting shift",
            Self::Abuse => "abuse",
            Self::AssemblyError => "assembly error",
            Self::InstrumentBias => "instrument bias",
            Self::Unexplained => "unexplained",
        }
    }
}

/// An explanation that was replaced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ExplanationChange {
    /// What it was.
    pub was: Explanation,
    /// What it became.
    pub became: Explanation,
    /// A role or initials.
    pub by: String,
    /// Why.
    pub reason: String,
    /// When.
    pub change_time: Timestamp,
}

/// A look for cracks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrackCheck {
    /// How.
    pub method: CrackMethod,
    /// As on the model's card; empty: every mechanism that no reading measures.
    pub mechanisms: Vec<String>,
    /// What was found.
    pub result: CrackResult,
    /// Length of the longest indication.
    pub indication_length_m: Option<f64>,
    /// Length found nine times of ten, where the shop has shown one.
    pub a90_m: Option<f64>,
    /// Anything to remember.
    pub note: String,
}

/// How cracks were looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum CrackMethod {
    /// Naked eye.
    NakedEye,
    /// Penetrant.
    Penetrant,
    /// Wet fluorescent magnetic particle.
    WetFluorescentMagneticParticle,
    /// Eddy current.
    EddyCurrent,
}

/// What a look for cracks found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum CrackResult {
    /// No indication.
    Clean,
    /// An indication.
    Indication,
}

/// What one reading of an inspection says beside the prediction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReadingComparison {
    /// Which inspection.
    pub inspection: InspectionName,
    /// As on the model's card.
    pub reading: String,
    /// Name for people.
    pub label: String,
    /// SI unit.
    pub unit: String,
    /// How many lines.
    pub lines: i32,
    /// Mean of the lines, corrected.
    pub measured: f64,
    /// Error of the mean, one standard deviation.
    pub measured_sd: f64,
    /// The worst of the lines.
    pub worst: f64,
    /// What the model expected at its own rate.
    pub predicted: f64,
    /// Reject value.
    pub limit: Option<f64>,
    /// Probability that the worst line is past it, by the instrument's error.
    pub probability_past_limit: Option<f64>,
    /// The mechanism whose rate it informs; empty: none.
    pub mechanism: String,
    /// Natural logarithm of the rate at which the model would have expected it.
    pub ln_rate: Option<f64>,
    /// Its standard deviation.
    pub ln_rate_sd: Option<f64>,
    /// Weight of this reading alone against the model's prior.
    pub weight: Option<f64>,
    /// Distance from what everything else says, in standard deviations.
    pub surprise: Option<f64>,
    /// Why it is as it is.
    pub explanation: Explanation,
    /// Whether it moves the rate.
    pub learnt: bool,
    /// In words.
    pub text: String,
}

/// How inspections have moved the model for one component.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    /// Which component.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// The model.
    pub model_digest: Digest,
    /// In card order.
    pub mechanisms: Vec<MechanismCorrection>,
    /// What each reading of this component said, oldest first.
    pub comparisons: Vec<ReadingComparison>,
    /// Inspections that the model could not be compared with, and why.
    pub findings: Vec<Finding>,
}

/// The belief of one mechanism's rate.
#[derive(Clone, Debug, PartialEq)]
pub struct MechanismCorrection {
    /// As on the model's card.
    pub mechanism: String,
    /// Name for people.
    pub label: String,
    /// What is believed of the rate.
    pub rate: RateBelief,
}

/// The answer to a recorded inspection.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RecordInspectionResponse {
    /// As stored.
    pub inspection: Inspection,
    /// Warnings.
    pub findings: Vec<Finding>,
    /// What each reading says.
    pub comparisons: Vec<ReadingComparison>,
}

/// The answer of a check.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CheckInspectionResponse {
    /// Errors and warnings, all at once.
    pub findings: Vec<Finding>,
    /// What each reading would say.
    pub comparisons: Vec<ReadingComparison>,
}

/// Says why a reading is as it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ExplainInspection {
    /// Which inspection.
    pub name: InspectionName,
    /// As on the model's card.
    pub reading: String,
    /// Empty: every line of the reading.
    pub position: String,
    /// Why it is as it is.
    pub explanation: Explanation,
    /// A role or initials.
    pub by: String,
    /// On what ground.
    pub reason: String,
}

/// The answer to an explanation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ExplainInspectionResponse {
    /// As stored now.
    pub inspection: Inspection,
    /// What each reading says now.
    pub comparisons: Vec<ReadingComparison>,
}
