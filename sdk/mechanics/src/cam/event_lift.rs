use std::f64::consts::PI;

use super::{CamError, Lift};
use crate::range::within;

/// A symmetric textbook lift: ramps of constant velocity, and between them a polynomial event of five terms
/// `s = s_max + C_2 x² + C_p x^p + C_q x^q + C_r x^r`, x the share of the half event from the nose
/// (the polynomial cams of W. M. Dudley, 1948, and D. A. Stoddart, Machine Design, 1953; exponents
/// 2-10-18-26 from memory).
///
/// At the end of the event, lift and slope are those of the ramp, second and third derivative are 0. The ramp
/// starts from the base circle with a raised-cosine velocity over the first third of its height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EventLift {
    /// Largest lift, ramp included \[m\], 1e-3 to 0.05.
    pub max_lift_m: f64,
    /// Half the cam angle of the event between the ramps \[rad\], 0.3 to 2.5.
    pub half_duration_rad: f64,
    /// Height of the ramp \[m\], 1e-5 to a fifth of the largest lift.
    pub ramp_height_m: f64,
    /// Slope of the ramp \[m/rad\], at least `ramp_height_m`/0.6, at most `max_lift_m`/`half_duration_rad`.
    pub ramp_slope_m: f64,
    /// Exponents p < q < r, each an even whole number from 4 to 60.
    pub exponents: [i32; 3],
}

impl EventLift {
    /// The exponents of a moderate race cam.
    pub const EXPONENTS: [i32; 3] = [10, 18, 26];

    /// Refuses numbers out of their ranges.
    ///
    /// # Errors
    /// [`CamError::Law`] with the field.
    pub fn check(&self) -> Result<(), CamError> {
        within(
            "max_lift_m",
            self.max_lift_m,
            (1e-3, 0.05),
            "1e-3 to 0.05 m",
        )?;
        within(
            "half_duration_rad",
            self.half_duration_rad,
            (0.3, 2.5),
            "0.3 to 2.5 rad",
        )?;
        within(
            "ramp_height_m",
            self.ramp_height_m,
            (1e-5, 0.2 * self.max_lift_m),
            "1e-5 m to a fifth of max_lift_m",
        )?;
        within(
            "ramp_slope_m",
            self.ramp_slope_m,
            (
                self.ramp_height_m / 0.6,
                self.max_lift_m / self.half_duration_rad,
            ),
            "ramp_height_m/0.6 to max_lift_m/half_duration_rad",
        )?;
        let mut least = 4;
        for exponent in self.exponents {
            let even = if exponent % 2 == 0 {
                f64::from(exponent)
            } else {
                f64::NAN
            };
            within(
                "exponents",
                even,
                (f64::from(least), 60.0),
                "three even numbers, rising, from 4 to 60",
            )?;
            least = exponent + 1;
        }
        Ok(())
    }

    /// Half the cam angle of the whole lift, ramps included \[rad\].
    pub fn half_span_rad(&self) -> f64 {
        self.half_duration_rad + self.start_rad() + self.steady_rad()
    }

    /// Cam angle of the ramp's start, over which it comes up to its slope.
    fn start_rad(&self) -> f64 {
        2.0 / 3.0 * self.ramp_height_m / self.ramp_slope_m
    }

    /// Cam angle of the ramp at its full slope.
    fn steady_rad(&self) -> f64 {
        2.0 / 3.0 * self.ramp_height_m / self.ramp_slope_m
    }

    /// Lift at an angle from the nose \[rad\], negative before it.
    pub fn at(&self, from_nose_rad: f64) -> Lift {
        let away = from_nose_rad.abs();
        // All sides are written for falling lift; before the nose the slope has the other sign.
        let side = if from_nose_rad < 0.0 { -1.0 } else { 1.0 };
        let falling = if away < self.half_duration_rad {
            self.event(away)
        } else {
            self.ramp(self.half_span_rad() - away)
        };
        Lift {
            slope_m: side * falling.slope_m,
            ..falling
        }
    }

