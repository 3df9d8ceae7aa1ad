use std::f64::consts::TAU;

use super::CamError;

/// Lift and its derivatives by cam angle.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Lift {
    /// Lift \[m\].
    pub lift_m: f64,
    /// First derivative \[m/rad\].
    pub slope_m: f64,
    /// Second derivative \[m/rad²\].
    pub curvature_m: f64,
}

impl Lift {
    /// The lift of a follower that moves `ratio` times as far.
    #[must_use]
    pub fn scaled(self, ratio: f64) -> Self {
        Self {
            lift_m: self.lift_m * ratio,
            slope_m: self.slope_m * ratio,
            curvature_m: self.curvature_m * ratio,
        }
    }
}

/// A lift curve through a table: the cubic spline with zero slope at both ends, carried on even steps as quintic
/// Hermite pieces. Second derivatives are continuous all round the cam, over the base circle too: the curvature
/// is taken to 0 within the first and last step.
///
/// A spline follows the table as given: rounding of the lifts comes back in the curvature, as about
/// 4 rounding / spacing².
#[derive(Debug, Clone, PartialEq)]
pub struct LiftCurve {
    start_rad: f64,
    span_rad: f64,
    step_rad: f64,
    largest_m: f64,
    /// Coefficients of each piece by rising power of the share of the step.
    pieces: Vec<[f64; 6]>,
}

/// Pieces that a curve has at the least.
const LEAST_PIECES: usize = 360;

impl LiftCurve {
    /// Through lifts \[m\] at cam angles \[rad\] that rise strictly and span less than one turn; the lift is 0 at
    /// both ends and outside. On an even table the curve meets every row exactly.
    ///
    /// # Errors
    /// [`CamError`], with the row that is at fault.
    pub fn new(angle_rad: &[f64], lift_m: &[f64]) -> Result<Self, CamError> {
        let (first, last) = check(angle_rad, lift_m)?;
        let knots = knots(angle_rad, lift_m);
        let intervals = knots.len() - 1;
        let count = intervals * LEAST_PIECES.div_ceil(intervals);
        let step_rad = (last - first) / count as f64;
        let mut nodes = Vec::with_capacity(count + 1);
        nodes.push(Lift::default());
        let mut place = 0;
        for k in 1..count {
            let angle = first + k as f64 * step_rad;
            while place + 2 < knots.len() && knots[place + 1].angle_rad <= angle {
                place += 1;
            }
            nodes.push(between(&knots[place], &knots[place + 1], angle));
        }
        nodes.push(Lift::default());
        Ok(Self {
            start_rad: first,
            span_rad: last - first,
            step_rad,
            largest_m: lift_m.iter().copied().fold(0.0, f64::max),
            pieces: nodes
                .windows(2)
                .map(|pair| quintic(pair[0], pair[1], step_rad))
                .collect(),
        })
    }

    /// Lift at any cam angle \[rad\]; whole turns are taken off. NaN gives no lift.
    pub fn at(&self, cam_angle_rad: f64) -> Lift {
        let from_start = cam_angle_rad - self.start_rad;
        let turned = from_start - TAU * (from_start / TAU).floor();
        let position = turned / self.step_rad;
        let Some(c) = self.pieces.get(position as usize) else {
            return Lift::default();
        };
        if position.is_nan() {
            return Lift::default();
        }
        let t = position.fract();
        let h = self.step_rad;
        Lift {
            lift_m: c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5])))),
            slope_m: (c[1]
                + t * (2.0 * c[2] + t * (3.0 * c[3] + t * (4.0 * c[4] + t * 5.0 * c[5]))))
                / h,
            curvature_m: (2.0 * c[2] + t * (6.0 * c[3] + t * (12.0 * c[4] + t * 20.0 * c[5])))
                / (h * h),
        }
    }

    /// Cam angle \[rad\] at which the lift begins, and the angle over which it lasts.
    pub fn span_rad(&self) -> (f64, f64) {
        (self.start_rad, self.span_rad)
    }

    /// Largest lift of the table \[m\].
    pub fn largest_m(&self) -> f64 {
        self.largest_m
    }
}

struct Knot {
    angle_rad: f64,
    lift_m: f64,
    curvature_m: f64,
}

