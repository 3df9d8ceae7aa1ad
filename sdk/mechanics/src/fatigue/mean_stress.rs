//! Mean stress: the fully reversed amplitude that lasts as long as a given amplitude about a given mean.
//!
//! Stresses in Pa (or any one unit). A mean at or beyond what the material bears gives infinity. Gerber's parabola and
//! Soderberg's line were drawn for tension only: a compressive mean gives no credit there. Goodman's and Morrow's lines go on into
//! compression, and Smith, Watson and Topper's product falls to 0 with the peak stress.

/// J. Goodman's line: `sa / (1 − sm/Rm)`.
pub fn goodman(amplitude: f64, mean: f64, ultimate: f64) -> f64 {
    over(amplitude, 1.0 - mean / ultimate)
}

/// W. Gerber's parabola, for tension: `sa / (1 − (sm/Rm)²)`; without credit for compression.
pub fn gerber(amplitude: f64, mean: f64, ultimate: f64) -> f64 {
    let share = mean.max(0.0) / ultimate;
    over(amplitude, 1.0 - share * share)
}

/// J. Morrow's line: `sa / (1 − sm/σf')` with the fatigue strength coefficient.
pub fn morrow(amplitude: f64, mean: f64, strength_coefficient: f64) -> f64 {
    over(amplitude, 1.0 - mean / strength_coefficient)
}

/// C. R. Soderberg's line, for tension: `sa / (1 − sm/Re)`; without credit for compression.
pub fn soderberg(amplitude: f64, mean: f64, yield_strength: f64) -> f64 {
    over(amplitude, 1.0 - mean.max(0.0) / yield_strength)
}

/// R. N. Smith, P. Watson and T. H. Topper (J. Mater. 5, 1970): `√(s_max sa)`; 0 when the cycle has no tension.
pub fn smith_watson_topper(amplitude: f64, mean: f64) -> f64 {
    walker(amplitude, mean, 0.5)
}

/// K. Walker (ASTM STP 462, 1970): `s_max^(1−γ) sa^γ`, γ from 0 to 1; 0.5 is [`smith_watson_topper`].
pub fn walker(amplitude: f64, mean: f64, gamma: f64) -> f64 {
    let peak = (amplitude + mean).max(0.0);
    libm::pow(peak, 1.0 - gamma) * libm::pow(amplitude, gamma)
}

/// The linear form with a mean-stress sensitivity `M` (W. Schütz 1967): `sa + M sm`. Between pulsating compression (`sm = −sa`), below which
/// no more is credited, and pulsating tension, above which the sensitivity is a third (FKM guideline, from memory).
pub fn linear(amplitude: f64, mean: f64, sensitivity: f64) -> f64 {
    if mean <= amplitude {
        return amplitude + sensitivity * mean.max(-amplitude);
    }
    let third = sensitivity / 3.0;
    (amplitude + third * mean) * (1.0 + sensitivity) / (1.0 + third)
}

/// Mean-stress sensitivity of steel of an ultimate strength \[Pa\]: `0.35e-3 Rm/MPa − 0.1`, at least 0 (FKM guideline, from memory).
pub fn sensitivity_of_steel(ultimate_pa: f64) -> f64 {
    (0.35e-9 * ultimate_pa - 0.1).max(0.0)
}

fn over(amplitude: f64, left: f64) -> f64 {
    if left > 0.0 {
        amplitude / left
    } else {
        f64::INFINITY
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Parabola and yield line credit no compression; the others may, and the peak product ends at 0.
    #[test]
    fn compression_is_guarded() {
        assert!((gerber(200.0, -150.0, 900.0) - 200.0).abs() < 1e-12);
        assert!((soderberg(200.0, -150.0, 700.0) - 200.0).abs() < 1e-12);
        assert!(smith_watson_topper(200.0, -300.0) <= 0.0);
        let (some, more) = (linear(200.0, -200.0, 0.3), linear(200.0, -900.0, 0.3));
        assert!((some - more).abs() < 1e-12);
    }

    #[test]
    fn a_mean_that_tears_the_part_is_no_life() {
        assert!(goodman(1.0, 900.0, 900.0).is_infinite());
        assert!(gerber(1.0, 950.0, 900.0).is_infinite());
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// A larger mean or amplitude never lasts longer, by any line.
        #[test]
        fn more_stress_never_lasts_longer(
            amplitude in 1.0..400.0_f64, mean in -500.0..800.0_f64, by in 0.1..50.0_f64
        ) {
            let lines: [fn(f64, f64) -> f64; 6] = [
                |a, m| goodman(a, m, 900.0),
                |a, m| gerber(a, m, 900.0),
                |a, m| morrow(a, m, 1300.0),
                |a, m| soderberg(a, m, 700.0),
                |a, m| walker(a, m, 0.65),
                |a, m| linear(a, m, 0.3),
            ];
            for line in lines {
                let least = line(amplitude, mean);
                prop_assert!(line(amplitude, mean + by) >= least * (1.0 - 1e-12));
                prop_assert!(line(amplitude + by, mean) >= least * (1.0 - 1e-12));
            }
        }
    }

    /// The linear form has no step where its slope changes.
    #[test]
    fn the_linear_form_is_continuous() {
        for mean in [-200.0, 200.0_f64] {
            let step = linear(200.0, mean + 1e-9, 0.3) - linear(200.0, mean - 1e-9, 0.3);
            assert!(step.abs() < 1e-6, "{mean}: {step}");
        }
    }
}