    /// The closing ramp, `left` before its end.
    fn ramp(&self, left: f64) -> Lift {
        let start = self.start_rad();
        if left.is_nan() || left <= 0.0 {
            return Lift::default();
        }
        if left > start {
            return Lift {
                lift_m: self.ramp_height_m / 3.0 + self.ramp_slope_m * (left - start),
                slope_m: -self.ramp_slope_m,
                curvature_m: 0.0,
            };
        }
        let phase = PI * left / start;
        let half = 0.5 * self.ramp_slope_m;
        Lift {
            lift_m: half * (left - start / PI * libm::sin(phase)),
            slope_m: -half * (1.0 - libm::cos(phase)),
            curvature_m: half * PI / start * libm::sin(phase),
        }
    }

    fn event(&self, away: f64) -> Lift {
        let half = self.half_duration_rad;
        let x = away / half;
        let mut lift = Lift {
            lift_m: self.max_lift_m,
            ..Lift::default()
        };
        for (n, c) in self.terms() {
            let power = libm::pow(x, f64::from(n - 2));
            let order = f64::from(n);
            lift.lift_m += c * power * x * x;
            lift.slope_m += c * order * power * x / half;
            lift.curvature_m += c * order * (order - 1.0) * power / (half * half);
        }
        lift
    }

    /// Exponents and coefficients. With `S_k = Σ C n^k`, lift and slope at the end of the event fix S_0 and S_1;
    /// that n(n−1) and n(n−1)(n−2) weighted by C vanish makes S_2 and S_3 equal to S_1. Each coefficient then is the
    /// polynomial in m that is 1 at its own exponent and 0 at the others, with m^k replaced by S_k.
    fn terms(&self) -> [(i32, f64); 4] {
        let drop = self.ramp_height_m - self.max_lift_m;
        let slope = -self.ramp_slope_m * self.half_duration_rad;
        let [p, q, r] = self.exponents;
        let orders = [2, p, q, r];
        orders.map(|n| {
            // The cubic in m that is 1 at m = n and 0 at the others, in rising powers of m.
            let mut poly = [1.0, 0.0, 0.0, 0.0];
            for other in orders.into_iter().filter(|&other| other != n) {
                let scale = f64::from(n - other);
                let mut next = [0.0; 4];
                for k in 0..3 {
                    next[k + 1] += poly[k] / scale;
                    next[k] -= poly[k] * f64::from(other) / scale;
                }
                poly = next;
            }
            let [c0, c1, c2, c3] = poly;
            (n, c0 * drop + (c1 + c2 + c3) * slope)
        })
    }