/// First and last angle of a table that is fit for a curve.
fn check(angle_rad: &[f64], lift_m: &[f64]) -> Result<(f64, f64), CamError> {
    let (&[first, .., last], 5..) = (angle_rad, angle_rad.len()) else {
        return Err(rows(angle_rad, lift_m));
    };
    let &[lift_first, .., lift_last] = lift_m else {
        return Err(rows(angle_rad, lift_m));
    };
    if angle_rad.len() != lift_m.len() {
        return Err(rows(angle_rad, lift_m));
    }
    let mut before = f64::NEG_INFINITY;
    for (row, (&angle_rad, &lift_m)) in angle_rad.iter().zip(lift_m).enumerate() {
        if !angle_rad.is_finite() || angle_rad <= before {
            return Err(CamError::Angle { row, angle_rad });
        }
        if !lift_m.is_finite() || lift_m < 0.0 {
            return Err(CamError::Lift { row, lift_m });
        }
        before = angle_rad;
    }
    if last - first >= TAU {
        return Err(CamError::Span(last - first));
    }
    match lift_first.max(lift_last) {
        ends if ends > 0.0 => Err(CamError::End(ends)),
        _ => Ok((first, last)),
    }
}

fn rows(angle_rad: &[f64], lift_m: &[f64]) -> CamError {
    CamError::Rows {
        angles: angle_rad.len(),
        lifts: lift_m.len(),
    }
}

/// Second derivatives of the clamped cubic spline (zero end slopes), by elimination of its tridiagonal equations.
fn knots(angle_rad: &[f64], lift_m: &[f64]) -> Vec<Knot> {
    let count = angle_rad.len();
    let width = |k: usize| angle_rad[k + 1] - angle_rad[k];
    let rise = |k: usize| (lift_m[k + 1] - lift_m[k]) / width(k);
    let (mut upper, mut right) = (vec![0.0; count], vec![0.0; count]);
    for k in 0..count {
        let (left_width, left_rise) = if k == 0 {
            (0.0, 0.0)
        } else {
            (width(k - 1), rise(k - 1))
        };
        let (right_width, right_rise) = if k + 1 == count {
            (0.0, 0.0)
        } else {
            (width(k), rise(k))
        };
        let (above, so_far) = if k == 0 {
            (0.0, 0.0)
        } else {
            (upper[k - 1], right[k - 1])
        };
        let pivot = 2.0 * (left_width + right_width) - left_width * above;
        upper[k] = right_width / pivot;
        right[k] = (6.0 * (right_rise - left_rise) - left_width * so_far) / pivot;
    }
    for k in (0..count - 1).rev() {
        right[k] -= upper[k] * right[k + 1];
    }
    let columns = angle_rad.iter().zip(lift_m).zip(right);
    columns
        .map(|((&angle_rad, &lift_m), curvature_m)| Knot {
            angle_rad,
            lift_m,
            curvature_m,
        })
        .collect()
}

/// The cubic of one interval of the spline.
fn between(left: &Knot, right: &Knot, angle_rad: f64) -> Lift {
    let width = right.angle_rad - left.angle_rad;
    let b = (angle_rad - left.angle_rad) / width;
    let a = 1.0 - b;
    let bend = width * width / 6.0;
    let (from, to) = (left.curvature_m, right.curvature_m);
    Lift {
        lift_m: a * left.lift_m
            + b * right.lift_m
            + bend * ((a * a * a - a) * from + (b * b * b - b) * to),
        slope_m: (right.lift_m - left.lift_m) / width
            + width / 6.0 * ((1.0 - 3.0 * a * a) * from + (3.0 * b * b - 1.0) * to),
        curvature_m: a * from + b * to,
    }
}

