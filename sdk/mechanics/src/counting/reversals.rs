//! Peaks and valleys of a history, found sample by sample.

use serde::{Deserialize, Serialize};

/// A sample that is not a number or infinite. The count is unchanged by it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NotFinite {
    /// The sample.
    pub value: f64,
}

impl std::fmt::Display for NotFinite {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "sample is {}, expected a finite number: leave broken samples out before counting",
            self.value
        )
    }
}

impl std::error::Error for NotFinite {}

/// Where the search stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct Reversals {
    /// The last peak or valley, or the first sample.
    last: Option<f64>,
    /// The furthest sample since; a reversal once the history turns back from it.
    tip: Option<f64>,
}

impl Reversals {
    /// Takes a sample; gives the reversal that it confirms. The first sample counts as one.
    pub fn push(&mut self, value: f64) -> Result<Option<f64>, NotFinite> {
        if !value.is_finite() {
            return Err(NotFinite { value });
        }
        let Some(last) = self.last else {
            self.last = Some(value);
            return Ok(Some(value));
        };
        let tip = self.tip.unwrap_or(last);
        let turned = (tip > last && value < tip) || (tip < last && value > tip);
        if turned {
            self.last = Some(tip);
        }
        self.tip = Some(value);
        Ok(turned.then_some(tip))
    }

    /// The end of the history: its last sample, when it is not already the last reversal.
    pub fn end(&self) -> Option<f64> {
        self.tip.filter(|tip| Some(*tip) != self.last)
    }
}
