use std::fmt;

/// Why an engine calculation was refused or did not come to an end.
#[derive(Debug, Clone, PartialEq)]
pub enum EngineError {
    /// An input lies outside the range the model is written for.
    OutOfRange {
        /// The field, as it is named in the input struct.
        field: &'static str,
        /// The offending value, in the unit that ends the field's name.
        value: f64,
        /// What would have been accepted.
        expected: &'static str,
    },
    /// An iteration stopped without reaching its tolerance.
    NotConverged {
        /// What was being solved.
        solving: &'static str,
        /// What was left of the equation, relative to its scale.
        residual: f64,
        /// What to change.
        advice: &'static str,
    },
}

impl fmt::Display for EngineError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange {
                field,
                value,
                expected,
            } => {
                write!(out, "{field} is {value}: expected {expected}")
            }
            Self::NotConverged {
                solving,
                residual,
                advice,
            } => {
                write!(
                    out,
                    "{solving} did not converge (relative residual {residual:.3e}): {advice}"
                )
            }
        }
    }
}

impl std::error::Error for EngineError {}

/// Refuses a value that is not a finite number within `[least, most]`.
pub(super) fn within(
    field: &'static str,
    value: f64,
    least: f64,
    most: f64,
    expected: &'static str,
) -> Result<(), EngineError> {
    // NaN fails both comparisons.
    if value >= least && value <= most {
        Ok(())
    } else {
        Err(EngineError::OutOfRange {
            field,
            value,
            expected,
        })
    }
}
