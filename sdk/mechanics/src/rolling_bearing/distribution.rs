//! Balance of bearings under load: how displacement shares it among the elements (ISO/TS 16281 without tilt and roller profile; from memory).
//!
//! Equivalent loads of contact angles above some 20 degrees come out below those of the rating standard's tables, which reduce the rating with the angle.

use super::row::{Loading, Row};
use crate::piston::falling_root;

/// A balance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reaction<const BEARINGS: usize> {
    /// What each row carries.
    pub rows: [Loading; BEARINGS],
    /// Axial displacement of the shaft \[m\].
    pub axial_m: f64,
    /// Radial displacement at each row \[m\].
    pub radial_m: [f64; BEARINGS],
}

/// Displacement from which a bracket is doubled outwards \[m\].
const FIRST_M: f64 = 4.0e-6;
/// Widest displacement that is looked at \[m\].
const WIDEST_M: f64 = 4.0e-3;
/// Narrowest bracket of a displacement \[m\] and of a force, over the load.
const NARROW: (f64, f64) = (1.0e-13, 1.0e-9);

/// Radial displacement \[m\] at which a row carries a radial load \[N\], at an axial displacement \[m\].
pub fn radial_displacement_m(row: &Row, axial_m: f64, radial_n: f64) -> f64 {
    if radial_n <= 0.0 {
        return 0.0;
    }
    let missing = |radial_m: f64| radial_n - row.force_n(radial_m, axial_m).0;
    let mut high = FIRST_M;
    while missing(high) > 0.0 && high < WIDEST_M {
        high *= 2.0;
    }
    falling_root((0.0, high), (NARROW.0, NARROW.1 * radial_n), missing)
}

/// Axial force \[N\] of a row that carries a radial load \[N\] at an axial displacement \[m\].
fn axial_n(row: &Row, axial_m: f64, radial_n: f64) -> f64 {
    let radial_m = radial_displacement_m(row, axial_m, radial_n);
    row.force_n(radial_m, axial_m).1
}

/// Root of a falling balance of forces over a displacement, the bracket widened to either side until it holds it.
fn balance(force_n: f64, missing: impl Fn(f64) -> f64) -> f64 {
    let mut bracket = (-FIRST_M, FIRST_M);
    while missing(bracket.0) < 0.0 && bracket.0 > -WIDEST_M {
        bracket.0 *= 2.0;
    }
    while missing(bracket.1) > 0.0 && bracket.1 < WIDEST_M {
        bracket.1 *= 2.0;
    }
    falling_root(bracket, (NARROW.0, 100.0 * NARROW.1 * force_n), missing)
}

/// A row by itself under a radial load \[N\] (0 or more) and an axial load \[N\], which a deep groove takes either way and others as their
/// contact angle goes.
pub fn single(row: &Row, radial_n: f64, axial_load_n: f64) -> Reaction<1> {
    let force_n = radial_n + axial_load_n.abs();
    let axial_m = if axial_load_n == 0.0 && row.angle_rad <= 0.0 {
        0.0
    } else {
        balance(force_n, |axial_m| {
            axial_load_n - axial_n(row, axial_m, radial_n)
        })
    };
    let radial_m = radial_displacement_m(row, axial_m, radial_n);
    Reaction {
        rows: [row.loading(radial_m, axial_m)],
        axial_m,
        radial_m: [radial_m],
    }
}

/// Two rows set against each other: row 0 takes axial load \[N\] of the shaft that counts positive, row 1 the other way. `preload_m` is the axial
/// approach of the rings of each row before there is load, negative for play (half of what a dial shows). Radial loads \[N\] are 0 or more.
pub fn pair(rows: [&Row; 2], preload_m: f64, radial_n: [f64; 2], external_n: f64) -> Reaction<2> {
    let force_n = radial_n[0] + radial_n[1] + external_n.abs() + rest_n(rows, preload_m);
    let axial_m = balance(force_n, |moved| {
        let there = axial_n(rows[0], preload_m + moved, radial_n[0]);
        let back = axial_n(rows[1], preload_m - moved, radial_n[1]);
        external_n - there + back
    });
    let at = [preload_m + axial_m, preload_m - axial_m];
    let radial_m = [0, 1].map(|k| radial_displacement_m(rows[k], at[k], radial_n[k]));
    Reaction {
        rows: [0, 1].map(|k| rows[k].loading(radial_m[k], at[k])),
        axial_m,
        radial_m,
    }
}

