use super::{BallJoint, Place};

/// Most steps of Newton's method; it takes some ten.
const STEPS: usize = 80;

/// Loads of all balls for each N·m of torque \[N/(N·m)\], in the order of their tracks; the first track at a phase \[rad\] of the turn, joint angle 0 to 0.9 rad.
///
/// Elastic, without friction. The members turn against one another by ε and the cage tilts by τ, so that a ball's two contacts approach by
/// `ε arm + 2 lean (τ · position)` together, and carry its 3/2 power (Hertz). Torque and the two moments on the cage, which only balls hold in its
/// plane, are three equations for ε and τ: the least of a convex energy. Loads are in proportion to torque whatever the stiffness, as all contacts are alike.
pub fn loads_per_n_m(joint: &BallJoint, joint_rad: f64, phase_rad: f64) -> Vec<(Place, f64)> {
    let count = joint.balls as usize;
    let pitch = std::f64::consts::TAU / joint.balls;
    let places: Vec<Place> = (0..count)
        .map(|k| joint.place(joint_rad, phase_rad + pitch * k as f64))
        .collect();
    // Lengths in pitch radii.
    let scale_m = joint.pitch_radius_m;
    let rows: Vec<[f64; 3]> = places
        .iter()
        .map(|place| {
            let [x, y] = place.at_m;
            let tilt = 2.0 * place.lean / scale_m;
            [place.arm_m / scale_m, tilt * x, tilt * y]
        })
        .collect();
    let moves = least_energy(&rows);
    let forces = rows.iter().map(|row| force(row, &moves));
    places
        .iter()
        .copied()
        .zip(forces.map(|q| q / scale_m))
        .collect()
}

/// Force on a ball for its approach, stiffness 1.
fn force(row: &[f64; 3], moves: &[f64; 3]) -> f64 {
    let approach = dot(row, moves).max(0.0);
    approach * approach.sqrt()
}

/// Elastic energy less the work of a unit torque.
fn energy(rows: &[[f64; 3]], moves: &[f64; 3]) -> f64 {
    let stored = rows.iter().map(|row| {
        let approach = dot(row, moves).max(0.0);
        0.4 * approach * approach * approach.sqrt()
    });
    stored.sum::<f64>() - moves[0]
}

/// Damped Newton on the convex energy, from a joint turned against its balls without tilt of the cage.
fn least_energy(rows: &[[f64; 3]]) -> [f64; 3] {
    let lever: f64 = rows
        .iter()
        .map(|row| row[0] * row[0] * row[0].max(0.0).sqrt())
        .sum();
    let start = libm::cbrt(1.0 / (lever * lever));
    let mut moves = [start, 0.0, 0.0];
    for _ in 0..STEPS {
        let (gradient, curvature) = slopes(rows, &moves);
        if gradient.iter().all(|part| part.abs() < 1e-13) {
            break;
        }
        let step = solve(curvature, gradient);
        let here = energy(rows, &moves);
        let mut share = 1.0;
        let mut next = moves;
        for _ in 0..40 {
            next = [0, 1, 2].map(|k| moves[k] - share * step[k]);
            if energy(rows, &next) <= here {
                break;
            }
            share *= 0.5;
        }
        moves = next;
    }
    moves
}

fn slopes(rows: &[[f64; 3]], moves: &[f64; 3]) -> ([f64; 3], [[f64; 3]; 3]) {
    let mut gradient = [-1.0, 0.0, 0.0];
    let mut curvature = [[0.0; 3]; 3];
    for row in rows {
        let approach = dot(row, moves).max(0.0);
        let root = approach.sqrt();
        for i in 0..3 {
            gradient[i] += approach * root * row[i];
            for j in 0..3 {
                curvature[i][j] += 1.5 * root * row[i] * row[j];
            }
        }
    }
    // Keeps the step finite where a direction bears no load.
    let least = 1e-10 * (curvature[0][0] + curvature[1][1] + curvature[2][2]);
    for (k, row) in curvature.iter_mut().enumerate() {
        row[k] += least;
    }
    (gradient, curvature)
}

fn dot(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Cramer's rule on a symmetric, positive matrix.
fn solve(m: [[f64; 3]; 3], right: [f64; 3]) -> [f64; 3] {
    let cross = |a: [f64; 3], b: [f64; 3]| {
        [
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        ]
    };
    let whole = dot(&m[0], &cross(m[1], m[2]));
    let columns = [cross(m[1], m[2]), cross(m[2], m[0]), cross(m[0], m[1])];
    [0, 1, 2].map(|k| (0..3).map(|i| columns[i][k] * right[i]).sum::<f64>() / whole)
}

#[cfg(test)]
mod tests {
    use super::super::geometry::tests::joint;
    use super::*;

    /// Straight: even, `1/(m R sin α)` (statics; the textbook's ball load).
    #[test]
    fn a_straight_joint_shares_evenly() {
        let even = 1.0 / (6.0 * 0.032 * libm::sin(0.698));
        for (_, load) in loads_per_n_m(&joint(), 0.0, 0.3) {
            assert!((load / even - 1.0).abs() < 1e-9, "{load} {even}");
        }
    }

    /// Statics, apart from how it was solved: the torque about the axis, no moment on the cage.
    #[test]
    fn torque_and_cage_are_in_balance() {
        for angle_rad in [0.05, 0.105, 0.2, 0.4] {
            for phase_rad in [0.0, 0.2, 0.5] {
                let loads = loads_per_n_m(&joint(), angle_rad, phase_rad);
                let torque: f64 = loads.iter().map(|(at, load)| load * at.arm_m).sum();
                assert!((torque - 1.0).abs() < 1e-8, "{angle_rad}: {torque}");
                let mean: f64 = loads.iter().map(|(_, load)| load).sum::<f64>() / 6.0;
                for axis in 0..2 {
                    let tilting: f64 = loads
                        .iter()
                        .map(|(at, load)| load * at.lean * at.at_m[axis])
                        .sum();
                    assert!(
                        tilting.abs() < 1e-7 * mean * 0.032,
                        "{angle_rad}: {tilting}"
                    );
                }
                assert!(loads.iter().all(|(_, load)| *load >= 0.0));
            }
        }
    }
}
