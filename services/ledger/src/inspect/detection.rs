//! Looks for cracks. A clean one lowers the risk by what the method would have found, and never resets
//! damage.

use crate::CrackMethod;
use ringland_host::contract::MechanismLife;

/// Crack length that a method finds nine times of ten \[m\]. Common practice, no source: the worse end of what is
/// usual (wet fluorescent magnetic particle 1 to 2 mm, penetrant 1.5 to 3 mm, naked eye over 5 mm); eddy current assumed.
pub(super) fn usual_a90_m(method: CrackMethod) -> f64 {
    match method {
        CrackMethod::NakedEye => 5e-3,
        CrackMethod::Penetrant => 3e-3,
        CrackMethod::WetFluorescentMagneticParticle => 2e-3,
        CrackMethod::EddyCurrent => 1.5e-3,
    }
}

pub(super) fn method_words(method: CrackMethod) -> &'static str {
    match method {
        CrackMethod::NakedEye => "naked eye",
        CrackMethod::Penetrant => "penetrant",
        CrackMethod::WetFluorescentMagneticParticle => "wet fluorescent magnetic particle",
        CrackMethod::EddyCurrent => "eddy current",
    }
}

/// Length found nine times of ten over that found one time of two. Assumed, no source.
const A90_OVER_A50: f64 = 2.0;
/// A crack begins as long as this \[m\] (assumed) ...
const INITIAL_M: f64 = 0.1e-3;
/// ... after this share of the life (assumed), grows geometrically ...
const GROWS_FROM: f64 = 0.7;
/// ... and is critical at this length at the end of the life \[m\] (assumed).
const CRITICAL_M: f64 = 10e-3;

/// Probability that a crack of this length is found: the log-odds (logistic in ln a) form of MIL-HDBK-1823A, from memory.
fn probability_of_detection(length_m: f64, a90_m: f64) -> f64 {
    // At a50 the odds are 1, at a90 they are 9.
    let slope = libm::log(9.0) / libm::log(A90_OVER_A50);
    let odds = 9.0 * libm::exp(slope * libm::log(length_m / a90_m));
    odds / (1.0 + odds)
}

/// Length of the crack after a share of the life \[m\].
fn crack_length_m(share_of_life: f64) -> f64 {
    let grown = ((share_of_life - GROWS_FROM) / (1.0 - GROWS_FROM)).clamp(0.0, 1.0);
    INITIAL_M * libm::exp(grown * libm::log(CRITICAL_M / INITIAL_M))
}

/// A look that found nothing.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CleanCheck {
    /// Index of the mechanism on the card.
    pub(crate) mechanism: usize,
    /// Length found nine times of ten; infinite: finds nothing.
    pub(crate) a90_m: f64,
    /// Use of the component at the check.
    pub(crate) hours: f64,
}

impl CleanCheck {
    /// Probability that the check would have found nothing in a part with so much use left now.
    fn silent(&self, hours_now: f64, hours_left: f64) -> f64 {
        let whole = hours_now + hours_left;
        if whole <= 0.0 {
            return 1.0;
        }
        let share = self.hours / whole;
        1.0 - probability_of_detection(crack_length_m(share), self.a90_m)
    }
}

/// Weighs drawn lives by how likely clean checks are in each, and brings the risk down with it. Lives are
/// drawn again from themselves with these weights, by systematic resampling (Kitagawa, "Monte Carlo filter and smoother",
/// Journal of Computational and Graphical Statistics 5 (1996) 1-25, from memory) with the same indices in all mechanisms, so that
/// what they have in common stays in common.
pub(crate) fn reweigh(
    mechanisms: &mut [MechanismLife],
    checks: &[CleanCheck],
    hours_now: f64,
    hours_of_event: f64,
) {
    let draws = mechanisms
        .iter()
        .map(|m| m.lives_events.len())
        .min()
        .unwrap_or(0);
    if checks.is_empty() || draws == 0 {
        return;
    }
    let mut together = vec![1.0; draws];
    for (index, mechanism) in mechanisms.iter_mut().enumerate() {
        let own: Vec<&CleanCheck> = checks.iter().filter(|c| c.mechanism == index).collect();
        if own.is_empty() {
            continue;
        }
        let weight = |life_events: f64| -> f64 {
            let left = life_events * hours_of_event;
            own.iter()
                .map(|check| check.silent(hours_now, left))
                .product()
        };
        let weights: Vec<f64> = mechanism
            .lives_events
            .iter()
            .map(|life| weight(*life))
            .collect();
        mechanism.risk_next_event *= risk_factor(&mechanism.lives_events, &weights, weight(1.0));
        for (all, own) in together.iter_mut().zip(&weights) {
            *all *= own;
        }
    }
    let kept = resampled(&together);
    for mechanism in mechanisms {
        let lives = &mechanism.lives_events;
        mechanism.lives_events = kept
            .iter()
            .map(|i| lives.get(*i).copied().unwrap_or_default())
            .collect();
    }
}

/// What a clean check makes of the risk within the next event: the mean weight of the draws that end in it
/// over the mean weight of all; where none does, the weight of a part that ends just at its end.
fn risk_factor(lives: &[f64], weights: &[f64], at_its_end: f64) -> f64 {
    let mean = |sum: f64, count: usize| sum / count.max(1) as f64;
    let all = mean(weights.iter().sum(), weights.len());
    let ending = lives.iter().zip(weights).filter(|(life, _)| **life <= 1.0);
    let (sum, count) = ending.fold((0.0, 0), |(sum, count), (_, w)| (sum + w, count + 1));
    let first = if count == 0 {
        at_its_end
    } else {
        mean(sum, count)
    };
    if all <= 0.0 {
        return 1.0;
    }
    (first / all).clamp(0.0, 1.0)
}

/// Indices drawn by systematic resampling, from the middle of each of `n` equal parts.
fn resampled(weights: &[f64]) -> Vec<usize> {
    let total: f64 = weights.iter().sum();
    let n = weights.len();
    if total <= 0.0 {
        return (0..n).collect();
    }
    let mut indices = Vec::with_capacity(n);
    let (mut index, mut up_to) = (0, weights.first().copied().unwrap_or(0.0));
    for place in 0..n {
        let wanted = (place as f64 + 0.5) / n as f64 * total;
        while up_to < wanted && index + 1 < n {
            index += 1;
            up_to += weights.get(index).copied().unwrap_or(0.0);
        }
        indices.push(index);
    }
    indices
}

#[cfg(test)]
mod tests;
