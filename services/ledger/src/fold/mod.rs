//! Conditions: what the duty that a component has seen has made of it. For each component and model
//! there is a chain of rows, one after each duty record and shop operation, each made from the one
//! before; the cost of one more record is that of the record.

mod advance;
mod as_if;
mod chain;
pub(crate) mod history;
mod mates;
mod past;
mod run;
mod sample;
mod steps;
mod touch;

pub(crate) use as_if::Edited;
pub(crate) use chain::ChainRow;
pub(crate) use chain::state_prefix;
pub(crate) use mates::MateValue;
pub(crate) use past::Past;
pub(crate) use run::Folded;
