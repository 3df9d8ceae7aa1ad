//! Interpolation on evenly spaced nodes.

/// Weights of the four nodes about a position: cubic (Lagrange) inside; outside straight on from the last two
/// nodes, for at most one spacing, and held beyond.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weights {
    /// Index of the first of the four nodes.
    pub first: usize,
    /// Their weights.
    pub nodes: [f64; 4],
    /// Whether the position lies off the nodes.
    pub outside: bool,
}

impl Weights {
    /// For a position counted in node spacings from node 0, among `count` nodes, at least 4.
    pub fn new(position: f64, count: usize) -> Self {
        let last = (count - 1) as f64;
        let slack = 1e-9;
        let outside = position < -slack || position > last + slack;
        let held = position.clamp(-1.0, last + 1.0);
        if held < 0.0 {
            return Self {
                first: 0,
                nodes: [1.0 - held, held, 0.0, 0.0],
                outside,
            };
        }
        if held > last {
            let over = held - last;
            return Self {
                first: count - 4,
                nodes: [0.0, 0.0, -over, 1.0 + over],
                outside,
            };
        }
        let first = (held as usize).saturating_sub(1).min(count - 4);
        let t = held - first as f64;
        let (a, b, c, d) = (t, t - 1.0, t - 2.0, t - 3.0);
        Self {
            first,
            nodes: [
                -b * c * d / 6.0,
                0.5 * a * c * d,
                -0.5 * a * b * d,
                a * b * c / 6.0,
            ],
            outside,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(position: f64, of: impl Fn(f64) -> f64) -> f64 {
        let weights = Weights::new(position, 6);
        let nodes = weights.nodes.iter().enumerate();
        nodes
            .map(|(k, weight)| weight * of((weights.first + k) as f64))
            .sum()
    }

    /// Four nodes carry a cubic exactly.
    #[test]
    fn a_cubic_is_met_everywhere_inside() {
        let cubic = |x: f64| 2.0 - x + 0.5 * x * x - 0.1 * x * x * x;
        for k in 0..=50 {
            let x = 0.1 * f64::from(k);
            assert!((at(x, cubic) - cubic(x)).abs() < 1e-12, "{x}");
        }
    }

    #[test]
    fn outside_it_goes_straight_on_for_one_spacing_and_stops() {
        let line = |x: f64| 3.0 - 2.0 * x;
        assert!((at(-0.5, line) - 4.0).abs() < 1e-12);
        assert!((at(5.5, line) + 8.0).abs() < 1e-12);
        assert!((at(9.0, line) - at(6.0, line)).abs() < 1e-12);
        assert!(Weights::new(5.5, 6).outside && !Weights::new(5.0, 6).outside);
    }
}
