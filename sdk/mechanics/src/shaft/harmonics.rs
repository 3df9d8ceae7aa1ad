//! Harmonics of a torque over the cycle.

use std::f64::consts::TAU;

use super::complex::Complex;

/// Harmonics of traces of so many even samples over a period.
#[derive(Debug, Clone, PartialEq)]
pub struct Harmonics {
    /// One turn of the unit circle.
    turn: Vec<Complex>,
}

impl Harmonics {
    /// For traces of `points` samples.
    pub fn new(points: usize) -> Self {
        let angle = |i: usize| TAU * i as f64 / points as f64;
        Self {
            turn: (0..points).map(|i| Complex::unit(angle(i))).collect(),
        }
    }

    /// Complex amplitudes of a trace: `x_i = Re Σ c_k exp(i k φ_i)`, `φ_i = 2π i/n`, for k from 0 (the mean) to `highest`; those from half the number
    /// of samples on are not given. For a trace over a four-stroke cycle k is twice the engine order. Samples beyond the period are left out.
    pub fn of(&self, trace: &[f64], highest: usize) -> Vec<Complex> {
        let n = self.turn.len();
        let most = highest.min(n.saturating_sub(1) / 2);
        let amplitude = |k: usize| {
            let mut at = 0;
            let mut sum = Complex::default();
            for x in trace.iter().take(n) {
                sum = sum + self.turn[at].conjugate().scaled(*x);
                at = (at + k) % n;
            }
            sum.scaled(if k == 0 { 1.0 } else { 2.0 } / n as f64)
        };
        if n == 0 {
            return Vec::new();
        }
        (0..=most).map(amplitude).collect()
    }

    /// The trace that amplitudes from k = 0 on make.
    pub fn trace(&self, amplitudes: &[Complex]) -> Vec<f64> {
        let n = self.turn.len();
        let mut trace = vec![0.0; n];
        for (k, c) in amplitudes.iter().enumerate() {
            let mut at = 0;
            for x in &mut trace {
                let unit = self.turn[at];
                *x += c.re * unit.re - c.im * unit.im;
                at = (at + k) % n;
            }
        }
        trace
    }
}

/// Coefficients of sin θ to sin 4θ in the torque of the reciprocating mass of one cylinder over `m r² ω²`: λ/4, −1/2, −3λ/4, −λ²/4 with
/// λ = crank radius over rod length (textbook, leading terms; what is left out is of the order of λ³).
pub fn inertia_torque_coefficients(lambda: f64) -> [f64; 4] {
    [0.25 * lambda, -0.5, -0.75 * lambda, -0.25 * lambda * lambda]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::{Reciprocating, SliderCrank};

    /// A trace made of known amplitudes gives them back, and back again.
    #[test]
    fn amplitudes_come_back() {
        let given = [
            Complex::new(3.0, 0.0),
            Complex::new(0.0, 0.0),
            Complex::new(1.0, -2.0),
            Complex::new(-0.5, 0.25),
        ];
        let harmonics = Harmonics::new(48);
        let trace = harmonics.trace(&given);
        for (found, expected) in harmonics.of(&trace, 3).iter().zip(&given) {
            assert!((*found - *expected).magnitude() < 1e-12);
        }
        assert!(Harmonics::new(0).of(&[], 3).is_empty());
    }

    /// The exact slider-crank against the textbook coefficients, at a rod so long that what those leave out (λ³) is below 2e-4, and at a
    /// usual rod within 3 % of the largest coefficient.
    #[test]
    fn inertia_torque_has_the_textbook_harmonics() {
        for (lambda, tolerance) in [(0.05, 2e-4), (0.2966, 0.015)] {
            let crank = SliderCrank::centred(0.043, 0.043 / lambda).unwrap();
            let masses = Reciprocating {
                mass_kg: 0.56,
                bore_m: 0.086,
            };
            let torque = |i: u32| {
                let angle = TAU * f64::from(i) / 720.0;
                masses.forces(&crank, angle, 800.0, 0.0).torque_n_m
            };
            let trace: Vec<f64> = (0..720).map(torque).collect();
            let scale = 0.56 * 0.043 * 0.043 * 800.0 * 800.0;
            let found = Harmonics::new(720).of(&trace, 4);
            let expected = inertia_torque_coefficients(lambda);
            for (amplitude, coefficient) in found.iter().skip(1).zip(expected) {
                // A sine is the imaginary part: c = −i s.
                assert!((amplitude.im + scale * coefficient).abs() < tolerance * scale);
                assert!(amplitude.re.abs() < 1e-9 * scale);
            }
            assert!(found[0].magnitude() < 1e-9 * scale, "no mean torque");
        }
    }
}
