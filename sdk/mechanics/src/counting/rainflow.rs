//! The three-point count of ASTM E1049-85 (2017) clause 5.4.4.

use super::Cycle;
use super::reversals::{NotFinite, Reversals};
use serde::{Deserialize, Serialize};

/// Three-point rainflow count in progress. Serialise it to stop, deserialise it to go on.
///
/// Memory is that of the residue: the reversals still open, whose ranges only shrink. A history of n
/// distinct levels leaves at most 2 n of them; a history that dies away sample by sample leaves all,
/// which [`Rainflow::with_residue_limit`] bounds.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Rainflow {
    reversals: Reversals,
    /// Open reversals; the first is the starting point S of the standard.
    residue: Vec<f64>,
    residue_limit: Option<usize>,
}

impl Rainflow {
    /// A count without samples yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// As [`Rainflow::new`], but never with more than `limit` open reversals (at least 3). When there
    /// would be more, the oldest open range is counted as the half cycle that it would be at the end
    /// of the history.
    pub fn with_residue_limit(limit: usize) -> Self {
        Self {
            residue_limit: Some(limit.max(3)),
            ..Self::default()
        }
    }

    /// Takes the next sample and gives `count` every cycle that it closes, in the standard's order.
    ///
    /// # Errors
    /// A sample that is not finite; the state is unchanged.
    pub fn push(&mut self, value: f64, count: &mut impl FnMut(Cycle)) -> Result<(), NotFinite> {
        if let Some(reversal) = self.reversals.push(value)? {
            self.reverse(reversal, count);
        }
        Ok(())
    }

    /// Ends the history: its last sample becomes a reversal and every range still open a half cycle.
    pub fn finish(mut self, count: &mut impl FnMut(Cycle)) {
        if let Some(end) = self.reversals.end() {
            self.reverse(end, count);
        }
        for pair in self.residue.windows(2) {
            if let [a, b] = *pair {
                count(Cycle::between(a, b, 0.5));
            }
        }
    }

    /// The open reversals, oldest first.
    pub fn residue(&self) -> &[f64] {
        &self.residue
    }

    fn reverse(&mut self, reversal: f64, count: &mut impl FnMut(Cycle)) {
        self.residue.push(reversal);
        while let [.., first, second, third] = *self.residue {
            let (y, x) = ((second - first).abs(), (third - second).abs());
            if x < y {
                break;
            }
            if self.residue.len() == 3 {
                // The range holds the starting point: a half, and the start moves on.
                count(Cycle::between(first, second, 0.5));
                self.residue.remove(0);
            } else {
                count(Cycle::between(first, second, 1.0));
                self.residue.truncate(self.residue.len() - 3);
                self.residue.push(third);
            }
        }
        if self
            .residue_limit
            .is_some_and(|limit| self.residue.len() > limit)
            && let [first, second, ..] = *self.residue
        {
            count(Cycle::between(first, second, 0.5));
            self.residue.remove(0);
        }
    }
}

/// Counts a whole history.
///
/// # Errors
/// The first sample that is not finite.
pub fn rainflow(history: &[f64]) -> Result<Vec<Cycle>, NotFinite> {
    let mut cycles = Vec::new();
    let mut counting = Rainflow::new();
    for &value in history {
        counting.push(value, &mut |cycle| cycles.push(cycle))?;
    }
    counting.finish(&mut |cycle| cycles.push(cycle));
    Ok(cycles)
}
