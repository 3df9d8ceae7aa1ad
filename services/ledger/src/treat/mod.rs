//! Treatments: the catalogue of shop processes, the shop's own entries beside it, and what they leave
//! of a component's surfaces. Models never hear of a treatment; they see the surfaces.

mod apply;
mod catalogue;
mod check;
mod component;
mod parse;
mod reader;
mod rules;
mod shop;
mod stress;

pub use component::Subject;
