//! How a measurement moves what is believed of a rate.

/// What is believed of a quantity: normal with this mean and standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Belief {
    /// Mean.
    pub mean: f64,
    /// Standard deviation, from 0.
    pub sd: f64,
}

impl Belief {
    /// The belief after an observation of the quantity with error `observation.sd` (Bayes, normal
    /// prior and normal error). Certain beliefs (both spreads 0) stay as they are.
    #[must_use]
    pub fn after(self, observation: Self) -> Self {
        let (prior, error) = (self.sd * self.sd, observation.sd * observation.sd);
        let weight = if prior > 0.0 {
            prior / (prior + error)
        } else {
            0.0
        };
        Self {
            mean: self.mean + weight * (observation.mean - self.mean),
            sd: ((1.0 - weight) * prior).sqrt(),
        }
    }
}

/// The logarithm of a wear-rate multiplier as seen by one measurement: ln(measured / predicted), its error that
/// of the instrument over the wear measured and that of the model's form (`model_ln_sd`), combined
/// root-sum-square. All above 0; `predicted` is the wear predicted with a multiplier of 1.
pub fn observed_ln_rate(
    measured: f64,
    measurement_sd: f64,
    predicted: f64,
    model_ln_sd: f64,
) -> Belief {
    Belief {
        mean: libm::log(measured / predicted),
        sd: libm::hypot(measurement_sd / measured, model_ln_sd),
    }
}
