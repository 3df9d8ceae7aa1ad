//! Messages to the ledger's words and back, a file for each proto file and what they share.
//!
//! From a message everything wrong is collected before the call is refused; see [`Fields`].

pub mod builds;
pub mod calendars;
pub mod card;
pub mod comparisons;
pub mod components;
pub mod duty;
pub mod duty_table;
pub mod finding;
pub mod inspections;
pub mod ledger;
pub mod logs;
pub mod models;
pub mod plans;
pub mod predictions;
pub mod running_in;
pub mod time;
pub mod treatments;
pub mod units;
pub mod vocabulary;

pub mod evidence;
mod fields;

pub use fields::Fields;
