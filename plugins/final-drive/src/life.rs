//! placeholder
use ringland_mechanics::fatigue::{BelowKnee, SnLine};
pub const PITTING_SLOPE: f64 = 13.2225;
pub const BENDING_SLOPE: f64 = 8.7378;
pub fn pitting_cycles(ratio: f64) -> f64 {
    let _ = BelowKnee::Endless;
    let _: Option<SnLine> = None;
    5e7 * libm::pow(ratio, -PITTING_SLOPE)
}
pub fn bending_cycles(ratio: f64) -> f64 {
    3e6 * libm::pow(ratio, -BENDING_SLOPE)
}
