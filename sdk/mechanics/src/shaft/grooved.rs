//! Torsion of a shaft with alike grooves along it, all round: Saint-Venant's problem solved on the outline of the section.
//!
//! The stress function is `φ = u − r²/2` with u harmonic and φ zero on the outline. In `ln r` and the angle the section of one groove is a strip
//! that repeats, where u stays harmonic; it is that of a layer of sources on the outline, even over each straight element, with the strip's own Green's function and its
//! mirror at the middle of the groove (boundary-element method; textbook).

use std::f64::consts::FRAC_1_PI;

/// Solution for one groove.
#[derive(Debug, Clone, PartialEq)]
pub struct GroovedTorsion {
    /// Shear stress over shear modulus times twist for each metre \[m\], at the middle of each element of the outline.
    pub stress_m: Vec<f64>,
    /// Torque over shear modulus times twist for each metre, of the whole section \[m⁴\].
    pub polar_m4: f64,
}

/// An element of the outline in the strip: middle, half of the way along it, length, outward normal, radius \[m\].
struct Element {
    x: f64,
    y: f64,
    half: [f64; 2],
    length: f64,
    normal: [f64; 2],
    radius_m: f64,
}

/// Gauss's points and weights on −1 to 1, 4 points.
const GAUSS: [(f64, f64); 4] = [
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
    (-0.339_981_043_584_856_3, 0.652_145_154_862_546_1),
    (0.339_981_043_584_856_3, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
];

/// Solves a section whose outline, as (radius \[m\], angle \[rad\]) from the middle of a groove at angle 0 to the middle of the land at π over the number of grooves, is given by its
/// points in order; at least three. `None` where the points do not make an outline (fewer, not finite, or two the same).
pub fn grooved_torsion(outline: &[(f64, f64)], grooves: f64) -> Option<GroovedTorsion> {
    let scale_m = outline.last()?.0;
    let elements: Vec<Element> = outline
        .windows(2)
        .map(|pair| element(pair[0], pair[1], scale_m))
        .collect();
    let sound = |e: &Element| e.length > 0.0 && e.length.is_finite();
    if elements.len() < 2 || !elements.iter().all(sound) {
        return None;
    }
    let sources = layer(&elements, grooves)?;
    let stress_m: Vec<f64> = elements
        .iter()
        .enumerate()
        .map(|(index, at)| {
            let rise = slope(&elements, &sources, index, grooves) / at.radius_m;
            at.radius_m * at.normal[0] - rise
        })
        .collect();
    // J = ½ ∮ r² τ ds − ∫ r² dA, both round the outline: Green's formula with r²/4.
    let parts = elements.iter().zip(&stress_m).map(|(at, stress_m)| {
        let length_m = at.length * at.radius_m;
        let square = at.radius_m * at.radius_m;
        (0.5 * square * stress_m - 0.25 * square * at.radius_m * at.normal[0]) * length_m
    });
    Some(GroovedTorsion {
        polar_m4: 2.0 * grooves * parts.sum::<f64>(),
        stress_m,
    })
}

fn element(from: (f64, f64), to: (f64, f64), scale_m: f64) -> Element {
    let (x0, x1) = (libm::log(from.0 / scale_m), libm::log(to.0 / scale_m));
    let half = [0.5 * (x1 - x0), 0.5 * (to.1 - from.1)];
    let length = 2.0 * half[0].hypot(half[1]);
    let x = 0.5 * (x0 + x1);
    Element {
        x,
        y: 0.5 * (from.1 + to.1),
        half,
        length,
        // The section lies to the left of the outline, at lower x: a step in the angle has its normal outwards.
        normal: [2.0 * half[1] / length, -2.0 * half[0] / length],
        radius_m: scale_m * libm::exp(x),
    }
}

/// Green's function of the strip, `−ln(2 (cosh z Δx − cos z Δy))/4π`.
fn green(dx: f64, dy: f64, grooves: f64) -> f64 {
    let (a, b) = (0.5 * grooves * dx, 0.5 * grooves * dy);
    let (sinh, sin) = (libm::sinh(a), libm::sin(b));
    // cosh 2a − cos 2b = 2 (sinh² a + sin² b), without cancellation.
    -0.25 * FRAC_1_PI * libm::log(4.0 * (sinh * sinh + sin * sin))
}

/// Its gradient by Δx and Δy.
fn green_gradient(dx: f64, dy: f64, grooves: f64) -> [f64; 2] {
    let (a, b) = (0.5 * grooves * dx, 0.5 * grooves * dy);
    let (sinh, sin) = (libm::sinh(a), libm::sin(b));
    let below = sinh * sinh + sin * sin;
    let factor = -0.25 * FRAC_1_PI * grooves / below;
    [factor * sinh * libm::cosh(a), factor * sin * libm::cos(b)]
}

/// Strength of the sources on each element: they give r²/2 on the outline, and none goes out at the axis.
fn layer(elements: &[Element], grooves: f64) -> Option<Vec<f64>> {
    let count = elements.len();
    let mut rows: Vec<Vec<f64>> = Vec::with_capacity(count + 1);
    for (i, at) in elements.iter().enumerate() {
        let mut row: Vec<f64> = (0..count)
            .map(|j| potential(at, &elements[j], i == j, grooves))
            .collect();
        row.extend([1.0, 0.5 * at.radius_m * at.radius_m]);
        rows.push(row);
    }
    let mut row: Vec<f64> = elements.iter().map(|e| e.length).collect();
    row.extend([0.0, 0.0]);
    rows.push(row);
    solve(rows)
}

/// Potential at the middle of an element by even sources on another and its mirror.
fn potential(at: &Element, of: &Element, itself: bool, grooves: f64) -> f64 {
    let half = 0.5 * of.length;
    let mut sum = 0.0;
    for (place, weight) in GAUSS {
        let (x, y) = (of.x + place * of.half[0], of.y + place * of.half[1]);
        if itself {
            // Without its logarithm, which is integrated by itself.
            let near = libm::log(grooves * half * place.abs());
            let smooth = green(at.x - x, at.y - y, grooves) + 0.5 * FRAC_1_PI * near;
            sum += weight * half * smooth;
        } else {
            sum += weight * half * green(at.x - x, at.y - y, grooves);
        }
        sum += weight * half * green(at.x - x, at.y + y, grooves);
    }
    if itself {
        sum -= 0.5 * FRAC_1_PI * of.length * (libm::log(grooves * half) - 1.0);
    }
    sum
}

/// Rise of u along the outward normal of an element, within the section, in the strip.
fn slope(elements: &[Element], sources: &[f64], index: usize, grooves: f64) -> f64 {
    let at = &elements[index];
    let mut sum = 0.5 * sources[index];
    for (j, of) in elements.iter().enumerate() {
        let half = 0.5 * of.length;
        for (place, weight) in GAUSS {
            let (x, y) = (of.x + place * of.half[0], of.y + place * of.half[1]);
            let mut add = |dy: f64| {
                let [along_x, along_y] = green_gradient(at.x - x, dy, grooves);
                let rise = along_x * at.normal[0] + along_y * at.normal[1];
                sum += sources[j] * weight * half * rise;
            };
            if j != index {
                add(at.y - y); // a straight element has no slope on itself
            }
            add(at.y + y);
        }
    }
    sum
}

/// Gaussian elimination with the largest pivot of each column; each row ends with its right side.
fn solve(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let count = rows.len();
    for column in 0..count {
        let pivot = (column..count)
            .max_by(|&a, &b| rows[a][column].abs().total_cmp(&rows[b][column].abs()))?;
        rows.swap(column, pivot);
        let (done, below) = rows.split_at_mut(column + 1);
        let top = &done[column];
        if top[column] == 0.0 || !top[column].is_finite() {
            return None;
        }
        for row in below {
            let factor = row[column] / top[column];
            for (value, from) in row.iter_mut().zip(top).skip(column) {
                *value -= factor * from;
            }
        }
    }
    let mut solution = vec![0.0; count];
    for row in (0..count).rev() {
        let known: f64 = (row + 1..count).map(|k| rows[row][k] * solution[k]).sum();
        solution[row] = (rows[row][count] - known) / rows[row][row];
    }
    Some(solution)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// A plain shaft: stress is the radius, the polar moment `π a⁴/2`.
    #[test]
    fn a_plain_shaft() {
        let outline: Vec<(f64, f64)> = (0..=60)
            .map(|k| (0.02, PI / 8.0 * f64::from(k) / 60.0))
            .collect();
        let found = grooved_torsion(&outline, 8.0).unwrap();
        let polar = 0.5 * PI * 0.02_f64.powi(4);
        assert!((found.polar_m4 / polar - 1.0).abs() < 1e-6);
        assert!(
            found
                .stress_m
                .iter()
                .all(|stress| (stress / 0.02 - 1.0).abs() < 1e-6)
        );
    }

    /// C. Weber's exact solution of a shaft of radius a with one round groove of radius b about a point of its circumference (textbook): the stress is largest in the
    /// bottom of the groove, `2a − b`; in the groove it goes as `2a cos ψ − b` with the angle ψ at the groove's centre from the radius inwards.
    #[test]
    fn one_round_groove() {
        for share in [0.1, 0.3] {
            let (a, b) = (1.0, share);
            // Groove: points at distance b of (a, 0), from the bottom to where they meet the circumference.
            let meets = libm::acos(0.5 * b / a);
            let mut outline: Vec<(f64, f64)> = (0..=80)
                .map(|k| {
                    let psi = meets * f64::from(k) / 80.0;
                    let (x, y) = (a - b * libm::cos(psi), b * libm::sin(psi));
                    (x.hypot(y), libm::atan2(y, x))
                })
                .collect();
            let from = outline.last().unwrap().1;
            outline.extend((1..=160).map(|k| {
                let part = f64::from(k) / 160.0;
                (a, from + (PI - from) * part * part)
            }));
            let found = grooved_torsion(&outline, 1.0).unwrap();
            for k in [0, 20, 40] {
                let psi = meets * (f64::from(k) + 0.5) / 80.0;
                let exact = 2.0 * a * libm::cos(psi) - b;
                let stress = found.stress_m[k as usize];
                assert!(
                    (stress / exact - 1.0).abs() < 4e-3,
                    "{share} {k}: {stress} {exact}"
                );
            }
        }
    }

    #[test]
    fn what_is_no_outline_has_no_solution() {
        assert!(grooved_torsion(&[], 8.0).is_none());
        assert!(grooved_torsion(&[(1.0, 0.0), (1.0, 0.1)], 8.0).is_none());
        assert!(grooved_torsion(&[(1.0, 0.0), (1.0, 0.0), (1.0, 0.1)], 8.0).is_none());
        assert!(grooved_torsion(&[(f64::NAN, 0.0), (1.0, 0.2), (1.0, 0.3)], 8.0).is_none());
    }
}
