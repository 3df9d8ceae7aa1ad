//! Seeded draws and quantiles of samples.

use super::normal;

/// `SplitMix64` (Steele, Lea and Flood 2014): small, fast, same bits everywhere. Not for secrets.
#[derive(Clone, Debug)]
pub struct SplitMix64(u64);

impl SplitMix64 {
    /// A stream for each seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Uniform between 0 and 1, both exclusive, in steps of 2^-52.
    pub fn next_open(&mut self) -> f64 {
        ((self.next_u64() >> 12) as f64 + 0.5) * f64::EPSILON
    }

    /// Uniform below `n` (above 0); the bias is below n / 2^64.
    pub fn next_below(&mut self, n: usize) -> usize {
        ((u128::from(self.next_u64()) * n as u128) >> 64) as usize
    }
}

/// A Latin hypercube of standard normal draws (Technometrics 21 (1979) 239): `dimensions` columns of `samples`,
/// each with exactly one draw in every slice of equal probability, the columns shuffled
/// independently. The means of smooth functions converge faster than with plain draws.
pub fn latin_hypercube_normal(samples: usize, dimensions: usize, seed: u64) -> Vec<Vec<f64>> {
    let mut random = SplitMix64::new(seed);
    let column = |random: &mut SplitMix64| {
        let mut column: Vec<f64> = (0..samples)
            .map(|slice| (slice as f64 + random.next_open()) / samples as f64)
            // The sum above may round up to the next slice, in the last one to 1.
            .map(|p| normal::quantile(p.min(1.0 - f64::EPSILON)))
            .collect();
        for last in (1..column.len()).rev() {
            column.swap(last, random.next_below(last + 1));
        }
        column
    };
    (0..dimensions).map(|_| column(&mut random)).collect()
}

/// Quantile of samples in rising order, linear between them: definition 7 of Hyndman and Fan (1996), position
/// `(n - 1) p`. `p` is held within 0 to 1; NaN when there are no samples.
pub fn quantile_of_sorted(sorted: &[f64], p: f64) -> f64 {
    let position = sorted.len().saturating_sub(1) as f64 * p.clamp(0.0, 1.0);
    let below = position.floor() as usize;
    let Some(&low) = sorted.get(below) else {
        return f64::NAN;
    };
    match sorted.get(below + 1) {
        // Not low + f (high - low): infinite neighbours of equal sign would give NaN.
        Some(&high) if position > below as f64 && high > low => {
            low + (position - below as f64) * (high - low)
        }
        _ => low,
    }
}

/// [`quantile_of_sorted`] of samples in any order, for several shares at once.
pub fn quantiles(samples: &[f64], shares: &[f64]) -> Vec<f64> {
    let mut sorted = samples.to_vec();
    sorted.sort_by(f64::total_cmp);
    shares
        .iter()
        .map(|&p| quantile_of_sorted(&sorted, p))
        .collect()
}
