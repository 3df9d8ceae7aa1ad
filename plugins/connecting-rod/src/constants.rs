//! Constants of the model. How each came to its value stands on the card.

use ringland_mechanics::fatigue::CyclicRelaxation;

/// Cycles at which the strength is given.
pub const KNEE_CYCLES: f64 = 1.0e7;
/// Default effective strength of polished metal \[Pa\], calibrated.
pub const STRENGTH_PA: f64 = 4.515e8;
/// Maximum height Rz of the profile over Ra.
pub const RZ_PER_RA: f64 = 6.0;
/// Relaxation of residual stress by load cycles.
pub const RELAXATION: CyclicRelaxation = CyclicRelaxation {
    first: 0.85,
    per_decade: 0.04,
    reference_cycles: 1.0e3,
    least: 0.5,
};
/// Depth to which the start of a crack is looked for \[m\].
pub const DEEPEST_M: f64 = 3.0e-3;
/// Density of steel \[kg/m³\].
pub const DENSITY_KG_M3: f64 = 7850.0;
/// Rise of peak pressure for each unit of knock level.
pub const KNOCK_RISE: f64 = 0.1;
/// Largest multiplier of peak pressure by knock.
pub const KNOCK_MOST: f64 = 1.6;
/// Share of the variance of ln(damage) that is common to the sites of one rod.
pub const SITE_CORRELATION: f64 = 0.8;
/// Standard deviation of ln of the buckling margin.
pub const MARGIN_LN_SD: f64 = 0.08;
/// Standard deviation of ln of a computed local stress.
pub const STRESS_LN_SD: f64 = 0.07;
