//! What the tests of a Rust plugin share. It calls the model directly, as a library, and knows the contract and the model's card,
//! nothing of any component type: the same laws are tried on a ring pack and on a clutch.
//!
//! | to | use |
//! | --- | --- |
//! | run a model on a specimen | [`Prepared`] |
//! | change a number or a surface of a spec by its name | [`changed`], [`with`], [`with_all`], [`value`] |
//! | write duty by the names of the card | [`Record`]; of an engine, [`engine`]; of a driveline, [`driveline`] |
//! | scale or cut duty | [`scaled`], [`cut`] |
//! | draw any duty for a property test | [`AnyRecord`] |
//! | compare, and sum up lives | [`close`], [`quantile`], [`median`], [`medians`], [`first`], [`fields`], [`print_lives`] |
//! | try a law that every model keeps | [`laws`] |
//! | print times | [`print_times`] |
//!
//! A law here holds by the contract or by the arithmetic of lives, whatever the component. What is physics of one component
//! (more oil pressure spares a bearing) is a test of its plugin.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::missing_panics_doc,
    reason = "a panic is how a test fails: every function here panics where its input or the model is wrong"
)]

mod any_record;
pub mod driveline;
pub mod engine;
pub mod laws;
mod lives;
mod prepared;
mod record;
mod specimens;
mod times;

pub use any_record::AnyRecord;
pub use lives::{close, fields, first, median, medians, print_lives, quantile};
pub use prepared::Prepared;
pub use record::{Record, cut, scaled};
pub use specimens::{changed, value, with, with_all};
pub use times::print_times;
