//! Damage sums (A. Palmgren 1924, M. A. Miner 1945).

use super::SnLine;

/// Cycles at one amplitude.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StressBlock {
    /// Amplitude \[Pa\].
    pub amplitude_pa: f64,
    /// Cycles.
    pub cycles: f64,
}

/// Miner sum of blocks on a line: 1 is the life of the line.
pub fn damage_sum(line: &SnLine, blocks: &[StressBlock]) -> f64 {
    let damage = |block: &StressBlock| line.damage(block.amplitude_pa, block.cycles);
    blocks.iter().map(damage).sum()
}

/// The constant amplitude \[Pa\] that over the same cycles does the same damage on a line of slope `m` without a knee; 0 without
/// cycles.
pub fn equivalent_amplitude_pa(blocks: &[StressBlock], slope: f64) -> f64 {
    let cycles: f64 = blocks.iter().map(|block| block.cycles).sum();
    let powered = |block: &StressBlock| block.cycles * libm::pow(block.amplitude_pa, slope);
    let sum: f64 = blocks.iter().map(powered).sum();
    if cycles > 0.0 {
        libm::pow(sum / cycles, 1.0 / slope)
    } else {
        0.0
    }
}

/// Mean of `amplitude^m` over a narrow-band Gaussian stress of standard deviation `sd_pa`: amplitudes follow Rayleigh's distribution, so it
/// is `(√2 sd)^m Γ(1 + m/2)` (J. S. Bendat 1964). For ranges multiply by `2^m`.
pub fn narrow_band_moment(sd_pa: f64, slope: f64) -> f64 {
    libm::pow(std::f64::consts::SQRT_2 * sd_pa, slope) * libm::tgamma(1.0 + 0.5 * slope)
}
