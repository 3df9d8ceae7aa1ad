use std::f64::consts::PI;

use crate::range::{OutOfRange, within};

/// A 60° screw thread, ISO 68-1 profile.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    /// Nominal diameter \[m\].
    pub diameter_m: f64,
    /// Pitch \[m\].
    pub pitch_m: f64,
}

impl Thread {
    /// A thread of 1 to 100 mm whose pitch is 2 to 30 % of its diameter.
    ///
    /// # Errors
    /// The dimension out of range.
    pub fn new(diameter_m: f64, pitch_m: f64) -> Result<Self, OutOfRange> {
        let diameter_m = within(
            "diameter_m",
            diameter_m,
            (1.0e-3, 0.1),
            "a thread of 0.001 to 0.1 m",
        )?;
        let bounds = (0.02 * diameter_m, 0.3 * diameter_m);
        let pitch_m = within(
            "pitch_m",
            pitch_m,
            bounds,
            "a pitch of 2 to 30 % of the diameter",
        )?;
        Ok(Self {
            diameter_m,
            pitch_m,
        })
    }

    /// Pitch diameter d2 = d − 3/4 H \[m\], H = √3/2 P the height of the fundamental triangle (ISO 724).
    pub fn pitch_diameter_m(&self) -> f64 {
        self.diameter_m - 0.75 * self.triangle_m()
    }

    /// Core diameter d3 = d − 17/12 H \[m\] (ISO 898-1, as d1 − H/6).
    pub fn core_diameter_m(&self) -> f64 {
        self.diameter_m - 17.0 / 12.0 * self.triangle_m()
    }

    /// Core area \[m²\], on which the alternating stress stands.
    pub fn core_area_m2(&self) -> f64 {
        circle_m2(self.core_diameter_m())
    }

    /// Stress area \[m²\], of the mean of pitch and core diameter (ISO 898-1), on which the yield load stands.
    pub fn stress_area_m2(&self) -> f64 {
        circle_m2(0.5 * (self.pitch_diameter_m() + self.core_diameter_m()))
    }

    fn triangle_m(&self) -> f64 {
        0.5 * 3.0_f64.sqrt() * self.pitch_m
    }
}

/// Area of a circle \[m²\].
pub(super) fn circle_m2(diameter_m: f64) -> f64 {
    0.25 * PI * diameter_m * diameter_m
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Stress areas of ISO 898-1 by diameter and pitch \[mm\], \[mm²\]; arithmetic of the formula, to the last digit.
    #[test]
    fn stress_areas_of_metric_threads() {
        for (d, p, area) in [
            (8.0, 1.25, 36.609),
            (8.0, 1.0, 39.167),
            (9.0, 1.0, 51.045),
            (10.0, 1.5, 57.990),
            (12.0, 1.75, 84.267),
        ] {
            let thread = Thread::new(1e-3 * d, 1e-3 * p).unwrap();
            let found = 1e6 * thread.stress_area_m2();
            assert!((found - area).abs() < 6e-4, "M{d}x{p}: {found}");
            assert!(thread.core_area_m2() < thread.stress_area_m2());
        }
    }

    #[test]
    fn a_thread_that_cannot_be_cut_is_refused() {
        assert_eq!(Thread::new(0.5, 1e-3).unwrap_err().field, "diameter_m");
        assert_eq!(Thread::new(0.01, 0.01).unwrap_err().field, "pitch_m");
        assert!(Thread::new(f64::NAN, 1e-3).is_err());
    }
}
