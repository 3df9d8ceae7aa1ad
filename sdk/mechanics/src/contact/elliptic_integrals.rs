//! Elliptic integrals by Carlson's symmetric forms (B. C. Carlson, Numerical Algorithms 10, 1995, 13; duplication).

/// Complete integral of the first kind K, of the squared modulus m, 0 to below 1.
pub(super) fn first_kind(m: f64) -> f64 {
    r_f(0.0, 1.0 - m, 1.0)
}

/// Complete integral of the second kind E, of the squared modulus m, 0 to below 1.
pub(super) fn second_kind(m: f64) -> f64 {
    r_f(0.0, 1.0 - m, 1.0) - m / 3.0 * r_d(0.0, 1.0 - m, 1.0)
}

/// Incomplete integrals F and E at the angle of cotangent `cotangent`, 0 or more.
pub(super) fn incomplete(cotangent: f64, m: f64) -> (f64, f64) {
    let square = cotangent * cotangent;
    let sine = 1.0 / (1.0 + square).sqrt();
    let (c, q) = (square * sine * sine, 1.0 - m * sine * sine);
    let first = sine * r_f(c, q, 1.0);
    (first, first - m / 3.0 * sine * sine * sine * r_d(c, q, 1.0))
}

/// Rounds of duplication: each brings the arguments four times nearer to one another.
const ROUNDS: usize = 24;

fn r_f(mut x: f64, mut y: f64, mut z: f64) -> f64 {
    for _ in 0..ROUNDS {
        let step = (x * y).sqrt() + (y * z).sqrt() + (z * x).sqrt();
        (x, y, z) = (0.25 * (x + step), 0.25 * (y + step), 0.25 * (z + step));
    }
    // What is left of the series is of the order of the squared spread of the arguments.
    1.0 / ((x + y + z) / 3.0).sqrt()
}

fn r_d(mut x: f64, mut y: f64, mut z: f64) -> f64 {
    let (mut sum, mut share) = (0.0, 1.0);
    for _ in 0..ROUNDS {
        let step = (x * y).sqrt() + (y * z).sqrt() + (z * x).sqrt();
        sum += share / (z.sqrt() * (z + step));
        share *= 0.25;
        (x, y, z) = (0.25 * (x + step), 0.25 * (y + step), 0.25 * (z + step));
    }
    let mean = (x + y + 3.0 * z) / 5.0;
    3.0 * sum + share / (mean * mean.sqrt())
}
