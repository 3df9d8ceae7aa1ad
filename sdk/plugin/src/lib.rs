//! What the author of a Rust plugin imports: the contract's types and trait, generated from
//! `sdk/wit`, and a few things that every plugin needs. It knows the contract and nothing of any
//! component type; the physics is the plugin's own.
//!
//! A plugin is a library crate with `crate-type = ["cdylib", "rlib"]`. It implements [`Model`] on an
//! empty struct and hands that to [`export!`]:
//!
//! ```text
//! struct RingPack;
//!
//! impl ringland_plugin::Model for RingPack {
//!     fn card() -> ringland_plugin::ModelCard { ... }
//!     ...
//! }
//!
//! ringland_plugin::export!(RingPack);
//! ```
//!
//! `cargo build --release --target wasm32-wasip2` then gives a component that the host loads.
//! Compiled for any other target the same code is a plain library, so tests and benchmarks call
//! `RingPack::card()` directly.
//!
//! | to | use |
//! | --- | --- |
//! | write the card | [`number`], [`choice`], [`table`], [`surface`], [`slot`], [`reading`], [`mechanism`], [`channel`], [`channel_or`], [`shock`], [`mate`], [`operation`], [`constant`], [`lines`] |
//! | find an entry of the card | [`ModelCard::number_index`] and its like |
//! | check a spec | [`check_against_card`], [`error`], [`warning`] |
//! | get a spec to test with | [`default_specimen`] |
//! | read a specimen | [`properties`], [`wrong_count`] |
//! | read duty | [`check_duty`], [`Duty::channel`], [`Duty::shock_field`], [`Duty::shock_count`], [`time_mean`] |
//! | keep a condition | [`begin_row`], [`check_row`], [`hold_row`] |
//! | forecast | [`check_request`], [`DamagePath`], [`Spread`], [`normal_draws`], [`normal_cdf`], [`quantile`] |
//! | say what to know | [`standing_in`], [`past_limits`] |
//! | say what wears | [`shares`] |

mod columns;
#[doc(hidden)]
pub mod contract;
mod draws;
mod duties;
mod entries;
mod fields;
mod finding;
mod hazard;
mod lives;
mod lookup;
mod outlook;
mod rows;
mod specimen;

pub use columns::{quantile, shares};
pub use contract::{
    Basis, ChannelNeed, ChoiceField, ChoiceOption, Consequence, Constant, Duty, DutyNeed, Finding,
    ForecastRequest, LifeForecast, LimitSide, LoadCycles, MateNeed, Mechanism, MechanismLife,
    Model, ModelCard, NumberField, Operation, Rate, ReadingField, ReadingPath, Severity, ShockNeed,
    Slot, Specimen, Surface, SurfaceField, Table, TableField, Trend,
};
pub use draws::{MOST_DIMENSIONS, normal_cdf, normal_draws, normal_quantile};
pub use duties::{Bounds, check_duty, standing_in, time_mean};
pub use entries::{Properties, properties, wrong_count};
pub use fields::{
    Instrument, channel, channel_or, choice, constant, lines, mate, mechanism, number, operation,
    reading, shock, slot, surface, table,
};
pub use finding::{error, unless_refused, warning};
pub use hazard::{hazard_lives, hazard_risk};
pub use lives::{DamagePath, Spread, check_request, past_limits};
pub use outlook::{QUANTILES, multipliers, point_and_shock_shares, reading_paths};
pub use rows::{begin_row, check_row, hold_row};
pub use specimen::{check_against_card, default_specimen};

/// Makes a type that implements [`Model`] the model of this plugin. Call it once, at the root of
/// the plugin crate. It does something only when compiled to WebAssembly, so several plugins can
/// be linked into one native test or benchmark.
#[macro_export]
macro_rules! export {
    ($model:ident) => {
        #[cfg(target_family = "wasm")]
        $crate::contract::export_generated!($model with_types_in $crate::contract);
    };
}
