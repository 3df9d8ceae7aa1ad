//! Answers as text for people.

mod bounds;
mod calendar;
mod comparison;
mod component;
mod duty;
pub mod evidence;
mod finding;
mod inspection;
mod intake;
mod plan;
mod power;
mod prediction;
mod quantity;
pub mod questions;
pub mod questions_shop;
mod readings;
mod seating;
mod summary;
mod treatment;
mod unit_comparison;

pub use calendar::{calendar, calendars};
pub use comparison::comparison;
pub use component::component;
pub use duty::{duty_table, shocks_of};
pub use finding::{findings, is_error};
pub use inspection::{comparisons, correction, inspection};
pub use intake::{duty_record, intake_report};
pub use plan::{overrides, plan, replacement_age};
pub use power::power_fade;
pub use prediction::{Detail, action_word, prediction};
pub(crate) use quantity::Shown;
pub(crate) use readings::largest_of;
pub use seating::seating;
pub use summary::{all_cautions, batch_words, life_in_events, of_batches, summary, worst_first};
pub use treatment::{treatment, treatment_check, treatments};
pub use unit_comparison::unit_comparison;
