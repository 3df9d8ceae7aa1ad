//! Life factors of ISO 6336-2 (pitting) and ISO 6336-3 (tooth root), and the damage sum of
//! ISO 6336-6.
//!
//! A curve gives the stress that a tooth bears for a number of load cycles, as a multiple of the
//! allowable stress number (1 % damage probability). It is a chain of straight lines in log-log
//! between knees. The knees are written from memory; the slopes that follow from them are checked.

/// Load cycles at which the long-life branch ends, and the life factor there.
const LONG_LIFE: (f64, f64) = (1e10, 0.85);

/// Material of a flank, by the curve that it follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flank {
    /// Through-hardened, case-carburised or induction-hardened steel on which no pit is allowed.
    Hardened,
    /// The same steels, a limited pitted area (up to 1 % or a few per cent of the flank) allowed.
    HardenedSomePitting,
    /// Gas-nitrided steel.
    Nitrided,
    /// Nitrocarburised steel.
    Nitrocarburised,
}

/// Material of a tooth root, by the curve that it follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Root {
    /// Through-hardened steel.
    ThroughHardened,
    /// Case-carburised or induction-hardened steel.
    CaseHardened,
    /// Gas-nitrided steel.
    Nitrided,
    /// Nitrocarburised steel.
    Nitrocarburised,
}

/// What lies beyond the endurance knee.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LongLife {
    /// The factor stays 1: best material, lubrication and experience. Lower stress never ends life.
    Level,
    /// The factor falls to 0.85 at 1e10 cycles, and at that slope beyond.
    Falling,
}

/// Stress borne against load cycles, as a multiple of the allowable stress number.
#[derive(Debug, Clone, PartialEq)]
pub struct LifeCurve {
    /// Cycles and factor at each knee; cycles rise, factors fall.
    knees: Vec<(f64, f64)>,
    long_life: LongLife,
}

impl LifeCurve {
    /// Z_NT: life factor for contact stress (ISO 6336-2).
    #[must_use]
    pub fn pitting(flank: Flank, long_life: LongLife) -> Self {
        let knees: &[(f64, f64)] = match flank {
            Flank::Hardened => &[(1e5, 1.6), (5e7, 1.0)],
            Flank::HardenedSomePitting => &[(6e5, 1.6), (1e7, 1.3), (1e9, 1.0)],
            Flank::Nitrided => &[(1e5, 1.3), (2e6, 1.0)],
            Flank::Nitrocarburised => &[(1e5, 1.1), (2e6, 1.0)],
        };
        Self::of(knees, long_life)
    }

    /// Y_NT: life factor for tooth-root stress (ISO 6336-3).
    #[must_use]
    pub fn bending(root: Root, long_life: LongLife) -> Self {
        let knees: &[(f64, f64)] = match root {
            Root::ThroughHardened => &[(1e4, 2.5), (3e6, 1.0)],
            Root::CaseHardened => &[(1e3, 2.5), (3e6, 1.0)],
            Root::Nitrided => &[(1e3, 1.6), (3e6, 1.0)],
            Root::Nitrocarburised => &[(1e3, 1.1), (3e6, 1.0)],
        };
        Self::of(knees, long_life)
    }

    fn of(knees: &[(f64, f64)], long_life: LongLife) -> Self {
        let mut knees = knees.to_vec();
        if long_life == LongLife::Falling {
            knees.push(LONG_LIFE);
        }
        Self { knees, long_life }
    }

    /// The curve when influences of finish, film, notch or size multiply what is borne at and
    /// beyond the endurance knee by `endurance`, and what is borne statically by `at_static`
    /// (both above 0). Between the two the curve stays straight in log-log, as both parts have it.
    ///
    /// None if the endurance would then reach the static strength: the method has no such curve.
    #[must_use]
    pub fn influenced(&self, at_static: f64, endurance: f64) -> Option<Self> {
        let steps = self.knees.iter().enumerate();
        let knees: Vec<_> = steps
            .map(|(index, &(cycles, factor))| {
                let influence = if index == 0 { at_static } else { endurance };
                (cycles, factor * influence)
            })
            .collect();
        let falls = knees.windows(2).all(|pair| match pair {
            [(_, before), (_, after)] => before > after && *after > 0.0,
            _ => false,
        });
        falls.then_some(Self {
            knees,
            long_life: self.long_life,
        })
    }