    /// An even table of the whole lift from 0 to 0: cam angles from the nose \[rad\], negative first, and lifts
    /// \[m\], for [`super::LiftCurve::new`]. `rows` is taken as at least 5.
    pub fn table(&self, rows: usize) -> (Vec<f64>, Vec<f64>) {
        let last = rows.max(5) - 1;
        let span = self.half_span_rad();
        let row = |k: usize| {
            if k == 0 || k == last {
                return (if k == 0 { -span } else { span }, 0.0);
            }
            let angle = span * (2.0 * k as f64 / last as f64 - 1.0);
            (angle, self.at(angle).lift_m.max(0.0))
        };
        (0..=last).map(row).unzip()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cam::LiftCurve;

    fn law() -> EventLift {
        EventLift {
            max_lift_m: 12.6e-3,
            half_duration_rad: 1.2,
            ramp_height_m: 0.3e-3,
            ramp_slope_m: 1.1e-3,
            exponents: EventLift::EXPONENTS,
        }
    }

    /// Dudley's end conditions without a ramp: coefficients of a unit rise for 2-10-18-26 are in the ratio of the
    /// products of the other exponents; worked out by hand, C_2 = −(10·18·26)/(8·16·24) and so on.
    #[test]
    fn coefficients_without_a_ramp_are_the_closed_form() {
        let flat = EventLift {
            max_lift_m: 1.0,
            ramp_height_m: 0.0,
            ramp_slope_m: 0.0,
            ..law()
        };
        let [two, p, q, r] = flat.terms();
        assert!((two.1 + 10.0 * 18.0 * 26.0 / (8.0 * 16.0 * 24.0)).abs() < 1e-12);
        assert!((p.1 - 2.0 * 18.0 * 26.0 / (8.0 * 8.0 * 16.0)).abs() < 1e-12);
        assert!((q.1 + 2.0 * 10.0 * 26.0 / (16.0 * 8.0 * 8.0)).abs() < 1e-12);
        assert!((r.1 - 2.0 * 10.0 * 18.0 / (24.0 * 16.0 * 8.0)).abs() < 1e-12);
    }

    #[test]
    fn event_meets_the_ramp_in_lift_slope_and_curvature() {
        let law = law();
        law.check().unwrap();
        let edge = law.half_duration_rad;
        let (inside, outside) = (law.at(edge - 1e-9), law.at(edge + 1e-9));
        assert!((inside.lift_m - outside.lift_m).abs() < 1e-10);
        assert!((inside.slope_m - outside.slope_m).abs() < 1e-9);
        assert!((inside.curvature_m - outside.curvature_m).abs() < 1e-7);
        assert!((outside.lift_m - law.ramp_height_m).abs() < 1e-10);
        assert!((outside.slope_m + law.ramp_slope_m).abs() < 1e-12);
        let end = law.at(law.half_span_rad() - 1e-9);
        assert!(end.lift_m.abs() < 1e-15 && end.slope_m.abs() < 1e-9);
        assert!((law.at(0.0).lift_m - law.max_lift_m).abs() < 1e-15);
    }

    #[test]
    fn slope_and_curvature_are_derivatives_and_the_lift_is_even() {
        let law = law();
        let small = 1e-6;
        for k in 1..300 {
            let angle = -1.6 + 3.2 * f64::from(k) / 300.0;
            let (low, mid, high) = (law.at(angle - small), law.at(angle), law.at(angle + small));
            let slope = (high.lift_m - low.lift_m) / (2.0 * small);
            let curvature = (high.slope_m - low.slope_m) / (2.0 * small);
            assert!((slope - mid.slope_m).abs() < 1e-8, "{angle}");
            assert!((curvature - mid.curvature_m).abs() < 1e-6, "{angle}");
            assert!((law.at(-angle).lift_m - mid.lift_m).abs() < 1e-15);
        }
    }

    #[test]
    fn its_table_makes_a_curve_that_follows_it() {
        let law = law();
        let (angles, lifts) = law.table(181);
        let curve = LiftCurve::new(&angles, &lifts).unwrap();
        let largest = (0..2000)
            .map(|k| -1.6 + 3.2 * f64::from(k) / 2000.0)
            .map(|angle| (curve.at(angle).curvature_m - law.at(angle).curvature_m).abs())
            .fold(0.0, f64::max);
        println!("largest error of the curvature from 181 rows: {largest:.1e} m/rad²");
        assert!(largest < 1e-3, "{largest:e}");
    }

    #[test]
    fn numbers_out_of_range_are_named() {
        let field = |law: EventLift| match law.check() {
            Err(CamError::Law(wrong)) => wrong.field,
            other => panic!("{other:?}"),
        };
        assert_eq!(
            field(EventLift {
                max_lift_m: f64::NAN,
                ..law()
            }),
            "max_lift_m"
        );
        assert_eq!(
            field(EventLift {
                half_duration_rad: 3.0,
                ..law()
            }),
            "half_duration_rad"
        );
        assert_eq!(
            field(EventLift {
                ramp_height_m: 0.004,
                ..law()
            }),
            "ramp_height_m"
        );
        assert_eq!(
            field(EventLift {
                ramp_slope_m: 1e-4,
                ..law()
            }),
            "ramp_slope_m"
        );
        assert_eq!(
            field(EventLift {
                exponents: [10, 10, 26],
                ..law()
            }),
            "exponents"
        );
        assert_eq!(
            field(EventLift {
                exponents: [10, 17, 26],
                ..law()
            }),
            "exponents"
        );
    }
}
