//! Constants of the model. How each came to its value stands on the card.

/// Default fully reversed torsional strength of wire that is not peened \[Pa\], calibrated.
pub const STRENGTH_PA: f64 = 5.35e8;
/// Cycles at which strengths are given.
pub const KNEE_CYCLES: f64 = 1.0e7;
/// Roughness Ra \[m\] at which the strength of the wire is given.
pub const REFERENCE_RA_M: f64 = 0.8e-6;
/// Maximum height Rz of the profile over Ra.
pub const RZ_PER_RA: f64 = 6.0;
/// Share of the loss by roughness that counts in torsion.
pub const TORSION_ROUGHNESS_SHARE: f64 = 0.577;
/// Torsional over axial strength of metal with a small inclusion.
pub const TORSION_INCLUSION_SHARE: f64 = 0.85;
/// Share of the residual stress that stays in service.
pub const RETAINED: f64 = 0.75;
/// Depth to which the start of a crack is looked for, over the wire diameter.
pub const DEEPEST_SHARE: f64 = 0.25;
/// Duration of the relaxation test \[s\].
pub const RELAXATION_TEST_S: f64 = 172_800.0;
/// Its temperature \[K\].
pub const RELAXATION_TEST_K: f64 = 393.15;
/// Its shear stress \[Pa\].
pub const RELAXATION_TEST_PA: f64 = 1.0e9;
/// Smallest total clearance between the coils at full lift that common practice asks for \[m\].
pub const LEAST_CLEARANCE_M: f64 = 1.0e-3;
/// Standard deviation of ln of a computed stress.
pub const STRESS_LN_SD: f64 = 0.05;
/// Standard deviation of ln of a computed rise of temperature.
pub const HEAT_LN_SD: f64 = 0.3;
