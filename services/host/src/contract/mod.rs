//! The plugin contract as the host sees it: plain types that mirror `sdk/wit`, the shared
//! vocabulary of channels, shocks and surface properties, and the [`Models`] trait through which
//! the ledger reaches plugins without knowing that they are WebAssembly.

mod card;
mod life;
mod models;
// One file for both sides of the sandbox: host and plugin judge a spec alike.
#[path = "../../../../sdk/plugin/src/specimen.rs"]
mod specimen;
pub mod vocabulary;

pub(crate) use card::Card as ModelCard;
#[cfg(feature = "wasm")]
pub(crate) use models::findings_text;

pub use card::{
    Basis, Card, ChannelNeed, ChoiceField, ChoiceOption, Consequence, Constant, DutyNeed,
    LimitSide, MateNeed, Mechanism, NumberField, Operation, ReadingField, ShockNeed, Slot,
    SurfaceField, TableField, Trend,
};
pub use life::{
    Duty, Finding, Forecast, ForecastRequest, LoadCycles, MechanismLife, Rate, ReadingPath,
    Severity, Specimen, Surface, Table,
};
pub use models::{Digest, ModelError, Models, Prepared};
pub use specimen::{check_against_card, default_specimen};
pub use vocabulary::{DutyCycles, DutyShocks, DutyTable};
