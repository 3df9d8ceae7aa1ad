//! Makes the draws of two components independent of each other.
//!
//! Models draw evenly rather than at random: columns of two components follow the same sequence, shifted, so that
//! paired by index long lives of one would meet long (or short) lives of the other by construction. A shuffle of
//! each component's own, the same for all of its alternatives, leaves no such tie and keeps alternatives paired.

/// An order of `count` draws that follows from a seed: Durstenfeld's shuffle (Communications of the
/// ACM 7, 1964, algorithm 235) with the `SplitMix64` generator (Steele, Lea and Flood, OOPSLA 2014).
pub(super) fn order(seed: u64, count: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    let mut state = seed;
    for last in (1..count).rev() {
        order.swap(last, below(next(&mut state), last + 1));
    }
    order
}

/// Uniform below a limit, up to 2⁻⁵³ or so of the limit.
fn below(random: u64, limit: usize) -> usize {
    ((u128::from(random) * limit as u128) >> 64) as usize
}

fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First outputs of the generator for seed 1234567, as printed in the tests of several libraries that have it.
    #[test]
    fn the_generator_is_the_published_one() {
        let mut state = 1_234_567;
        let outputs = [(); 3].map(|()| next(&mut state));
        let published = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
        ];
        assert_eq!(outputs, published);
    }

    #[test]
    fn every_draw_stands_once_and_seeds_differ() {
        let mut one = order(1, 512);
        assert_ne!(one, order(2, 512));
        assert_eq!(one, order(1, 512));
        one.sort_unstable();
        assert!(one.into_iter().eq(0..512));
        assert!(order(1, 0).is_empty());
    }

    /// Ranks in two orders of different seeds: Spearman's correlation within four standard errors, 1/sqrt(n - 1).
    #[test]
    fn orders_of_two_components_are_not_correlated() {
        let count = 512;
        for seed in 0..20 {
            let (one, other) = (order(seed, count), order(seed + 1000, count));
            let mean = (count - 1) as f64 / 2.0;
            let covariance: f64 = one
                .iter()
                .zip(&other)
                .map(|(a, b)| (*a as f64 - mean) * (*b as f64 - mean))
                .sum();
            let variance = (count * (count * count - 1)) as f64 / 12.0;
            let correlation = covariance / variance;
            assert!(
                correlation.abs() < 4.0 / 511_f64.sqrt(),
                "{seed}: {correlation}"
            );
        }
    }

    /// Two components drawn along one sequence with shifts of their own, as models do: tied by index, free once shuffled.
    #[test]
    fn a_shuffle_unties_components_that_are_drawn_alike() {
        let count = 512;
        let mirrored = |index: u32| f64::from(index.reverse_bits()) / 2f64.powi(32);
        let column = |shift: f64| -> Vec<f64> {
            (1..=count)
                .map(|index| (mirrored(index) + shift).fract())
                .collect()
        };
        let correlation = |one: &[f64], other: &[f64]| {
            let pairs = one.iter().zip(other);
            let product: f64 = pairs.map(|(a, b)| (a - 0.5) * (b - 0.5)).sum();
            12.0 * product / f64::from(count)
        };
        let (one, other) = (column(0.30), column(0.33));
        assert!(correlation(&one, &other) > 0.8, "tied");
        let shuffled = |column: &[f64], seed: u64| -> Vec<f64> {
            order(seed, column.len())
                .into_iter()
                .map(|index| column[index])
                .collect()
        };
        for seed in 0..20 {
            let left = correlation(&shuffled(&one, seed), &shuffled(&other, 77 + seed));
            assert!(left.abs() < 4.0 / f64::from(count).sqrt(), "{left}");
        }
    }
}
