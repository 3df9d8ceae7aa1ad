//! Predictions: what is left of a component's life, if it goes on like this.

mod advice;
mod belief;
mod drivers;
mod lives;
mod notes;
mod readings;
mod request;
mod stored;

pub(crate) use advice::figure;
pub(crate) use stored::stored_predictions;
