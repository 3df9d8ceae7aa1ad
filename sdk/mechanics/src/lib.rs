//! Pure numerics of wear, fatigue, films, gas and life statistics.

pub mod counting;
pub mod engine;
pub mod statistics;
