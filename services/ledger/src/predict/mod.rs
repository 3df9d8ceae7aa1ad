//! Predictions: what is left of a component's life, if it goes on like this.

mod advice;
mod belief;
mod drivers;
mod inspected;
mod lives;
mod notes;
mod readings;
mod request;
mod stored;

pub(crate) use belief::beliefs;
pub(crate) use stored::stored_predictions;
