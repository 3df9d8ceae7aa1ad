//! Torsional vibration of a chain of discs and shafts.

use super::complex::Complex;
use crate::range::{OutOfRange, within};

/// A disc of the chain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disc {
    /// Moment of inertia about the axis \[kg·m²\], above 0.
    pub inertia_kg_m2: f64,
    /// Damping against the frame \[N·m·s/rad\], 0 or more.
    pub damping_n_m_s_rad: f64,
}

/// What joins two discs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shaft {
    /// Stiffness \[N·m/rad\], above 0.
    pub stiffness_n_m_rad: f64,
    /// Loss factor (structural damping): the stiffness is `k (1 + i η)`.
    pub loss_factor: f64,
    /// Viscous damping between the discs \[N·m·s/rad\].
    pub damping_n_m_s_rad: f64,
}

impl Shaft {
    /// Complex stiffness at a frequency \[rad/s\].
    fn dynamic(&self, frequency_rad_s: f64) -> Complex {
        let k = self.stiffness_n_m_rad;
        let loss = k * self.loss_factor + frequency_rad_s * self.damping_n_m_s_rad;
        Complex::new(k, loss)
    }
}

/// Discs in a row, free at both ends. Linear, steady: leaves out the change of the reciprocating inertia with crank angle, gear
/// backlash, and play.
#[derive(Debug, Clone, PartialEq)]
pub struct TorsionalChain {
    discs: Vec<Disc>,
    shafts: Vec<Shaft>,
}

impl TorsionalChain {
    /// From at least one disc and the shafts between them, one fewer.
    ///
    /// # Errors
    /// Numbers of the wrong sign, lists that do not fit.
    pub fn new(discs: Vec<Disc>, shafts: Vec<Shaft>) -> Result<Self, OutOfRange> {
        if discs.is_empty() || discs.len() != shafts.len() + 1 {
            return Err(OutOfRange {
                field: "discs",
                value: discs.len() as f64,
                expected: "one disc more than shafts",
            });
        }
        let (positive, none) = ((f64::MIN_POSITIVE, 1e15), (0.0, 1e15));
        for disc in &discs {
            let inertia = disc.inertia_kg_m2;
            within("inertia_kg_m2", inertia, positive, "above 0")?;
            let damping = disc.damping_n_m_s_rad;
            within("damping_n_m_s_rad", damping, none, "0 or more")?;
        }
        for shaft in &shafts {
            let stiffness = shaft.stiffness_n_m_rad;
            within("stiffness_n_m_rad", stiffness, positive, "above 0")?;
            within("loss_factor", shaft.loss_factor, (0.0, 10.0), "0 to 10")?;
            let damping = shaft.damping_n_m_s_rad;
            within("damping_n_m_s_rad", damping, none, "0 or more")?;
        }
        Ok(Self { discs, shafts })
    }

