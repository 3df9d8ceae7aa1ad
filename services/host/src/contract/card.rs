//! The card: what a plugin says of itself. Mirrors `interface card` of `sdk/wit/card.wit`, where
//! each field is explained; the order of fields is the contract's.

use serde::{Deserialize, Serialize};
#[cfg(feature = "wasm")]
use wasmtime::component::{ComponentType, Lift, Lower};

/// A number of the spec or a property of a surface.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct NumberField {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// SI unit.
    pub unit: String,
    /// Smallest accepted value.
    pub minimum: f64,
    /// Largest accepted value.
    pub maximum: f64,
    /// Used where the spec gives none.
    #[cfg_attr(feature = "wasm", component(name = "default-value"))]
    pub default_value: f64,
    /// Source of default and range; how to measure.
    pub note: String,
}

/// One of several named possibilities.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct ChoiceField {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// The possibilities.
    pub options: Vec<ChoiceOption>,
    /// Index into `options`.
    #[cfg_attr(feature = "wasm", component(name = "default-option"))]
    pub default_option: u32,
    /// Source and meaning.
    pub note: String,
}

/// One possibility of a choice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct ChoiceOption {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
}

/// A table of the spec.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct TableField {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// Its columns.
    pub columns: Vec<NumberField>,
    /// Fewest rows.
    #[cfg_attr(feature = "wasm", component(name = "minimum-rows"))]
    pub minimum_rows: u32,
    /// Most rows.
    #[cfg_attr(feature = "wasm", component(name = "maximum-rows"))]
    pub maximum_rows: u32,
    /// Default content, one list for each column.
    #[cfg_attr(feature = "wasm", component(name = "default-columns"))]
    pub default_columns: Vec<Vec<f64>>,
    /// Source and meaning.
    pub note: String,
}

/// A working surface and the properties of it that the model reads.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct SurfaceField {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// Properties, named from [`super::vocabulary::SURFACE_PROPERTIES`].
    pub properties: Vec<NumberField>,
    /// Whether a residual-stress profile is read.
    #[cfg_attr(feature = "wasm", component(name = "residual-stress"))]
    pub residual_stress: bool,
    /// Meaning.
    pub note: String,
}

/// How a slot may move while duty is added.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "wasm", derive(ComponentType, Lift, Lower), component(enum))]
#[repr(u8)]
pub enum Trend {
    /// Never falls.
    #[cfg_attr(feature = "wasm", component(name = "rising"))]
    Rising,
    /// Never rises.
    #[cfg_attr(feature = "wasm", component(name = "falling"))]
    Falling,
    /// May do either.
    #[cfg_attr(feature = "wasm", component(name = "free"))]
    Free,
}

/// One slot of the condition row.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Slot {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// SI unit.
    pub unit: String,
    /// How it may move.
    pub trend: Trend,
    /// Smallest possible value.
    pub minimum: f64,
    /// Largest possible value.
    pub maximum: f64,
}

/// On which side of its limit a reading is rejected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "wasm", derive(ComponentType, Lift, Lower), component(enum))]
#[repr(u8)]
pub enum LimitSide {
    /// Rejected above.
    #[cfg_attr(feature = "wasm", component(name = "above"))]
    Above,
    /// Rejected below.
    #[cfg_attr(feature = "wasm", component(name = "below"))]
    Below,
    /// No limit.
    #[cfg_attr(feature = "wasm", component(name = "unlimited"))]
    Unlimited,
}

/// A measurable quantity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct ReadingField {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// SI unit.
    pub unit: String,
    /// Side of the limit.
    #[cfg_attr(feature = "wasm", component(name = "limit-side"))]
    pub limit_side: LimitSide,
    /// Who sets the limit.
    #[cfg_attr(feature = "wasm", component(name = "limit-source"))]
    pub limit_source: String,
    /// What measures it.
    pub instrument: String,
    /// Instrument error, one standard deviation, absolute part.
    #[cfg_attr(feature = "wasm", component(name = "instrument-sd"))]
    pub instrument_sd: f64,
    /// Instrument error, one standard deviation, part relative to the value.
    #[cfg_attr(feature = "wasm", component(name = "instrument-sd-relative"))]
    pub instrument_sd_relative: f64,
    /// Mechanism whose rate a measurement informs.
    pub informs: Option<String>,
}

/// What happens when a mechanism runs out of life.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "wasm", derive(ComponentType, Lift, Lower), component(enum))]
#[repr(u8)]
pub enum Consequence {
    /// A nuisance.
    #[cfg_attr(feature = "wasm", component(name = "nuisance"))]
    Nuisance,
    /// Loss of power.
    #[cfg_attr(feature = "wasm", component(name = "power-loss"))]
    PowerLoss,
    /// Loss of the unit.
    #[cfg_attr(feature = "wasm", component(name = "unit-loss"))]
    UnitLoss,
    /// People can be hurt.
    #[cfg_attr(feature = "wasm", component(name = "hazard"))]
    Hazard,
}

