//! The model's constants. Each stands on the card with how it came to its value.

/// Log-relaxation of ring tension below the reference groove temperature \[1\]. Assumed.
pub const RELAXATION: f64 = 0.005;
/// Groove temperature up to which an hour counts as one \[K\]. Assumed.
pub const RELAXATION_TEMP_K: f64 = 473.15;
/// Rise of groove temperature that makes an hour count tenfold \[K\]. Assumed.
pub const RELAXATION_DECADE_K: f64 = 25.0;
/// Exponent of remaining radial thickness in tension. Assumed; 3 for bending stiffness alone.
pub const TENSION_EXPONENT: f64 = 3.1;
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