    /// Largest factor the curve holds good for: the static strength. Damage above it is the first
    /// branch carried on, which the standard does not cover.
    #[must_use]
    pub fn static_factor(&self) -> f64 {
        self.knees.first().map_or(1.0, |knee| knee.1)
    }

    /// Factor borne for `cycles` (above 0): level below the first knee.
    #[must_use]
    pub fn factor(&self, cycles: f64) -> f64 {
        if cycles <= self.knees.first().map_or(0.0, |knee| knee.0) {
            return self.static_factor();
        }
        let last = self.knees.last().map_or(f64::INFINITY, |knee| knee.0);
        if self.long_life == LongLife::Level && cycles >= last {
            return self.knees.last().map_or(1.0, |knee| knee.1);
        }
        let (from, to) = self.branch(|pair| cycles <= pair.1.0);
        from.1 * libm::pow(cycles / from.0, -1.0 / slope(from, to))
    }

    /// Load cycles to a damage of 1 at a stress of `ratio` times the allowable stress number.
    /// Infinite at 0 and, where the curve levels off, at and below its last factor.
    #[must_use]
    pub fn cycles(&self, ratio: f64) -> f64 {
        let least = self.knees.last().map_or(1.0, |knee| knee.1);
        if ratio <= 0.0 || (self.long_life == LongLife::Level && ratio <= least) {
            return f64::INFINITY;
        }
        let (from, to) = self.branch(|pair| ratio >= pair.1.1);
        from.0 * libm::pow(from.1 / ratio, slope(from, to))
    }

    /// Damage of `cycles` at a stress of `ratio` times the allowable stress number.
    #[must_use]
    pub fn damage(&self, ratio: f64, cycles: f64) -> f64 {
        cycles / self.cycles(ratio)
    }

    /// First branch that `within` accepts, or the last one.
    fn branch(
        &self,
        within: impl Fn(((f64, f64), (f64, f64))) -> bool,
    ) -> ((f64, f64), (f64, f64)) {
        let mut found = ((1.0, 1.0), (1.0, 1.0));
        for pair in self.knees.windows(2) {
            if let [from, to] = pair {
                found = (*from, *to);
                if within(found) {
                    break;
                }
            }
        }
        found
    }
}

/// Exponent p of N x^p = constant between two knees.
fn slope(from: (f64, f64), to: (f64, f64)) -> f64 {
    libm::log(to.0 / from.0) / libm::log(from.1 / to.1)
}

/// One bin of a load spectrum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StressBin {
    /// Contact or tooth-root stress, Pa.
    pub stress_pa: f64,
    /// Load cycles at it.
    pub cycles: f64,
}