/// Axial force \[N\] between two rows without other load: the preload. The stiffer of two unlike rows is taken to give as much as the softer.
pub fn rest_n(rows: [&Row; 2], preload_m: f64) -> f64 {
    if preload_m <= 0.0 {
        return 0.0;
    }
    let force = |k: usize, axial_m: f64| rows[k].force_n(0.0, axial_m).1;
    // Both forces are alike where the shaft has found its place.
    let moved = falling_root((-preload_m, preload_m), (NARROW.0, 1.0e-6), |moved| {
        force(1, preload_m - moved) - force(0, preload_m + moved)
    });
    force(0, preload_m + moved)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rolling_bearing::loads::{angular_ball, tapered};

    fn near(value: f64, expected: f64, relative: f64) {
        assert!(
            (value / expected - 1.0).abs() < relative,
            "{value} {expected}"
        );
    }

    fn deep_groove() -> Row {
        Row::balls(9, 10.3e-3, 46.0e-3, 0.0).unwrap()
    }

    fn taper() -> Row {
        Row::rollers(17, 9.0e-3, 52.0e-3, 15.0_f64.to_radians(), 14.0e-3).unwrap()
    }

    /// R. Stribeck: without clearance the most loaded ball carries 4.37 Fr/Z; for rollers 4.08 Fr/Z (textbook, from memory). Few elements depart from the
    /// integral by a percent.
    #[test]
    fn the_most_loaded_element() {
        let row = Row::balls(20, 6.0e-3, 60.0e-3, 0.0).unwrap();
        let ball = single(&row, 5000.0, 0.0).rows[0];
        near(ball.largest_n, 4.37 * 5000.0 / 20.0, 0.01);
        let row = Row::rollers(20, 6.0e-3, 60.0e-3, 0.0, 8.0e-3).unwrap();
        let roller = single(&row, 5000.0, 0.0).rows[0];
        near(roller.largest_n, 4.08 * 5000.0 / 20.0, 0.01);
    }

    /// By definition of the rating, a radial load without clearance is its own equivalent load (ISO 281, ISO/TS 16281).
    #[test]
    fn a_radial_load_is_its_own_equivalent() {
        let ball = single(&deep_groove(), 6000.0, 0.0).rows[0];
        near(ball.equivalent_n, 6000.0, 0.03);
        let row = Row::rollers(15, 8.0e-3, 50.0e-3, 0.0, 10.0e-3).unwrap();
        let roller = single(&row, 6000.0, 0.0).rows[0];
        near(roller.equivalent_n, 6000.0, 0.03);
    }

    /// Axial load alone on tapered rollers: `P = Y Fa` with the standard's 0.4 cot α, which the distribution comes to within 6 %. For balls Lundberg and Palmgren's integrals give 0.5625/0.2288 of a
    /// radial load's mean against 1, so `0.407 cot α` at the angle to which the balls have turned; the Y of the standard's tables adds a reduction by
    /// 1 − sin(α)/3, which belongs to the rating and is not in a distribution: the tables ask for up to 30 % more.
    #[test]
    fn an_axial_load_counts_by_y() {
        let roller = single(&taper(), 0.0, 6000.0).rows[0];
        near(
            roller.equivalent_n,
            tapered(taper().angle_rad).y * 6000.0,
            0.08,
        );
        let angle = 40.0_f64.to_radians();
        let row = Row::balls(14, 9.0e-3, 50.0e-3, angle).unwrap();
        let ball = single(&row, 0.0, 6000.0).rows[0];
        let turned = libm::asin(6000.0 / (14.0 * ball.largest_n));
        near(ball.equivalent_n, 0.407 / libm::tan(turned) * 6000.0, 0.03);
        let table = angular_ball(angle).y * 6000.0;
        assert!((1.0..1.3).contains(&(table / ball.equivalent_n)));
    }

    /// Clearance narrows the loaded zone and shortens life; a light preload lengthens it past that of play; equilibrium is kept.
    #[test]
    fn clearance_costs_and_forces_balance() {
        let tight = single(&deep_groove(), 6000.0, 0.0).rows[0];
        let loose = single(&deep_groove().with_clearance(40.0e-6), 6000.0, 0.0).rows[0];
        assert!(loose.equivalent_n > 1.03 * tight.equivalent_n);
        let row = deep_groove().with_clearance(15.0e-6);
        let reaction = single(&row, 4000.0, -2000.0);
        let (radial, axial) = row.force_n(reaction.radial_m[0], reaction.axial_m);
        near(radial, 4000.0, 1e-6);
        near(axial, -2000.0, 1e-6);
    }

    /// A pair: external load is the difference of both axial forces; preload holds the shaft; play loads one side alone; mirrored loads
    /// give a mirrored balance.
    #[test]
    fn a_pair_is_in_balance() {
        let row = taper();
        let rows = [&row, &row];
        let set = pair(rows, 5.0e-6, [3000.0, 1500.0], 2500.0);
        let force = |k: usize| {
            let at = 5.0e-6 + if k == 0 { set.axial_m } else { -set.axial_m };
            row.force_n(set.radial_m[k], at)
        };
        near(force(0).1 - force(1).1, 2500.0, 1e-4);
        near(force(0).0, 3000.0, 1e-6);
        let mirrored = pair(rows, 5.0e-6, [1500.0, 3000.0], -2500.0);
        near(mirrored.axial_m, -set.axial_m, 1e-5);
        near(
            mirrored.rows[1].equivalent_n,
            set.rows[0].equivalent_n,
            1e-5,
        );
        let loose = pair(rows, -30.0e-6, [0.0, 0.0], 2500.0);
        assert!(loose.rows[1].largest_n < 1e-3 && loose.rows[0].largest_n > 100.0);
        near(rest_n(rows, 5.0e-6), row.force_n(0.0, 5.0e-6).1, 1e-6);
    }
}
