//! The flaws of real logs: noise, blanks, drop-outs, a stuck sensor, a logger that restarts, garbage.

use rand::{Rng, RngExt};

/// How flawed a log is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flaws {
    /// Noise of analogue channels, one standard deviation as a share of the value.
    pub noise: f64,
    /// Share of fast samples that are blank.
    pub missing: f64,
    /// Drop-outs of the whole log for each hour.
    pub dropouts_per_h: f64,
    /// Where the coolant sensor sticks \[s\], and for how long.
    pub stuck: (f64, f64),
    /// Where the logger restarts \[s\], and how long it is gone.
    pub restart: (f64, f64),
}

/// Noise of a toothed-wheel speed, share of the value.
const SPEED_NOISE: f64 = 5e-4;
/// Share of cells with something that is no number.
const GARBAGE: f64 = 2e-5;

impl Flaws {
    /// Flaws of the usual size at places drawn from `random`, in a log of about `length_s`.
    pub(super) fn draw(length_s: f64, random: &mut impl Rng) -> Self {
        let place = |random: &mut _| length_s * (0.2 + 0.6 * share(random));
        Self {
            noise: 0.005,
            missing: 0.02,
            dropouts_per_h: 3.0,
            stuck: (place(random), 60.0 + 120.0 * share(random)),
            restart: (place(random), 12.0 + 20.0 * share(random)),
        }
    }
}

fn share(random: &mut impl Rng) -> f64 {
    random.random::<f64>()
}

/// What the logger does at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Row {
    /// Writes the row.
    Written,
    /// Writes the time and blanks.
    Blank,
    /// Writes nothing.
    Gone,
}

/// What becomes of one cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cell {
    /// Written.
    Good,
    /// Blank.
    Missing,
    /// Not a number.
    Garbage,
}

/// Applies flaws as the log goes on.
pub(super) struct Spoiler {
    flaws: Flaws,
    blank_until_s: f64,
    stuck_at: Option<f64>,
}

impl Spoiler {
    pub(super) fn new(flaws: Flaws) -> Self {
        Self {
            flaws,
            blank_until_s: f64::NEG_INFINITY,
            stuck_at: None,
        }
    }

    pub(super) fn row(&mut self, time_s: f64, step_s: f64, random: &mut impl Rng) -> Row {
        let (from_s, gone_s) = self.flaws.restart;
        if (from_s..from_s + gone_s).contains(&time_s) {
            return Row::Gone;
        }
        if share(random) < self.flaws.dropouts_per_h * step_s / 3600.0 {
            self.blank_until_s = time_s + 0.3 + 0.9 * share(random);
        }
        if time_s < self.blank_until_s {
            Row::Blank
        } else {
            Row::Written
        }
    }

    /// A value with noise; never beyond three standard deviations.
    pub(super) fn noisy(&self, value: f64, random: &mut impl Rng) -> f64 {
        value * (1.0 + self.flaws.noise * normal(random))
    }

    /// A speed from a toothed wheel: far less noise.
    pub(super) fn speed(value: f64, random: &mut impl Rng) -> f64 {
        value * (1.0 + SPEED_NOISE * normal(random))
    }

    /// The coolant reading, stuck at its last value for a while.
    pub(super) fn coolant(&mut self, time_s: f64, value: f64) -> f64 {
        let (from_s, stuck_s) = self.flaws.stuck;
        if !(from_s..from_s + stuck_s).contains(&time_s) {
            return value;
        }
        *self.stuck_at.get_or_insert(value)
    }

    /// What becomes of a fast cell.
    pub(super) fn cell(&self, random: &mut impl Rng) -> Cell {
        let draw = share(random);
        if draw < GARBAGE {
            Cell::Garbage
        } else if draw < GARBAGE + self.flaws.missing {
            Cell::Missing
        } else {
            Cell::Good
        }
    }
}

/// Near enough standard normal: three uniforms less their mean, over their spread (1/2). Tails end at
/// three, and it needs additions only, so every machine draws the same.
pub(super) fn normal(random: &mut impl Rng) -> f64 {
    2.0 * ((0..3).map(|_| share(random)).sum::<f64>() - 1.5)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::SeedableRng;
    use rand_chacha::ChaCha8Rng;

    /// Mean 0 and variance 1, within five standard errors of 40 000 draws.
    #[test]
    fn noise_is_standard() {
        let mut random = ChaCha8Rng::seed_from_u64(1);
        let draws: Vec<f64> = (0..40_000).map(|_| normal(&mut random)).collect();
        let mean = draws.iter().sum::<f64>() / 4e4;
        let variance = draws.iter().map(|d| d * d).sum::<f64>() / 4e4;
        assert!(
            mean.abs() < 0.025 && (variance - 1.0).abs() < 0.035,
            "{mean} {variance}"
        );
    }

    #[test]
    fn about_two_in_a_hundred_cells_are_blank() {
        let mut random = ChaCha8Rng::seed_from_u64(2);
        let spoiler = Spoiler::new(Flaws::draw(1000.0, &mut random));
        let blank = (0..20_000)
            .filter(|_| spoiler.cell(&mut random) == Cell::Missing)
            .count();
        assert!((350..450).contains(&blank), "{blank}");
    }

    #[test]
    fn a_stuck_sensor_repeats_its_last_value() {
        let mut random = ChaCha8Rng::seed_from_u64(3);
        let mut spoiler = Spoiler::new(Flaws {
            stuck: (10.0, 5.0),
            ..Flaws::draw(100.0, &mut random)
        });
        let read: Vec<f64> = (0..20)
            .map(|t| spoiler.coolant(f64::from(t), 80.0 + f64::from(t)))
            .collect();
        assert_eq!(read[10..15], [90.0; 5]);
        assert!(read[15] > 94.0);
    }
}