/// Palmgren-Miner damage sum over a spectrum (ISO 6336-6), at an allowable stress number in Pa.
#[must_use]
pub fn damage_sum(curve: &LifeCurve, allowable_pa: f64, spectrum: &[StressBin]) -> f64 {
    let damages = spectrum
        .iter()
        .map(|bin| curve.damage(bin.stress_pa / allowable_pa, bin.cycles));
    damages.sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slope_at(curve: &LifeCurve, ratio: f64) -> f64 {
        let step = 1.0001;
        (curve.cycles(ratio) / curve.cycles(ratio * step)).ln() / f64::ln(step)
    }

    /// Slopes that the knees of ISO 6336-2 and -3 imply: ln(N2/N1)/ln(x1/x2), by arithmetic.
    /// The knees themselves are from memory.
    #[test]
    fn the_slopes_are_those_of_the_knees() {
        let falling = LongLife::Falling;
        let pitting = |flank| LifeCurve::pitting(flank, falling);
        let bending = |root| LifeCurve::bending(root, falling);
        let cases = [
            (pitting(Flank::Hardened), 1.2, 13.2225),
            (pitting(Flank::Hardened), 0.9, 32.60),
            (pitting(Flank::HardenedSomePitting), 1.4, 13.5495),
            (pitting(Flank::HardenedSomePitting), 1.1, 17.5526),
            (pitting(Flank::Nitrided), 1.1, 11.418),
            (pitting(Flank::Nitrocarburised), 1.05, 31.43),
            (bending(Root::ThroughHardened), 2.0, 6.2249),
            (bending(Root::CaseHardened), 2.0, 8.7378),
            (bending(Root::CaseHardened), 0.9, 49.91),
            (bending(Root::Nitrided), 1.3, 17.035),
            (bending(Root::Nitrocarburised), 1.05, 84.0),
        ];
        for (curve, ratio, slope) in cases {
            let found = slope_at(&curve, ratio);
            assert!(
                (found / slope - 1.0).abs() < 5e-4,
                "{found} for {slope} of {curve:?}"
            );
        }
    }

    /// Spectrum worked by hand from the bending curve of case-hardened steel at 1000 MPa.
    #[test]
    fn a_spectrum_sums_to_its_hand_worked_damage() {
        let curve = LifeCurve::bending(Root::CaseHardened, LongLife::Level);
        let cycles = [(1.6, 49_381.14), (1.3, 303_044.7), (1.1, 1_304_488.2)];
        for (ratio, expected) in cycles {
            assert!((curve.cycles(ratio) / expected - 1.0).abs() < 1e-6);
        }
        let bin = |stress_pa, cycles| StressBin { stress_pa, cycles };
        let spectrum = [bin(1.6e9, 1e3), bin(1.3e9, 2e4), bin(1.1e9, 3e5)];
        let damage = damage_sum(&curve, 1e9, &spectrum);
        assert!((damage - 0.316_222_761_2).abs() < 1e-8, "{damage}");
    }

    #[test]
    fn factor_and_cycles_undo_each_other() {
        let curves = [
            LifeCurve::pitting(Flank::HardenedSomePitting, LongLife::Falling),
            LifeCurve::bending(Root::CaseHardened, LongLife::Falling),
        ];
        for curve in curves {
            for ratio in [0.8, 0.9, 0.99, 1.1, 1.29, 1.35, 1.55] {
                let back = curve.factor(curve.cycles(ratio));
                assert!(
                    (back / ratio - 1.0).abs() < 1e-12,
                    "{back} for {ratio} of {curve:?}"
                );
            }
        }
    }

    #[test]
    fn the_ends_hold() {
        let level = LifeCurve::pitting(Flank::Hardened, LongLife::Level);
        assert!(level.cycles(1.0).is_infinite());
        assert!((level.factor(1e12) - 1.0).abs() < 1e-15);
        assert!((level.factor(10.0) - 1.6).abs() < 1e-15);
        let falling = LifeCurve::pitting(Flank::Hardened, LongLife::Falling);
        assert!((falling.cycles(0.85) / 1e10 - 1.0).abs() < 1e-12);
        assert!(falling.cycles(0.5) > 1e10 && falling.cycles(0.5).is_finite());
        assert!(falling.cycles(0.0).is_infinite());
    }

    /// A film or finish changes what is borne at the endurance knee, not the static strength.
    #[test]
    fn influences_tilt_the_curve() {
        let plain = LifeCurve::pitting(Flank::Hardened, LongLife::Level);
        let smooth = plain.influenced(1.0, 1.05).expect("a curve that falls");
        assert!((smooth.cycles(1.6) / plain.cycles(1.6) - 1.0).abs() < 1e-12);
        assert!((smooth.factor(5e7) - 1.05).abs() < 1e-12);
        assert!(smooth.cycles(1.2) > plain.cycles(1.2));
        assert!(plain.influenced(1.0, 1.7).is_none());
    }
}
