//! The four-point count, and its residue closed by repetition.

use super::Cycle;
use super::reversals::{NotFinite, Reversals};
use serde::{Deserialize, Serialize};

/// Four-point rainflow count in progress. Serialise it to stop, deserialise it to go on.
///
/// A range is counted, always as a full cycle, when it lies within both of its neighbours. What is
/// left is the residue. Counted as half cycles it gives the same sum as [`super::Rainflow`]; for a
/// history that repeats use [`closed_residue`].
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FourPoint {
    reversals: Reversals,
    residue: Vec<f64>,
}

impl FourPoint {
    /// A count without samples yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes the next sample and gives `count` every cycle that it closes.
    ///
    /// # Errors
    /// A sample that is not finite; the state is unchanged.
    pub fn push(&mut self, value: f64, count: &mut impl FnMut(Cycle)) -> Result<(), NotFinite> {
        if let Some(reversal) = self.reversals.push(value)? {
            reverse(&mut self.residue, reversal, count);
        }
        Ok(())
    }

    /// Ends the history and gives its residue, oldest reversal first.
    pub fn finish(mut self, count: &mut impl FnMut(Cycle)) -> Vec<f64> {
        if let Some(end) = self.reversals.end() {
            reverse(&mut self.residue, end, count);
        }
        self.residue
    }
}

fn reverse(residue: &mut Vec<f64>, reversal: f64, count: &mut impl FnMut(Cycle)) {
    residue.push(reversal);
    while let [.., a, b, c, d] = **residue {
        let inner = (c - b).abs();
        if inner > (b - a).abs() || inner > (d - c).abs() {
            break;
        }
        count(Cycle::between(b, c, 1.0));
        residue.truncate(residue.len() - 3);
        residue.push(d);
    }
}

/// The cycles that a residue closes when its history is followed by itself.
pub fn closed_residue(residue: &[f64]) -> Vec<Cycle> {
    let mut cycles = Vec::new();
    let mut reversals = Reversals::default();
    let mut open = Vec::new();
    for &value in residue.iter().chain(residue) {
        if let Ok(Some(reversal)) = reversals.push(value) {
            reverse(&mut open, reversal, &mut |cycle| cycles.push(cycle));
        }
    }
    if let Some(end) = reversals.end() {
        reverse(&mut open, end, &mut |cycle| cycles.push(cycle));
    }
    cycles
}
