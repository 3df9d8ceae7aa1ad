//! Failures that strike by chance, at a rate that use adds to: a coating lets go, a bare taper galls.

use crate::{DamagePath, ForecastRequest, Spread, normal_cdf, normal_draws, normal_quantile};

/// Equally probable strata over which the risk of a hazard is averaged.
const STRATA: u32 = 64;

/// Probability that a hazard (its integral to the time asked for, at a multiplier of 1) strikes, over what is believed of its rate.
pub fn hazard_risk(spread: &Spread, hazard: f64) -> f64 {
    let one = |k: u32| {
        let z = normal_quantile((f64::from(k) + 0.5) / f64::from(STRATA));
        -libm::expm1(-hazard * spread.at(z))
    };
    (0..STRATA).map(one).sum::<f64>() / f64::from(STRATA)
}

/// Lives under a hazard along a path whose row `mechanism`, of `mechanisms`, is the hazard's integral: nothing happens until it, times the drawn rate, reaches a
/// drawn exponential threshold `−ln(1 − u)`. Column 0 of the draws is what is common to all mechanisms, as in [`DamagePath::draw`]; `correlation` is how
/// much of the rate it is.
pub fn hazard_lives(
    path: &DamagePath,
    (mechanism, mechanisms): (usize, usize),
    spread: &Spread,
    correlation: f64,
    request: &ForecastRequest,
) -> Vec<f64> {
    let draws = normal_draws(request.seed, 2 + mechanisms, request.samples as usize);
    let (shared, own) = (correlation.sqrt(), (1.0 - correlation).sqrt());
    let rates = draws[0].iter().zip(&draws[1 + mechanism]);
    rates
        .zip(&draws[1 + mechanisms])
        .map(|((common, alone), chance)| {
            let multiplier = spread.at(shared * common + own * alone);
            let threshold = -libm::log(normal_cdf(-chance));
            path.events_to(mechanism, threshold / multiplier)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Duty, Rate};

    const CERTAIN: Spread = Spread {
        ln_mean: 0.0,
        ln_sd: 0.0,
    };

    #[test]
    fn a_known_hazard_is_exponential() {
        assert!((hazard_risk(&CERTAIN, 0.1) - (1.0 - (-0.1_f64).exp())).abs() < 1e-12);
        assert!(hazard_risk(&CERTAIN, 0.0) <= 0.0);
        // A rate that is not known is larger on the average (mean of a lognormal: exp(sd²/2)), where the hazard is small.
        let unsure = Spread {
            ln_mean: 0.0,
            ln_sd: 0.5,
        };
        let ratio = hazard_risk(&unsure, 1e-4) / 1e-4;
        assert!((ratio / 0.125_f64.exp() - 1.0).abs() < 0.01, "{ratio}");
    }

    /// Drawn lives of an even hazard of 0.01 an event: mean 100 events; as many are over within 10 events as the risk says.
    #[test]
    fn drawn_lives_agree_with_the_risk() {
        let path = DamagePath::new(1, 1e4, |events| vec![0.01 * events]);
        let request = ForecastRequest {
            condition: Vec::new(),
            event: Duty {
                duration_s: 0.0,
                time_s: Vec::new(),
                points: Vec::new(),
                cycles: Vec::new(),
                shocks: Vec::new(),
                mates: Vec::new(),
            },
            rates: vec![Rate {
                ln_mean: 0.0,
                ln_sd: 0.0,
            }],
            samples: 4096,
            seed: 5,
            horizon_events: 1e4,
            ahead_events: vec![0.0],
        };
        let lives = hazard_lives(&path, (0, 1), &CERTAIN, 0.5, &request);
        let mean = lives.iter().sum::<f64>() / 4096.0;
        assert!((mean / 100.0 - 1.0).abs() < 0.06, "{mean}");
        let over = lives.iter().filter(|life| **life <= 10.0).count() as f64 / 4096.0;
        assert!((over - hazard_risk(&CERTAIN, 0.1)).abs() < 0.01, "{over}");
    }
}