/// One way in which the component ends its life.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Mechanism {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// What follows.
    pub consequence: Consequence,
    /// What "life ends" means.
    #[cfg_attr(feature = "wasm", component(name = "life-ends-when"))]
    pub life_ends_when: String,
    /// Reading whose limit ends this life.
    pub reading: Option<String>,
    /// Prior spread of ln(rate).
    #[cfg_attr(feature = "wasm", component(name = "rate-ln-sd"))]
    pub rate_ln_sd: f64,
}

/// A channel of the duty that the model reads.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct ChannelNeed {
    /// Name from [`super::vocabulary::CHANNELS`].
    pub name: String,
    /// Whether a log without it is refused for this component.
    pub required: bool,
    /// Stands in for a missing optional channel.
    #[cfg_attr(feature = "wasm", component(name = "default-value"))]
    pub default_value: f64,
    /// Why it is read.
    pub note: String,
}

/// Shocks of one kind and the fields that the model reads.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct ShockNeed {
    /// Kind from [`super::vocabulary::SHOCKS`].
    pub kind: String,
    /// Fields of that kind.
    pub fields: Vec<String>,
}

/// A slot of the condition of another component in the same build.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct MateNeed {
    /// Type of the other component.
    #[cfg_attr(feature = "wasm", component(name = "component-type"))]
    pub component_type: String,
    /// Slot of its condition.
    pub slot: String,
    /// Stands in when no such component is installed.
    #[cfg_attr(feature = "wasm", component(name = "default-value"))]
    pub default_value: f64,
    /// Why it is read.
    pub note: String,
}

/// The duty that a model reads.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct DutyNeed {
    /// Channels of the operating points.
    pub channels: Vec<ChannelNeed>,
    /// Channels whose rainflow cycles are read.
    pub cycles: Vec<String>,
    /// Kinds of shock.
    pub shocks: Vec<ShockNeed>,
    /// Slots of other components.
    pub mates: Vec<MateNeed>,
}

/// A shop operation that resets part of the condition.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Operation {
    /// Stable name.
    pub name: String,
    /// Name for people.
    pub label: String,
    /// What it resets and keeps.
    pub note: String,
}

/// How a constant came to its value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "wasm", derive(ComponentType, Lift, Lower), component(enum))]
#[repr(u8)]
pub enum Basis {
    /// Published source named in the note.
    #[cfg_attr(feature = "wasm", component(name = "published"))]
    Published,
    /// Textbook value from memory.
    #[cfg_attr(feature = "wasm", component(name = "memory"))]
    Memory,
    /// Common practice, no source.
    #[cfg_attr(feature = "wasm", component(name = "common-practice"))]
    CommonPractice,
    /// Fitted to the statement in the note.
    #[cfg_attr(feature = "wasm", component(name = "calibrated"))]
    Calibrated,
    /// Assumed, no source.
    #[cfg_attr(feature = "wasm", component(name = "assumed"))]
    Assumed,
}

/// A constant of the model.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Constant {
    /// Stable name.
    pub name: String,
    /// SI unit.
    pub unit: String,
    /// Value.
    pub value: f64,
    /// How it came to its value.
    pub basis: Basis,
    /// The statement or source behind it.
    pub note: String,
}

/// What a plugin says of itself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(
    feature = "wasm",
    derive(ComponentType, Lift, Lower),
    component(record)
)]
pub struct Card {
    /// Component type.
    #[cfg_attr(feature = "wasm", component(name = "component-type"))]
    pub component_type: String,
    /// Name for people.
    pub label: String,
    /// Semantic version of the model.
    pub version: String,
    /// What it models.
    pub description: String,
    /// Numbers of the spec.
    pub numbers: Vec<NumberField>,
    /// Choices of the spec.
    pub choices: Vec<ChoiceField>,
    /// Tables of the spec.
    pub tables: Vec<TableField>,
    /// Working surfaces.
    pub surfaces: Vec<SurfaceField>,
    /// Condition row.
    pub condition: Vec<Slot>,
    /// Readings.
    pub readings: Vec<ReadingField>,
    /// Mechanisms.
    pub mechanisms: Vec<Mechanism>,
    /// Duty read.
    pub duty: DutyNeed,
    /// Shop operations.
    pub operations: Vec<Operation>,
    /// Constants.
    pub constants: Vec<Constant>,
    /// References.
    pub references: Vec<String>,
    /// What the model leaves out.
    #[cfg_attr(feature = "wasm", component(name = "leaves-out"))]
    pub leaves_out: Vec<String>,
    /// Cautions to show with every answer.
    pub cautions: Vec<String>,
}
