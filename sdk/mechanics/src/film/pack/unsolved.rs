use crate::engine::EngineError;
use crate::film::FilmError;
use crate::range::OutOfRange;

/// Why an operating point has no solution.
#[derive(Debug, Clone, PartialEq)]
pub enum Unsolved {
    /// The cylinder or its gas.
    Gas(EngineError),
    /// The film.
    Film(FilmError),
    /// An input of the film.
    Range(OutOfRange),
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Gas(error) => error.fmt(out),
            Self::Film(error) => error.fmt(out),
            Self::Range(error) => error.fmt(out),
        }
    }
}

impl From<EngineError> for Unsolved {
    fn from(error: EngineError) -> Self {
        Self::Gas(error)
    }
}

impl From<FilmError> for Unsolved {
    fn from(error: FilmError) -> Self {
        Self::Film(error)
    }
}

impl From<OutOfRange> for Unsolved {
    fn from(error: OutOfRange) -> Self {
        Self::Range(error)
    }
}

impl std::error::Error for Unsolved {}
