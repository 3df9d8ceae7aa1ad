//! The model's constants. Each stands on the card with how it came to its value.

/// Share of the oil temperature in the temperature of the film at the cool end of the bore; the rest is
/// the coolant's. Assumed.
pub const OIL_SHARE: f64 = 0.5;
/// Exponent of indicated power in the rise of bore and groove temperature. Assumed.
pub const RISE_EXPONENT: f64 = 0.6;
/// Variance that fresh peaks of height Rpk add to the plateau, over Rpk². Assumed.
pub const PEAK_VARIANCE: f64 = 1.0;
/// Share of the surface that the fresh peaks occupy (Mr1 of ISO 21920-2); half of it times Rpk is their
/// volume over area. Assumed.
pub const PEAK_SHARE: f64 = 0.08;
/// Depth that face and bore have to wear to follow each other's form, beyond the peaks \[m\]. Calibrated.
pub const FORM_DEPTH_M: f64 = 1.0e-8;
/// Crown lost for each depth worn off the middle of the face: the rest wears off all over it as the piston
/// tilts. Assumed.
pub const CROWN_LOSS: f64 = 0.15;
/// Log-relaxation of ring tension below the reference groove temperature \[1\]. Assumed.
pub const RELAXATION: f64 = 0.005;
/// Groove temperature up to which an hour counts as one \[K\]. Assumed.
pub const RELAXATION_TEMP_K: f64 = 473.15;
/// Rise of groove temperature that makes an hour count tenfold \[K\]. Assumed.
pub const RELAXATION_DECADE_K: f64 = 25.0;
/// Exponent of remaining radial thickness in tension. Assumed; 3 for bending stiffness alone.
pub const TENSION_EXPONENT: f64 = 3.1;
/// Effective leak area round the flanks of each seated compression ring \[m²\]. Calibrated.
pub const FLANK_AREA_M2: f64 = 2.4e-7;
/// Effective leak area over each unseated face \[m²\]. Calibrated.
pub const UNSEATED_AREA_M2: f64 = 2.9e-7;
/// Leak-down of a seated pack at build \[1\]. Common practice.
pub const LEAK_DOWN_BUILD: f64 = 0.03;
/// Leak-down for each metre of gap growth \[1/m\]. Calibrated.
pub const LEAK_DOWN_PER_M: f64 = 450.0;
/// Leak-down added by a fresh, unseated pack \[1\]. Assumed.
pub const LEAK_DOWN_UNSEATED: f64 = 0.06;
/// Power lost for each unit of charge lost past the rings. Assumed.
pub const POWER_PER_CHARGE: f64 = 1.5;
/// Spread between cylinders of one engine: standard deviation of ln(wear). Assumed.
pub const CYLINDER_LN_SD: f64 = 0.15;
/// Correlation of the rates of two mechanisms that follow from face wear. Assumed.
pub const WEAR_CORRELATION: f64 = 0.8;
/// Correlation of tension loss with face wear. Assumed.
pub const TENSION_CORRELATION: f64 = 0.3;
/// Poisson's ratio of rings and bore.
pub const POISSON: f64 = 0.3;
