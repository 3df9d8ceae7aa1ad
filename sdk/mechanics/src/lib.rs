//! Pure numerics of wear, fatigue, films, gas and life statistics.

pub mod engine;
