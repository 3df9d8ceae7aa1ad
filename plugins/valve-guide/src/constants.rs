//! The model's constants. Each stands on the card with how it came to its value.

/// Wear coefficient of the bore in boundary contact \[m²/N\]. Calibrated.
pub const BORE_WEAR_M2_N: f64 = 9.1e-17;
/// Steepest pressure rise under the lip of a metering seal \[Pa/m\]. Assumed: lips of some MPa over some tens of µm.
pub const METERING_LIP_PA_M: f64 = 1.0e11;
/// The same of a seal that is fitted rich. Assumed; practice has rich oil take off about 40 % of the wear, here it is a quarter.
pub const RICH_LIP_PA_M: f64 = 5.0e10;
/// Stem temperatures \[K\] from which oil is lost at the hot end, and at which it is gone: 200 and 260 °C. Assumed, about the 220 °C from
/// which practice counts double.
pub const OIL_LOSS_K: (f64, f64) = (473.15, 533.15);
/// Share of the guide's length that bears at each end once bedded in. Assumed; for pressures only.
pub const BEDDED_SHARE: f64 = 0.2;
/// Conductivity of the oil in the clearance \[W/(m·K)\]. From memory.
pub const GAP_W_M_K: f64 = 0.13;
/// Conductance of a press fit \[W/(m²·K)\]. Assumed.
pub const FIT_W_M2_K: f64 = 1.5e4;
/// Exponent of speed in the heat transfer of port gas: a cylinder in cross flow, from memory.
pub const GAS_EXPONENT: f64 = 0.6;
/// Temperature of the boss over the coolant's, over that of the exhaust gas over the coolant's. Assumed.
pub const BOSS_SHARE: f64 = 0.06;
/// Temperature at which clearances are measured \[K\].
pub const COLD_K: f64 = 293.15;
/// Friction power over area that a pair of rank 1 bears at its reference temperature \[W/m²\]. Assumed, chosen with practice in view: the best
/// pair hardly ever galls, bare titanium on iron often does.
pub const PAIR_LIMIT_W_M2: f64 = 2.0e7;
/// Reference temperature of that limit \[K\]. Assumed.
pub const PAIR_REFERENCE_K: f64 = 373.15;
/// Temperature at which a pair bears nothing \[K\]. Assumed.
pub const PAIR_CRITICAL_K: f64 = 773.15;
/// Rank below which a pair is better avoided. Common practice, no source.
pub const POOR_RANK: f64 = 0.3;
/// Lift at which wobble is measured \[m\]. Common practice, no source.
pub const WOBBLE_LIFT_M: f64 = 0.010;
/// Spread between guides of one head: standard deviation of ln(wear). Assumed.
pub const GUIDE_LN_SD: f64 = 0.2;
/// Share of the variance of ln(rate) common to all mechanisms, by mechanism: clearance and wobble are one wear. Assumed.
pub const CORRELATIONS: [f64; 3] = [0.9, 0.9, 0.2];
/// Oil and coolant for readings at full load \[K\].
pub const WARM_OIL_K: f64 = 383.15;
/// Coolant for readings at full load \[K\].
pub const WARM_COOLANT_K: f64 = 363.15;
/// Usual range of the dimensionless wear coefficient of metals in boundary lubrication, widened ten times to either side for a guide:
/// 1e-7 to 1e-5 (handbook range, from memory).
pub const USUAL_WEAR: (f64, f64) = (1.0e-8, 1.0e-4);