    /// Undamped natural frequencies \[rad/s\], rising; the first is 0, the chain being free. By bisection on the number of negative
    /// pivots (Sturm sequence), to rounding.
    pub fn natural_frequencies_rad_s(&self) -> Vec<f64> {
        let stiffest = |i: usize| {
            let about = self.about(i, |shaft| shaft.stiffness_n_m_rad);
            2.0 * about / self.discs[i].inertia_kg_m2
        };
        // Gershgorin: no square of a frequency lies beyond twice the stiffness about a disc over its inertia.
        let most = (0..self.discs.len()).map(stiffest).fold(0.0, f64::max);
        let find = |mode: usize| {
            if mode == 0 {
                return 0.0;
            }
            let (mut low, mut high) = (0.0, most);
            loop {
                let middle = 0.5 * (low + high);
                if middle <= low || middle >= high {
                    break;
                }
                if self.modes_below(middle) > mode {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            (0.5 * (low + high)).sqrt()
        };
        (0..self.discs.len()).map(find).collect()
    }

    /// How many natural frequencies have a square below the one given.
    fn modes_below(&self, square: f64) -> usize {
        let mut pivot = 1.0;
        let mut before = 0.0;
        let mut count = 0;
        for (i, disc) in self.discs.iter().enumerate() {
            let diagonal = self.about(i, |shaft| shaft.stiffness_n_m_rad);
            pivot = diagonal - square * disc.inertia_kg_m2 - before / pivot;
            if pivot == 0.0 {
                pivot = f64::MIN_POSITIVE.sqrt();
            }
            if pivot < 0.0 {
                count += 1;
            }
            before = self.shafts.get(i).map_or(0.0, |shaft| {
                shaft.stiffness_n_m_rad * shaft.stiffness_n_m_rad
            });
        }
        count
    }

    fn about(&self, disc: usize, of: impl Fn(&Shaft) -> f64) -> f64 {
        let left = disc.checked_sub(1).and_then(|i| self.shafts.get(i));
        let right = self.shafts.get(disc);
        left.into_iter().chain(right).map(of).sum()
    }

    /// Complex angles of the discs \[rad\] under complex torques on them \[N·m\] at a frequency above 0 \[rad/s\], steady state. Solved
    /// directly (tridiagonal elimination). Without any damping the answer at a natural frequency is not finite.
    ///
    /// # Errors
    /// A frequency out of range, torques that are not one for each disc.
    pub fn respond(
        &self,
        frequency_rad_s: f64,
        torques_n_m: &[Complex],
    ) -> Result<Vec<Complex>, OutOfRange> {
        let range = (f64::MIN_POSITIVE, 1e9);
        let frequency = within("frequency_rad_s", frequency_rad_s, range, "above 0")?;
        let n = self.discs.len();
        if torques_n_m.len() != n {
            return Err(OutOfRange {
                field: "torques_n_m",
                value: torques_n_m.len() as f64,
                expected: "one torque for each disc",
            });
        }
        let between: Vec<Complex> = self.shafts.iter().map(|s| s.dynamic(frequency)).collect();
        let mut pivots = Vec::with_capacity(n);
        let mut sides = Vec::with_capacity(n);
        for (i, disc) in self.discs.iter().enumerate() {
            let own = Complex::new(
                -frequency * frequency * disc.inertia_kg_m2,
                frequency * disc.damping_n_m_s_rad,
            );
            let right = between.get(i).copied().unwrap_or_default();
            let mut pivot = own + right;
            let mut side = torques_n_m[i];
            if let Some(before) = i.checked_sub(1) {
                let left = between[before];
                let factor = left / pivots[before];
                pivot = pivot + left - factor * left;
                side = side + factor * sides[before];
            }
            pivots.push(pivot);
            sides.push(side);
        }
        let mut angles = vec![Complex::default(); n];
        for i in (0..n).rev() {
            let from_right = match (between.get(i), angles.get(i + 1)) {
                (Some(shaft), Some(angle)) => *shaft * *angle,
                _ => Complex::default(),
            };
            angles[i] = (sides[i] + from_right) / pivots[i];
        }
        Ok(angles)
    }

    /// Complex torque in each shaft \[N·m\], positive when the disc before it leads, for the angles of a response.
    pub fn shaft_torques_n_m(&self, frequency_rad_s: f64, angles_rad: &[Complex]) -> Vec<Complex> {
        let pairs = angles_rad.windows(2).zip(&self.shafts);
        pairs
            .map(|(pair, shaft)| shaft.dynamic(frequency_rad_s) * (pair[0] - pair[1]))
            .collect()
    }

    /// Mean power lost in each shaft \[W\] for the angles of a response.
    pub fn shaft_losses_w(&self, frequency_rad_s: f64, angles_rad: &[Complex]) -> Vec<f64> {
        let pairs = angles_rad.windows(2).zip(&self.shafts);
        pairs
            .map(|(pair, shaft)| {
                let twist = (pair[0] - pair[1]).magnitude();
                0.5 * frequency_rad_s * shaft.dynamic(frequency_rad_s).im * twist * twist
            })
            .collect()
    }

    /// Mean power lost by each disc against the frame \[W\] for the angles of a response.
    pub fn disc_losses_w(&self, frequency_rad_s: f64, angles_rad: &[Complex]) -> Vec<f64> {
        let pairs = angles_rad.iter().zip(&self.discs);
        pairs
            .map(|(angle, disc)| {
                let speed = frequency_rad_s * angle.magnitude();
                0.5 * disc.damping_n_m_s_rad * speed * speed
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn disc(inertia_kg_m2: f64, damping_n_m_s_rad: f64) -> Disc {
        Disc {
            inertia_kg_m2,
            damping_n_m_s_rad,
        }
    }

    fn shaft(stiffness_n_m_rad: f64, loss_factor: f64) -> Shaft {
        Shaft {
            stiffness_n_m_rad,
            loss_factor,
            damping_n_m_s_rad: 0.0,
        }
    }

    /// Two discs: `ω² = k (J1 + J2)/(J1 J2)` (textbook).
    #[test]
    fn two_discs() {
        let discs = vec![disc(0.02, 0.0), disc(0.15, 0.0)];
        let chain = TorsionalChain::new(discs, vec![shaft(4.0e5, 0.0)]).unwrap();
        let found = chain.natural_frequencies_rad_s();
        let closed = (4.0e5_f64 * (0.02 + 0.15) / (0.02 * 0.15)).sqrt();
        assert!(found[0].abs() < 1e-12 && (found[1] / closed - 1.0).abs() < 1e-9);
    }

    /// Three discs: `ω⁴ − ω² (k1/J1 + (k1 + k2)/J2 + k2/J3) + k1 k2 (J1 + J2 + J3)/(J1 J2 J3) = 0` (textbook).
    #[test]
    fn three_discs() {
        let (j, k) = ([0.004, 0.02, 0.15], [3.0e4, 4.0e5]);
        let discs = j.iter().map(|inertia| disc(*inertia, 0.0)).collect();
        let shafts = k.iter().map(|stiffness| shaft(*stiffness, 0.0)).collect();
        let chain = TorsionalChain::new(discs, shafts).unwrap();
        let b = k[0] / j[0] + (k[0] + k[1]) / j[1] + k[1] / j[2];
        let c = k[0] * k[1] * (j[0] + j[1] + j[2]) / (j[0] * j[1] * j[2]);
        let root = (b * b - 4.0 * c).sqrt();
        let closed = [0.0, (0.5 * (b - root)).sqrt(), (0.5 * (b + root)).sqrt()];
        for (found, closed) in chain.natural_frequencies_rad_s().iter().zip(closed) {
            assert!(
                (found - closed).abs() <= 1e-9 * closed.max(1.0),
                "{found} {closed}"
            );
        }
    }

    /// A disc on a rigid mass is the damped oscillator: at resonance the shaft's torque is the exciting one over the loss factor (closed
    /// form, heavy second disc).
    #[test]
    fn resonance_is_bounded_by_the_loss_factor() {
        let discs = vec![disc(0.02, 0.0), disc(2.0e6, 0.0)];
        let chain = TorsionalChain::new(discs, vec![shaft(4.0e5, 0.04)]).unwrap();
        let frequency = (4.0e5_f64 / 0.02).sqrt();
        let torques = [Complex::new(10.0, 0.0), Complex::default()];
        let angles = chain.respond(frequency, &torques).unwrap();
        let torque = chain.shaft_torques_n_m(frequency, &angles)[0].magnitude();
        let closed = 10.0 * (1.0 + 0.04_f64 * 0.04).sqrt() / 0.04;
        assert!((torque / closed - 1.0).abs() < 1e-6, "{torque} {closed}");
    }

    #[test]
    fn what_is_no_chain_is_refused() {
        assert!(TorsionalChain::new(Vec::new(), Vec::new()).is_err());
        let one = TorsionalChain::new(vec![disc(0.0, 0.0)], Vec::new());
        assert_eq!(one.unwrap_err().field, "inertia_kg_m2");
        let chain = TorsionalChain::new(vec![disc(1.0, 0.0)], Vec::new()).unwrap();
        assert!(chain.respond(f64::NAN, &[Complex::default()]).is_err());
        assert!(chain.respond(1.0, &[]).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// Energy: what the torques put in is what damping takes out, and every disc obeys its equation of motion.
        #[test]
        fn power_in_is_power_out(
            inertias in prop::collection::vec(0.003..0.2_f64, 5), stiffnesses in prop::collection::vec(1.0e4..1.0e6_f64, 4),
            parts in prop::collection::vec(-50.0..50.0_f64, 10), frequency in 50.0..8000.0_f64, loss in 0.005..0.3_f64
        ) {
            let discs = inertias.iter().map(|inertia| disc(*inertia, 0.8)).collect();
            let shafts = stiffnesses.iter().map(|k| Shaft { damping_n_m_s_rad: 0.5, ..shaft(*k, loss) }).collect();
            let chain = TorsionalChain::new(discs, shafts).unwrap();
            let torques: Vec<Complex> = parts.chunks(2).map(|p| Complex::new(p[0], p[1])).collect();
            let angles = chain.respond(frequency, &torques).unwrap();
            // Mean of torque times speed: ½ Re(T conj(iωθ)).
            let power = |(torque, angle): (&Complex, &Complex)| {
                0.5 * (*torque * (Complex::new(0.0, frequency) * *angle).conjugate()).re
            };
            let given: f64 = torques.iter().zip(&angles).map(power).sum();
            let lost: f64 = chain.shaft_losses_w(frequency, &angles).iter().sum::<f64>()
                + chain.disc_losses_w(frequency, &angles).iter().sum::<f64>();
            prop_assert!((given - lost).abs() <= 1e-7 * lost, "{given} {lost}");
            let shafts = chain.shaft_torques_n_m(frequency, &angles);
            for i in 0..5 {
                let own = Complex::new(-frequency * frequency * inertias[i], 0.8 * frequency) * angles[i];
                let mut sum = own - torques[i];
                if i > 0 { sum = sum - shafts[i - 1]; }
                if i < 4 { sum = sum + shafts[i]; }
                let scale = torques[i].magnitude() + own.magnitude();
                prop_assert!(sum.magnitude() <= 1e-6 * scale, "{:?} of {}", sum, scale);
            }
        }
    }
}
