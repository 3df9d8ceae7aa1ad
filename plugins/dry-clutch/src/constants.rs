//! The model's constants. Each stands on the card with how it came to its value.

/// Heat of slip that a stack wears by, cold, as a specific wear coefficient at a friction of 0.30 \[m²/N\]. Calibrated.
pub const WEAR_M2_N: f64 = 1.11e-14;
/// Heat for the area of all faces after which the excess wear of new linings has fallen to 1/e \[J/m²\]. Assumed.
pub const SEATING_J_M2: f64 = 3.0e7;
/// Activation energy of glazing over the gas constant, 110 kJ/mol \[K\]. Assumed.
pub const GLAZING_K: f64 = 13_230.0;
/// Time at a lining's glazing temperature that makes a dose of 1 \[s\]. Assumed.
pub const GLAZING_S: f64 = 800.0;
/// Friction-speed slope that full glazing adds \[s/m\]. Assumed.
pub const GLAZED_SLOPE_S_M: f64 = -1.0e-3;
/// Relaxation of peened, quenched and tempered steel: rate \[1/s\]. O. Vöhringer and V. Schulze, from memory.
pub const RELAXATION_PER_S: f64 = 1.22e21 / 60.0;
/// Its activation energy \[eV\]. From memory.
pub const RELAXATION_EV: f64 = 3.29;
/// The same over Boltzmann's constant \[K\].
pub const RELAXATION_K: f64 = 38_179.0;
/// Its exponent over time. From memory.
pub const RELAXATION_EXPONENT: f64 = 0.122;
/// Share of that, in the logarithm, by which the stress of an engagement relaxes. Calibrated.
pub const RELAXATION_SHARE: f64 = 0.05;
/// Temperature at which hot time is told \[K\].
pub const RELAXATION_AT_K: f64 = 700.0;
/// Life in heat over life in cold strain cycling. S. S. Manson's rule, from memory.
pub const HOT_LIFE: f64 = 0.1;
/// Depth of the first craze, from which heat checks grow \[m\]. Assumed.
pub const CRAZE_M: f64 = 0.1e-3;
/// Engine speed at which the heat transfer coefficient is stated \[rad/s\].
pub const COOLING_AT_RAD_S: f64 = 620.0;
/// Exponent of the coefficient over speed: laminar flow at a rotating disc, from memory.
pub const COOLING_EXPONENT: f64 = 0.5;
/// Sliding of a spline in a turn over the offset of its axes. Geometry: there and back, across the diameter of the circle.
pub const SLIDING_PER_OFFSET: f64 = 4.0;
/// Wear coefficient of bare steel splines, dry \[m²/N\]. Assumed.
pub const SPLINE_WEAR_M2_N: f64 = 1.2e-15;
/// Spread of ln(energy of an engagement) as logged. Common practice, no source.
pub const ENERGY_LN_SD: f64 = 0.20;
/// Spread of ln(set of a plate) that its yield strength and its energy make. Assumed.
pub const SET_LN_SD: f64 = 0.30;
/// Spread of ln(heat-check life) at a known strain. Assumed.
pub const CRACK_LN_SD: f64 = 0.50;
/// Spread of ln(spline wear) between discs. Assumed.
pub const SPLINE_LN_SD: f64 = 0.20;
/// Share of the variance of ln(rate) common to all mechanisms, by mechanism. Assumed.
pub const CORRELATIONS: [f64; 5] = [0.5, 0.3, 0.5, 0.3, 0.0];
/// Temperature above which carbon steel turns to austenite and hardens as it is quenched by the plate around it \[K\]. From memory.
pub const TRANSFORMS_K: f64 = 1000.0;
/// Shortest engagement that is told apart from a shorter one \[s\].
pub const SHORTEST_S: f64 = 0.05;
