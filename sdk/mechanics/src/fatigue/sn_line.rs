//! S-N lines: straight in the logarithms, with a knee.

use crate::range::{OutOfRange, within};

/// What a line does below its knee.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BelowKnee {
    /// The same slope goes on (elementary Miner): for parts that all see overloads.
    Elementary,
    /// The slope `2m − 1` (E. Haibach 1970): smaller cycles still harm a part that larger ones have weakened.
    Haibach,
    /// No damage (original Miner).
    Endless,
}

/// `N = knee · (strength / amplitude)^slope`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SnLine {
    strength_pa: f64,
    knee_cycles: f64,
    slope: f64,
    below: BelowKnee,
}

impl SnLine {
    /// Strength (amplitude) at the knee \[Pa\], cycles there, slope `m` (1 to 50).
    ///
    /// # Errors
    /// A number that is not positive, or a slope out of range.
    pub fn new(
        strength_pa: f64,
        knee_cycles: f64,
        slope: f64,
        below: BelowKnee,
    ) -> Result<Self, OutOfRange> {
        let most = (f64::MIN_POSITIVE, f64::MAX);
        Ok(Self {
            strength_pa: within("strength_pa", strength_pa, most, "a strength above 0 Pa")?,
            knee_cycles: within("knee_cycles", knee_cycles, (1.0, f64::MAX), "at least 1")?,
            slope: within("slope", slope, (1.0, 50.0), "1 to 50")?,
            below,
        })
    }

    /// The line through two points (amplitude \[Pa\], cycles), the second one its knee: lower and later.
    ///
    /// # Errors
    /// Points that do not fall.
    pub fn through(
        (high_pa, few_cycles): (f64, f64),
        (strength_pa, knee_cycles): (f64, f64),
        below: BelowKnee,
    ) -> Result<Self, OutOfRange> {
        let slope = libm::log(knee_cycles / few_cycles) / libm::log(high_pa / strength_pa);
        Self::new(strength_pa, knee_cycles, slope, below)
    }

    /// Amplitude at the knee \[Pa\].
    pub fn strength_pa(&self) -> f64 {
        self.strength_pa
    }

    /// Cycles at the knee.
    pub fn knee_cycles(&self) -> f64 {
        self.knee_cycles
    }

    /// Slope `m` above the knee.
    pub fn slope(&self) -> f64 {
        self.slope
    }

    /// Cycles to failure at an amplitude \[Pa\]; infinite at 0 or less, and below the knee of an endless line.
    pub fn cycles(&self, amplitude_pa: f64) -> f64 {
        if amplitude_pa <= 0.0 {
            return f64::INFINITY;
        }
        let ratio = self.strength_pa / amplitude_pa;
        let slope = match self.below {
            BelowKnee::Haibach if ratio > 1.0 => 2.0 * self.slope - 1.0,
            BelowKnee::Endless if ratio > 1.0 => return f64::INFINITY,
            _ => self.slope,
        };
        self.knee_cycles * libm::pow(ratio, slope)
    }

    /// Miner damage of so many cycles at an amplitude \[Pa\].
    pub fn damage(&self, amplitude_pa: f64, cycles: f64) -> f64 {
        cycles / self.cycles(amplitude_pa)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_knee_is_on_every_line() {
        for below in [
            BelowKnee::Elementary,
            BelowKnee::Haibach,
            BelowKnee::Endless,
        ] {
            let line = SnLine::new(3.0e8, 1.0e7, 9.0, below).unwrap();
            assert!((line.cycles(3.0e8) / 1.0e7 - 1.0).abs() < 1e-12);
            assert!(line.cycles(0.0).is_infinite() && line.damage(-1.0, 5.0) <= 0.0);
        }
    }

    #[test]
    fn what_is_no_line_is_refused() {
        assert!(SnLine::new(0.0, 1.0e6, 5.0, BelowKnee::Endless).is_err());
        assert!(SnLine::new(f64::NAN, 1.0e6, 5.0, BelowKnee::Endless).is_err());
        let rising = SnLine::through((1.0e8, 1.0e3), (2.0e8, 1.0e6), BelowKnee::Endless);
        assert!(rising.is_err());
    }
}
