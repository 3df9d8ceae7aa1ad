//! Predictions: what is left of a component's life, if it goes on like this.

mod advice;
mod belief;
mod drawn;
mod drivers;
mod inspected;
mod lives;
mod notes;
mod readings;
mod request;
mod stored;

pub(crate) use advice::figure;
pub(crate) use belief::beliefs;
pub(crate) use drawn::{Case, Drawing, Drawn};
pub(crate) use inspected::Inspected;
pub(crate) use lives::{combined_risk, quantile, quantiles, remaining_life};
pub(crate) use notes::warning;
pub(crate) use readings::readings;
pub(crate) use request::{Event, ahead_of};
pub(crate) use stored::stored_predictions;
