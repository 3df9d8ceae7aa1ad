use std::fmt;

use crate::range::OutOfRange;

/// Why a lift table or a lift law was refused.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CamError {
    /// The two columns differ in length, or hold fewer than 5 rows.
    Rows {
        /// Rows of angle.
        angles: usize,
        /// Rows of lift.
        lifts: usize,
    },
    /// An angle is not a number, or not above the one before it.
    Angle {
        /// Row, counted from 0.
        row: usize,
        /// The angle there \[rad\].
        angle_rad: f64,
    },
    /// A lift is not a number, or below zero.
    Lift {
        /// Row, counted from 0.
        row: usize,
        /// The lift there \[m\].
        lift_m: f64,
    },
    /// The angles span a whole turn or more \[rad\].
    Span(f64),
    /// The first or last lift \[m\] is not 0.
    End(f64),
    /// A number of a lift law out of its range.
    Law(OutOfRange),
}

impl fmt::Display for CamError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rows { angles, lifts } => write!(
                out,
                "the lift table has {angles} angles and {lifts} lifts: give as many of each, 5 at the least"
            ),
            Self::Angle { row, angle_rad } => write!(
                out,
                "cam_angle_rad in row {row} is {angle_rad}: give angles that rise from row to row"
            ),
            Self::Lift { row, lift_m } => write!(
                out,
                "lift_m in row {row} is {lift_m}: give lifts of 0 or more"
            ),
            Self::Span(span_rad) => write!(
                out,
                "the lift table spans {span_rad} rad: give less than one turn of the cam, 6.283 rad"
            ),
            Self::End(lift_m) => write!(
                out,
                "the lift table ends at a lift of {lift_m} m: begin and end it on the base circle, at 0"
            ),
            Self::Law(wrong) => wrong.fmt(out),
        }
    }
}

impl std::error::Error for CamError {}

impl From<OutOfRange> for CamError {
    fn from(wrong: OutOfRange) -> Self {
        Self::Law(wrong)
    }
}
