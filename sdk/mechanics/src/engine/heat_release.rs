use super::error::{EngineError, within};

/// Heat release after Wiebe: burned fraction `1 − exp(−a ((θ − θ0)/Δθ)^(m+1))`.
///
/// I. Wiebe, Brennverlauf und Kreisprozess von Verbrennungsmotoren, 1970; a = 5 and m = 2 are the
/// typical spark-ignition values of Heywood, Internal Combustion Engine Fundamentals (1988), 9.2
/// (from memory). The curve is cut off at θ0 + Δθ with `1 − exp(−a)` burned; the fraction here is
/// not rescaled, so the unburned 0.7 % of a = 5 stays unburned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wiebe {
    /// Start of heat release \[rad\], 0 at firing top dead centre.
    pub start_rad: f64,
    /// Duration Δθ \[rad\].
    pub duration_rad: f64,
    /// Efficiency factor a \[1\].
    pub efficiency: f64,
    /// Form factor m \[1\].
    pub form: f64,
}

impl Wiebe {
    /// Refuses parameters outside: start −π to π, duration 1e-6 to 2π rad, a 0.1 to 50, m −0.5 to 10.
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] naming the field.
    pub fn check(&self) -> Result<(), EngineError> {
        use std::f64::consts::PI;
        within("start_rad", self.start_rad, -PI, PI, "-pi to pi rad")?;
        within(
            "duration_rad",
            self.duration_rad,
            1e-6,
            2.0 * PI,
            "1e-6 to 2 pi rad",
        )?;
        within("efficiency", self.efficiency, 0.1, 50.0, "0.1 to 50")?;
        within("form", self.form, -0.5, 10.0, "-0.5 to 10")
    }

    /// Burned fraction at a crank angle \[rad\]: 0 before the start, constant after the end.
    pub fn burned(&self, angle_rad: f64) -> f64 {
        let progress = ((angle_rad - self.start_rad) / self.duration_rad).clamp(0.0, 1.0);
        -(-self.efficiency * progress.powf(self.form + 1.0)).exp_m1()
    }

    /// Crank angle \[rad\] at which a fraction is burned; `None` when it never is.
    pub fn angle_of(&self, fraction: f64) -> Option<f64> {
        let most = -(-self.efficiency).exp_m1();
        if !(0.0..=most).contains(&fraction) {
            return None;
        }
        let progress = (-(-fraction).ln_1p() / self.efficiency).powf(1.0 / (self.form + 1.0));
        Some(self.start_rad + progress * self.duration_rad)
    }
}

impl Default for Wiebe {
    /// Start 20° before, 60° long: half burned about 11° after top dead centre. Assumed.
    fn default() -> Self {
        Self {
            start_rad: (-20.0_f64).to_radians(),
            duration_rad: 60.0_f64.to_radians(),
            efficiency: 5.0,
            form: 2.0,
        }
    }
}
