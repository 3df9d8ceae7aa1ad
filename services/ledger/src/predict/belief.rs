//! What is believed of the rates of a component's mechanisms.

use crate::{ComponentName, RateBelief};
use ringland_host::contract::{Card, Rate};

/// The belief of each mechanism of a card for one component, in card order: the prior of the model. Measured
/// readings of this component and its like will move it here, and nowhere else.
pub(crate) fn beliefs(card: &Card, _component: &ComponentName) -> Vec<(Rate, RateBelief)> {
    let prior = |ln_sd: f64| {
        let rate = Rate {
            ln_mean: 0.0,
            ln_sd,
        };
        let belief = RateBelief {
            median: 1.0,
            ln_sd,
            evidence: "model prior; no inspection of this shop yet".into(),
        };
        (rate, belief)
    };
    card.mechanisms
        .iter()
        .map(|mechanism| prior(mechanism.rate_ln_sd))
        .collect()
}
