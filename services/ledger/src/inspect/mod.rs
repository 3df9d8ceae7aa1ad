//! Inspections: what was measured and looked for at a component, and what follows from it. The stored
//! inspection is the truth; what it says of a rate is derived from it and the model, and kept by digest.

mod answers;
mod batch;
mod beside;
mod bias;
mod detection;
mod doubts;
mod evidence;
mod explain;
mod findings;
mod guards;
mod observe;
mod record;
mod slips;
mod standing;
mod stored;
mod temperature;
mod unlikely;
mod written;

pub(crate) use detection::reweigh;
pub(crate) use evidence::{Evidence, Learnt};
pub(crate) use observe::Probe;
pub(crate) use standing::{Shift, Standing};
pub(crate) use stored::{observed_prefix, treatments_of};