/// Coefficients of the polynomial of fifth degree that meets lift, slope and curvature at both ends of a step.
fn quintic(from: Lift, to: Lift, step_rad: f64) -> [f64; 6] {
    let (c0, c1) = (from.lift_m, from.slope_m * step_rad);
    let c2 = 0.5 * from.curvature_m * step_rad * step_rad;
    // What the last three have to add at the far end, in lift, slope and half the curvature.
    let lift = to.lift_m - c0 - c1 - c2;
    let slope = to.slope_m * step_rad - c1 - 2.0 * c2;
    let bend = 0.5 * to.curvature_m * step_rad * step_rad - c2;
    [
        c0,
        c1,
        c2,
        10.0 * lift - 4.0 * slope + bend,
        -15.0 * lift + 7.0 * slope - 2.0 * bend,
        6.0 * lift - 3.0 * slope + bend,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `(1 − cos)²`-like hump with zero slope and curvature at its ends, known in closed form.
    fn hump(angle: f64) -> Lift {
        let (sine, cosine) = (angle.sin(), angle.cos());
        Lift {
            lift_m: sine.powi(4),
            slope_m: 4.0 * sine.powi(3) * cosine,
            curvature_m: 12.0 * sine * sine * cosine * cosine - 4.0 * sine.powi(4),
        }
    }

    fn curve(rows: u32) -> LiftCurve {
        let angles: Vec<f64> = (0..rows)
            .map(|k| std::f64::consts::PI * f64::from(k) / f64::from(rows - 1))
            .collect();
        let mut lifts: Vec<f64> = angles.iter().map(|&angle| hump(angle).lift_m).collect();
        lifts[rows as usize - 1] = 0.0;
        LiftCurve::new(&angles, &lifts).unwrap()
    }

    fn worst(curve: &LiftCurve) -> [f64; 3] {
        let mut worst: [f64; 3] = [0.0; 3];
        for k in 0..1000 {
            let angle = std::f64::consts::PI * (f64::from(k) + 0.37) / 1000.0;
            let (found, exact) = (curve.at(angle), hump(angle));
            worst[0] = worst[0].max((found.lift_m - exact.lift_m).abs());
            worst[1] = worst[1].max((found.slope_m - exact.slope_m).abs());
            worst[2] = worst[2].max((found.curvature_m - exact.curvature_m).abs());
        }
        worst
    }

    /// The error of a cubic spline falls with the fourth, third and second power of the spacing
    /// (de Boor, A Practical Guide to Splines, ch. V; from memory).
    #[test]
    fn errors_fall_as_those_of_a_cubic_spline() {
        let (coarse, fine) = (worst(&curve(46)), worst(&curve(91)));
        for (k, least) in [14.0, 7.0, 3.5].into_iter().enumerate() {
            assert!(coarse[k] / fine[k] > least, "{coarse:?} {fine:?}");
        }
    }

    #[test]
    fn derivatives_are_those_of_the_lift_and_continuous_all_round() {
        let curve = curve(61);
        let small = 1e-6;
        for k in 0..4000 {
            let angle = -0.2 + 4.0 * f64::from(k) / 4000.0;
            let (low, mid, high) = (
                curve.at(angle - small),
                curve.at(angle),
                curve.at(angle + small),
            );
            assert!(((high.lift_m - low.lift_m) / (2.0 * small) - mid.slope_m).abs() < 1e-7);
            assert!(((high.slope_m - low.slope_m) / (2.0 * small) - mid.curvature_m).abs() < 2e-3);
            assert!((high.curvature_m - low.curvature_m).abs() < 2e-3, "{angle}");
        }
    }

    #[test]
    fn whole_turns_change_nothing_and_outside_there_is_no_lift() {
        let curve = curve(61);
        for angle in [0.3, 1.0, 2.9] {
            assert!((curve.at(angle + 3.0 * TAU).lift_m - curve.at(angle).lift_m).abs() < 1e-12);
            assert!((curve.at(angle - 5.0 * TAU).lift_m - curve.at(angle).lift_m).abs() < 1e-12);
        }
        for angle in [-0.1, 3.2, 6.0, f64::NAN, f64::INFINITY] {
            assert_eq!(curve.at(angle), Lift::default());
        }
    }

    #[test]
    fn uneven_tables_are_met_too() {
        let angles: Vec<f64> = (0..80)
            .map(|k| {
                let t = f64::from(k) / 79.0;
                std::f64::consts::PI * (t + 0.1 * (TAU * t).sin() / TAU)
            })
            .collect();
        let mut lifts: Vec<f64> = angles.iter().map(|&angle| hump(angle).lift_m).collect();
        lifts[79] = 0.0;
        let curve = LiftCurve::new(&angles, &lifts).unwrap();
        assert!(worst(&curve)[0] < 1e-6, "{:?}", worst(&curve));
    }

    #[test]
    fn unfit_tables_are_refused_with_the_row_at_fault() {
        let angles = [0.0, 1.0, 2.0, 3.0, 4.0];
        let lifts = [0.0, 1.0, 2.0, 1.0, 0.0];
        assert!(LiftCurve::new(&angles, &lifts).is_ok());
        let refused = |angles: &[f64], lifts: &[f64]| LiftCurve::new(angles, lifts).unwrap_err();
        assert!(matches!(
            refused(&angles, &lifts[..4]),
            CamError::Rows { .. }
        ));
        assert!(matches!(refused(&[], &[]), CamError::Rows { .. }));
        assert!(matches!(
            refused(&[0.0, 1.0, 1.0, 3.0, 4.0], &lifts),
            CamError::Angle { row: 2, .. }
        ));
        assert!(matches!(
            refused(&angles, &[0.0, 1.0, f64::NAN, 1.0, 0.0]),
            CamError::Lift { row: 2, .. }
        ));
        assert_eq!(
            refused(&angles, &[0.0, 1.0, 2.0, 1.0, 0.5]),
            CamError::End(0.5)
        );
        assert_eq!(
            refused(&[0.0, 1.0, 2.0, 3.0, 6.3], &lifts),
            CamError::Span(6.3)
        );
    }
}
