//! Viscosity that a bearing needs, and that which its oil has.

use std::f64::consts::PI;

use crate::range::{OutOfRange, within};

/// Kinematic reference viscosity ν1 \[m²/s\] of ISO 281:2007 §9.3.3.2 at a speed \[rad/s\], above 0, for a pitch diameter \[m\]:
/// `45000 n^-0.83 Dpw^-0.5` below 1000 1/min, `4500 n^-0.5 Dpw^-0.5` from there, in mm²/s, 1/min and mm.
pub fn reference_viscosity_m2_s(speed_rad_s: f64, pitch_m: f64) -> f64 {
    let rpm = speed_rad_s * 30.0 / PI;
    let by_speed = if rpm < 1000.0 {
        45_000.0 * libm::pow(rpm, -0.83)
    } else {
        4500.0 / rpm.sqrt()
    };
    1.0e-6 * by_speed / (1.0e3 * pitch_m).sqrt()
}

/// How the viscosity ratio κ goes with the ratio Λ of film to roughness: `κ ≈ Λ^1.3` (ISO 281:2007 §9.3.3.2).
pub const KAPPA_OF_LAMBDA: f64 = 1.3;

/// Viscosity ratio of surfaces of another composite roughness \[m\] than the `usual` ones that ν1 stands for: with the same film Λ goes with
/// the inverse of roughness, so `κ (usual/σ)^1.3`.
pub fn smoothed_kappa(kappa: f64, usual_m: f64, composite_m: f64) -> f64 {
    kappa * libm::pow(usual_m / composite_m, KAPPA_OF_LAMBDA)
}

/// Kinematic viscosity over temperature: `lg lg(ν + 0.7) = A − B lg T` with ν in mm²/s, T in K (Ubbelohde and Walther; ASTM D341, whose
/// further terms matter below 2 mm²/s).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Walther {
    a: f64,
    b: f64,
}

const SHIFT_MM2_S: f64 = 0.7;

impl Walther {
    /// Through the viscosities \[m²/s\] at 40 and at 100 °C: 3e-6 to 2e-3 m²/s, and 2e-6 to that at 40 °C.
    ///
    /// # Errors
    /// The viscosity out of range.
    pub fn new(at_40c_m2_s: f64, at_100c_m2_s: f64) -> Result<Self, OutOfRange> {
        let cold = within(
            "at_40c_m2_s",
            at_40c_m2_s,
            (3.0e-6, 2.0e-3),
            "3e-6 to 2e-3 m2/s",
        )?;
        let hot = within(
            "at_100c_m2_s",
            at_100c_m2_s,
            (2.0e-6, cold),
            "2e-6 m2/s to the viscosity at 40 degC",
        )?;
        let (low, high) = (libm::log10(313.15), libm::log10(373.15));
        let b = (double_log(cold) - double_log(hot)) / (high - low);
        Ok(Self {
            a: double_log(cold) + b * low,
            b,
        })
    }

    /// Viscosity \[m²/s\] at a temperature \[K\], 230 to 500 K.
    pub fn viscosity_m2_s(&self, temp_k: f64) -> f64 {
        let log = libm::pow(10.0, self.a - self.b * libm::log10(temp_k));
        1.0e-6 * (libm::pow(10.0, log.min(8.0)) - SHIFT_MM2_S).max(0.1)
    }
}

fn double_log(viscosity_m2_s: f64) -> f64 {
    libm::log10(libm::log10(1.0e6 * viscosity_m2_s + SHIFT_MM2_S))
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

    /// ISO 281:2007 formulas worked out apart: 500 1/min and 65 mm, 3000 1/min and 50 mm. The two meet at 1000 1/min to 3 %: 45 against 1000^0.33.
    #[test]
    fn reference_viscosities() {
        let rpm = PI / 30.0;
        near(
            reference_viscosity_m2_s(500.0 * rpm, 0.065),
            32.1078e-6,
            1e-5,
        );
        near(
            reference_viscosity_m2_s(3000.0 * rpm, 0.050),
            11.6190e-6,
            1e-5,
        );
        let (below, above) = (
            reference_viscosity_m2_s(999.999 * rpm, 0.05),
            reference_viscosity_m2_s(1000.0 * rpm, 0.05),
        );
        near(below, above, 0.025);
    }

    /// An oil of 100 mm²/s at 40 °C and 11.1 at 100 °C (ISO 3448 VG 100 at viscosity index 95, from memory) has 27.2 at 70 °C, worked out by hand on the
    /// double-logarithmic chart.
    #[test]
    fn oils_follow_the_straight_chart() {
        let oil = Walther::new(100.0e-6, 11.1e-6).unwrap();
        near(oil.viscosity_m2_s(313.15), 100.0e-6, 1e-9);
        near(oil.viscosity_m2_s(373.15), 11.1e-6, 1e-9);
        near(oil.viscosity_m2_s(343.15), 27.2e-6, 2e-3);
        assert!(Walther::new(20.0e-6, 30.0e-6).is_err());
        assert!(Walther::new(f64::NAN, 30.0e-6).is_err());
    }

    #[test]
    fn smoother_surfaces_count_as_thicker_oil() {
        near(
            smoothed_kappa(0.5, 8.0e-8, 4.0e-8),
            0.5 * 2.0_f64.powf(1.3),
            1e-12,
        );
    }
}
