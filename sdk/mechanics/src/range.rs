//! Refusal of numbers outside the range that a model is written for.

use std::fmt;

/// An input that lies outside the range the model is written for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The field, as it is named in the input.
    pub field: &'static str,
    /// The offending value, in the unit that ends the field's name.
    pub value: f64,
    /// What would have been accepted.
    pub expected: &'static str,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            out,
            "{} is {}: expected {}",
            self.field, self.value, self.expected
        )
    }
}

impl std::error::Error for OutOfRange {}

/// Refuses a value that is not a number within `[least, most]`.
pub(crate) fn within(
    field: &'static str,
    value: f64,
    (least, most): (f64, f64),
    expected: &'static str,
) -> Result<f64, OutOfRange> {
    // NaN fails both comparisons.
    if value >= least && value <= most {
        Ok(value)
    } else {
        Err(OutOfRange {
            field,
            value,
            expected,
        })
    }
}
