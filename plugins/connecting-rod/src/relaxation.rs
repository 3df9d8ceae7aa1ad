//! Damage while residual stress relaxes, integrated in closed form.
//!
//! Damage for each cycle is known at nodes of the retained share, even from the first load to the share that stays, and straight between
//! them. The retained share is straight in x = ln(1 + N/N0), so over a stretch of cycles each node weighs
//! `∫ hat(x) N0 e^x dx`, which has a closed form: a record gives the same damage however it is cut.

use std::f64::consts::LN_10;

use crate::constants::RELAXATION;

/// Nodes of the retained share.
pub const NODES: usize = 6;

/// Retained share at a node.
pub fn retained(node: usize) -> f64 {
    let share = node as f64 / (NODES - 1) as f64;
    RELAXATION.first + (RELAXATION.least - RELAXATION.first) * share
}

/// Spacing of the nodes in x.
fn spacing() -> f64 {
    let fall = (RELAXATION.first - RELAXATION.least) / (NODES - 1) as f64;
    fall * LN_10 / RELAXATION.per_decade
}

/// Cycles that each node counts for, from a number of load cycles over so many more; they add up to these.
pub fn weights(from_cycles: f64, added_cycles: f64) -> [f64; NODES] {
    let mut weights = [0.0; NODES];
    let reference = RELAXATION.reference_cycles;
    let end = 1.0 + (from_cycles + added_cycles) / reference;
    let mut at = 1.0 + from_cycles / reference;
    let step = spacing();
    for node in 0..NODES - 1 {
        let node_x = step * node as f64;
        let to = libm::exp(node_x + step).min(end);
        if to <= at {
            continue;
        }
        // ∫ t e^x dx = (t − 1/step) e^x with t = (x − x_node)/step.
        let place = |e: f64| (libm::log(e) - node_x) / step;
        let moment = (place(to) - 1.0 / step) * to - (place(at) - 1.0 / step) * at;
        let whole = to - at;
        let moment = moment.clamp(0.0, whole);
        weights[node] += reference * (whole - moment);
        weights[node + 1] += reference * moment;
        at = to;
    }
    weights[NODES - 1] += reference * (end - at).max(0.0);
    weights
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_add_up_to_the_cycles_and_cuts_to_the_whole() {
        for (from, added) in [(0.0, 5.0e5), (1.0e3, 1.0), (3.0e6, 2.0e8), (1.0e12, 5.0e5)] {
            let whole = weights(from, added);
            assert!(
                (whole.iter().sum::<f64>() / added - 1.0).abs() < 1e-9,
                "{from}"
            );
            let (one, other) = (
                weights(from, 0.3 * added),
                weights(from + 0.3 * added, 0.7 * added),
            );
            for node in 0..NODES {
                let cut = one[node] + other[node];
                assert!((cut - whole[node]).abs() < 1e-8 * added, "{from} {node}");
            }
        }
    }

    /// A damage rate that is straight in the retained share, integrated by a fine sum instead.
    #[test]
    fn the_closed_form_is_the_integral() {
        let weighted: f64 = weights(2.0e4, 4.0e6)
            .iter()
            .enumerate()
            .map(|(node, weight)| weight * retained(node))
            .sum();
        let steps = 400_000;
        let sum: f64 = (0..steps)
            .map(|k| RELAXATION.retained(2.0e4 + 10.0 * (f64::from(k) + 0.5)) * 10.0)
            .sum();
        assert!((weighted / sum - 1.0).abs() < 1e-6, "{weighted} {sum}");
    }
}
