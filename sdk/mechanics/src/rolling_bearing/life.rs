//! Rating life.

/// Kind of bearing, as ISO 281 tells them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Radial ball bearing, angular contact up to 45 degrees included.
    RadialBall,
    /// Radial roller bearing, tapered rollers included.
    RadialRoller,
    /// Thrust ball bearing.
    ThrustBall,
    /// Thrust roller bearing.
    ThrustRoller,
}

impl Kind {
    /// Whether the elements are balls.
    pub fn balls(self) -> bool {
        matches!(self, Self::RadialBall | Self::ThrustBall)
    }

    /// Exponent p of life over load: 3 for balls, 10/3 for rollers.
    pub fn exponent(self) -> f64 {
        if self.balls() { 3.0 } else { 10.0 / 3.0 }
    }

    /// Weibull slope with which ISO 281 and ISO/TS 16281 combine lives: 10/9 for balls, 9/8 for rollers.
    pub fn slope(self) -> f64 {
        if self.balls() { 10.0 / 9.0 } else { 9.0 / 8.0 }
    }
}

/// Basic rating life L10 \[revolutions\] of a bearing of dynamic rating C under an equivalent load P, both in N and above 0: `1e6 (C/P)^p`
/// (ISO 281 §6). Endless without load.
pub fn basic_life_revs(kind: Kind, rating_n: f64, load_n: f64) -> f64 {
    let ratio = rating_n / load_n;
    let power = if kind.balls() {
        ratio * ratio * ratio
    } else {
        libm::pow(ratio, kind.exponent())
    };
    1.0e6 * power
}

/// Weibull slope that stands behind the factor [`a1`].
pub const SCATTER_SLOPE: f64 = 1.5;

/// Life adjustment factor for a reliability other than 90 %, from 0.5 to below 1: `0.05 + 0.95 (ln(1/R)/ln(1/0.9))^(2/3)`, which reproduces the table
/// of ISO 281:2007 (a Weibull distribution of slope 1.5 with a life of 5 % of L10 that none falls short of).
pub fn a1(reliability: f64) -> f64 {
    let share = libm::log(1.0 / reliability) / libm::log(1.0 / 0.9);
    0.05 + 0.95 * libm::pow(share, 1.0 / SCATTER_SLOPE)
}

/// Viscosity ratios between which the life modification factor is defined.
pub const KAPPA_RANGE: (f64, f64) = (0.1, 4.0);

/// Largest life modification factor.
pub const MOST_A_ISO: f64 = 50.0;

/// Life modification factor `a_ISO` of ISO 281:2007 §9.3.3 at one film, for any load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LifeModification {
    kind: Kind,
    /// What the film leaves of the bracket.
    film: f64,
}

impl LifeModification {
    /// Of a viscosity ratio κ, held between 0.1 and 4.
    pub fn new(kind: Kind, kappa: f64) -> Self {
        let kappa = kappa.clamp(KAPPA_RANGE.0, KAPPA_RANGE.1);
        let ((ball, roller), power) = match kappa {
            k if k < 0.4 => ((2.2649, 1.3993), 0.054_381),
            k if k < 1.0 => ((1.9987, 1.2348), 0.190_87),
            _ => ((1.9987, 1.2348), 0.071_739),
        };
        let thinned = libm::pow(kappa, -power);
        let film = if kind.balls() {
            libm::pow((2.5671 - ball * thinned).max(0.0), 0.83)
        } else {
            (1.5859 - roller * thinned).max(0.0)
        };
        Self { kind, film }
    }

    /// The factor, 0.1 to 50, of the contamination factor times fatigue load limit over equivalent load, `e_C C_u / P` (0 or more).
    pub fn factor(&self, contaminated_limit: f64) -> f64 {
        let (lowered, power) = match self.kind {
            Kind::RadialBall => (libm::cbrt(contaminated_limit), -9.3),
            Kind::ThrustBall => (libm::cbrt(contaminated_limit / 3.0), -9.3),
            Kind::RadialRoller => (libm::pow(contaminated_limit, 0.4), -9.185),
            Kind::ThrustRoller => (libm::pow(contaminated_limit / 2.5, 0.4), -9.185),
        };
        let left = 1.0 - self.film * lowered;
        if left <= 0.0 {
            return MOST_A_ISO;
        }
        (0.1 * libm::pow(left, power)).clamp(0.1, MOST_A_ISO)
    }
}

/// [`LifeModification`] for one film and one load.
pub fn a_iso(kind: Kind, kappa: f64, contaminated_limit: f64) -> f64 {
    LifeModification::new(kind, kappa).factor(contaminated_limit)
}

/// Life of a system of which all have to last, from the lives of its parts at the same reliability: `(Σ L^-e)^(-1/e)` with the Weibull slope e.
pub fn system_life(lives: &[f64], slope: f64) -> f64 {
    let sum: f64 = lives.iter().map(|life| libm::pow(*life, -slope)).sum();
    libm::pow(sum, -1.0 / slope)
}

