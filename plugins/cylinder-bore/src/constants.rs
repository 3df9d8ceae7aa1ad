//! The model's constants. Each stands on the card with how it came to its value.

/// Reduced peak height that is left of any hone once run in \[m\]. Assumed.
pub const RPK_LEFT_M: f64 = 0.08e-6;
/// Hours at full-load bore temperature over which the casting's shift closes by a factor e. Calibrated.
pub const SHIFT_HOURS_H: f64 = 5.5;
/// Indicated load over full load below which an unseated bore glazes. Assumed.
pub const GLAZE_LOAD: f64 = 0.2;
/// Hours of such running, wholly unseated, that glaze a bore by a factor e. Assumed.
pub const GLAZE_HOURS_H: f64 = 3.0;
/// Metal that a hone takes off the diameter beyond what cleans the bore up \[m\]. Assumed.
pub const HONE_STOCK_M: f64 = 1.0e-5;
/// Spread between cylinders of one block: standard deviation of ln(rate). Assumed.
pub const CYLINDER_LN_SD: f64 = 0.15;
/// Correlation of the rates of two mechanisms that follow from wear. Assumed.
pub const WEAR_CORRELATION: f64 = 0.8;
/// How far below top-ring reversal the valleys of the hone are judged \[m\]. Calibrated.
pub const JUDGED_BELOW_M: f64 = 6.7e-3;
