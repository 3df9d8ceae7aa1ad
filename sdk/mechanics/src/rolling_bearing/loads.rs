//! Equivalent loads of the rating standards, for checks of a choice of bearing and where the inside of a bearing is not known.

/// Factors of `P = X Fr + Y Fa`, and the ratio `Fa/Fr` up to which axial load does not count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors {
    /// Limiting ratio e.
    pub e: f64,
    /// X beyond it.
    pub x: f64,
    /// Y beyond it.
    pub y: f64,
}

impl Factors {
    /// Equivalent dynamic load \[N\] of a single row under a radial and an axial load \[N\], both 0 or more.
    pub fn load_n(&self, radial_n: f64, axial_n: f64) -> f64 {
        if axial_n <= self.e * radial_n {
            radial_n
        } else {
            (self.x * radial_n + self.y * axial_n).max(radial_n)
        }
    }
}

/// Deep groove balls (ISO 281:2007 table 3): `f0 Fa/C0`, e, Y; X is 0.56.
const DEEP_GROOVE: [[f64; 3]; 9] = [
    [0.172, 0.19, 2.30],
    [0.345, 0.22, 1.99],
    [0.689, 0.26, 1.71],
    [1.03, 0.28, 1.55],
    [1.38, 0.30, 1.45],
    [2.07, 0.34, 1.31],
    [3.45, 0.38, 1.15],
    [5.17, 0.42, 1.04],
    [6.89, 0.44, 1.00],
];

/// Angular contact balls (same table): contact angle \[degrees\], e, X, Y of a single row; static Y0 (ISO 76).
const ANGULAR: [[f64; 5]; 5] = [
    [20.0, 0.57, 0.43, 1.00, 0.42],
    [25.0, 0.68, 0.41, 0.87, 0.38],
    [30.0, 0.80, 0.39, 0.76, 0.33],
    [35.0, 0.95, 0.37, 0.66, 0.29],
    [40.0, 1.14, 0.35, 0.57, 0.26],
];

fn row_at<const N: usize>(rows: &[[f64; N]], at: f64) -> [f64; N] {
    let after = rows.partition_point(|row| row[0] < at);
    let (Some(low), Some(high)) = (
        after.checked_sub(1).and_then(|k| rows.get(k)),
        rows.get(after),
    ) else {
        return rows[after.min(rows.len() - 1)];
    };
    let share = (at - low[0]) / (high[0] - low[0]);
    std::array::from_fn(|k| low[k] + share * (high[k] - low[k]))
}

/// Factors of a deep groove ball bearing with usual clearance at `f0 Fa/C0`, straight between the table's rows and held at its ends.
pub fn deep_groove(axial_over_static: f64) -> Factors {
    let [_, e, y] = row_at(&DEEP_GROOVE, axial_over_static);
    Factors { e, x: 0.56, y }
}

/// Factors of a single row of angular contact balls at a contact angle \[rad\] of 20 to 40 degrees, straight between the table's rows.
pub fn angular_ball(contact_angle_rad: f64) -> Factors {
    let [_, e, x, y, _] = row_at(&ANGULAR, contact_angle_rad.to_degrees());
    Factors { e, x, y }
}

/// Factors of a single row of tapered rollers at a contact angle \[rad\]: e = 1.5 tan α, X 0.4, Y = 0.4 cot α (ISO 281:2007 table 8).
pub fn tapered(contact_angle_rad: f64) -> Factors {
    let tan = libm::tan(contact_angle_rad);
    Factors {
        e: 1.5 * tan,
        x: 0.4,
        y: 0.4 / tan,
    }
}

/// Equivalent static load \[N\] (ISO 76): `max(Fr, X0 Fr + Y0 Fa)`.
pub fn static_load_n((x0, y0): (f64, f64), radial_n: f64, axial_n: f64) -> f64 {
    radial_n.max(x0 * radial_n + y0 * axial_n)
}

/// X0 and Y0 of deep groove balls.
pub const DEEP_GROOVE_STATIC: (f64, f64) = (0.6, 0.5);

/// X0 and Y0 of a single row of angular contact balls at a contact angle \[rad\] of 20 to 40 degrees.
pub fn angular_ball_static(contact_angle_rad: f64) -> (f64, f64) {
    let [_, _, _, _, y0] = row_at(&ANGULAR, contact_angle_rad.to_degrees());
    (0.5, y0)
}

/// X0 and Y0 of a single row of tapered rollers at a contact angle \[rad\].
pub fn tapered_static(contact_angle_rad: f64) -> (f64, f64) {
    (0.5, 0.22 / libm::tan(contact_angle_rad))
}

/// Axial loads \[N\] of the two tapered roller bearings of a shaft without preload or play, `A` being the one that an external axial load
/// \[N\], 0 or more, presses on: each radial load pushes the other with `Fr/(2Y)` (trade rule of the bearing handbooks, from memory).
pub fn tapered_pair_axial_n(
    radial_n: [f64; 2],
    factors: [Factors; 2],
    external_n: f64,
) -> [f64; 2] {
    let own = [0, 1].map(|k| radial_n[k] / (2.0 * factors[k].y));
    if own[0] <= own[1] + external_n {
        [own[1] + external_n, own[1]]
    } else {
        [own[0], own[0] - external_n]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, expected: f64) {
        assert!((value / expected - 1.0).abs() < 1e-9, "{value} {expected}");
    }

    /// Rows of the tables and values by hand.
    #[test]
    fn factors() {
        near(
            deep_groove(1.03).load_n(4000.0, 2000.0),
            0.56 * 4000.0 + 1.55 * 2000.0,
        );
        near(deep_groove(1.03).load_n(4000.0, 1000.0), 4000.0);
        near(deep_groove(0.0).y, 2.30);
        near(deep_groove(99.0).y, 1.0);
        near(
            angular_ball(40.0_f64.to_radians()).load_n(1000.0, 2000.0),
            350.0 + 1140.0,
        );
        near(angular_ball(27.5_f64.to_radians()).e, 0.74);
        let taper = tapered(15.0_f64.to_radians());
        near(taper.e * taper.y, 0.6);
        near(static_load_n(DEEP_GROOVE_STATIC, 1000.0, 3000.0), 2100.0);
        near(static_load_n(DEEP_GROOVE_STATIC, 1000.0, 100.0), 1000.0);
        near(angular_ball_static(30.0_f64.to_radians()).1, 0.33);
    }

    /// Both cases of the trade's rule; what presses on the shaft is in balance.
    #[test]
    fn pairs_of_tapers() {
        let y = |y| Factors { e: 0.4, x: 0.4, y };
        let [a, b] = tapered_pair_axial_n([3000.0, 6000.0], [y(1.5), y(1.5)], 1000.0);
        near(a, 3000.0);
        near(b, 2000.0);
        let [a, b] = tapered_pair_axial_n([9000.0, 1500.0], [y(1.5), y(1.5)], 1000.0);
        near(a, 3000.0);
        near(b, 2000.0);
    }
}