/// Constant load of the same basic life as a spectrum of (load \[N\], revolutions): `(Σ P^p n / Σ n)^(1/p)`. 0 for no revolutions.
pub fn spectrum_load_n(kind: Kind, spectrum: &[(f64, f64)]) -> f64 {
    let turns: f64 = spectrum.iter().map(|(_, revs)| revs).sum();
    if turns <= 0.0 {
        return 0.0;
    }
    let p = kind.exponent();
    let each = spectrum
        .iter()
        .map(|(load, revs)| libm::pow(*load, p) * revs);
    libm::pow(each.sum::<f64>() / turns, 1.0 / p)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, expected: f64, relative: f64) {
        assert!(
            (value / expected - 1.0).abs() < relative,
            "{value} {expected}"
        );
    }

    /// ISO 281, C/P of 35.1/5 for balls and 50/8 for rollers; worked out apart.
    #[test]
    fn basic_lives() {
        near(
            basic_life_revs(Kind::RadialBall, 35.1e3, 5.0e3),
            345.948_408e6,
            1e-8,
        );
        near(
            basic_life_revs(Kind::RadialRoller, 50.0e3, 8.0e3),
            449.710_876e6,
            1e-8,
        );
    }

    /// Table of ISO 281:2007 (from memory).
    #[test]
    fn reliabilities() {
        for (reliability, expected) in [
            (0.90, 1.0),
            (0.95, 0.64),
            (0.96, 0.55),
            (0.97, 0.47),
            (0.98, 0.37),
            (0.99, 0.25),
            (0.999, 0.093),
            (0.9995, 0.077),
        ] {
            assert!((a1(reliability) - expected).abs() < 0.006, "{reliability}");
        }
        near(a1(0.995), 0.174_732, 1e-5);
    }

    /// Values of the formulas worked out apart; κ down, contaminated limit across.
    #[test]
    fn life_modification_factors() {
        let balls = [
            (0.2, [0.1647, 0.1884, 0.2237, 0.2528]),
            (0.5, [0.3660, 0.5295, 0.8617, 1.2320]),
            (1.0, [1.1437, 2.4305, 6.9181, 15.5667]),
            (2.0, [1.7018, 4.2016, 15.1127, 41.7524]),
            (4.0, [2.5008, 7.2018, 33.2847, 50.0]),
        ];
        let rollers = [
            (0.2, [0.1242, 0.1403, 0.1518, 0.1742]),
            (0.5, [0.1952, 0.2887, 0.3737, 0.5947]),
            (1.0, [0.3986, 0.9448, 1.7141, 5.3106]),
            (2.0, [0.5161, 1.4738, 3.0813, 12.9267]),
            (4.0, [0.6644, 2.2977, 5.5869, 32.9195]),
        ];
        for (kappa, row) in balls {
            for (limit, expected) in [0.05, 0.1, 0.2, 0.3].into_iter().zip(row) {
                near(a_iso(Kind::RadialBall, kappa, limit), expected, 4e-4);
                near(a_iso(Kind::ThrustBall, kappa, 3.0 * limit), expected, 4e-4);
            }
        }
        for (kappa, row) in rollers {
            for (limit, expected) in [0.1, 0.3, 0.5, 1.0].into_iter().zip(row) {
                near(a_iso(Kind::RadialRoller, kappa, limit), expected, 4e-4);
                near(
                    a_iso(Kind::ThrustRoller, kappa, 2.5 * limit),
                    expected,
                    4e-4,
                );
            }
        }
    }

    /// The branches meet at κ of 1 and, to four in ten thousand of the bracket, at 0.4.
    #[test]
    fn branches_meet() {
        for kind in [Kind::RadialBall, Kind::RadialRoller] {
            for (kappa, relative) in [(1.0, 1e-9), (0.4, 5e-3)] {
                let below = a_iso(kind, kappa - 1e-12, 0.2);
                near(a_iso(kind, kappa, 0.2), below, relative);
            }
        }
        assert!((a_iso(Kind::RadialBall, 0.01, 5.0) - 0.1).abs() < 1e-3);
        assert!((a_iso(Kind::RadialBall, 2.0, 5.0) - MOST_A_ISO).abs() < 1e-12);
    }

    /// Two equal bearings last 2^(-1/e) of one; a spectrum of one load is that load.
    #[test]
    fn systems_and_spectra() {
        near(
            system_life(&[8.0, 8.0], 1.5),
            8.0 / 2.0_f64.powf(1.0 / 1.5),
            1e-12,
        );
        near(system_life(&[8.0, f64::INFINITY], 1.5), 8.0, 1e-12);
        near(
            spectrum_load_n(Kind::RadialBall, &[(10.0, 1.0), (0.0, 7.0)]),
            5.0,
            1e-12,
        );
    }
}
