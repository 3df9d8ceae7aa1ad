//! Pure numerics of wear, fatigue, films, gas and life statistics.

pub mod contact;
pub mod counting;
pub mod engine;
pub mod film;
pub mod oil;
pub mod range;
pub mod statistics;
pub mod wear;
