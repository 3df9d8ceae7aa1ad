//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Plate pack of a limited-slip differential with ramps, for drive and coast, and disc springs. The difference between the wheels' speeds \
slides the faces, half of it on each side, under the force of springs and ramps; that wears linings and steels, heats them in bursts (solved through a plate's layers) and works the oil. Worn plates \
unload the springs along their curve; worked oil loses its friction modifier, and the slope of friction that is left is set against that at which a half-shaft with hub and wheel starts to stick and slip.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    vec![
        constant("steel_wear", "m2/N", c::STEEL_WEAR_M2_N, Calibrated, "Default of the steels: a quarter of the pair's wear (the share is assumed)."),
        constant("lining_wear", "m2/N", c::LINING_WEAR_M2_N, Calibrated, "Default of the linings: with the steels' 0.40 mm of stack in about 8.5 events of the default duty (common practice, no source)."),
        constant("roughness", "m", c::ROUGHNESS_M, Assumed, "Ra at which the lining's wear is stated."),
        constant("roughness_exponent", "1", c::ROUGHNESS_EXPONENT, Assumed, "Of the lining's wear over the steel's Ra."),
        constant("wear_at", "K", c::WEAR_AT_K, CommonPractice, "Temperature at which wear is stated, 110 degC."),
        constant("wear_scale", "K", c::WEAR_SCALE_K, Assumed, "Rise that multiplies wear by e, up to the coefficient of scoring."),
        constant("modifier", "1", c::MODIFIER_SHARE, Assumed, "Share in the oil at which friction is stated."),
        constant("modifier_life", "J/m3", c::MODIFIER_J_M3, Assumed, "Heat for each volume of oil that leaves 1/e: 12 MJ/l."),
        constant("friction_gain", "1", c::FRICTION_GAIN, Assumed, "Rise of friction without modifier."),
        constant("modifier_slope", "s/m", c::MODIFIER_SLOPE_S_M, Assumed, "Slope of friction that goes with the modifier."),
        constant("glazing_activation", "K", c::GLAZING_K, Assumed, "110 kJ/mol over the gas constant."),
        constant("glazing_at", "K", c::GLAZING_AT_K, Assumed, "Temperature of the glazing time."),
        constant("glazing_time", "s", c::GLAZING_S, Assumed, "Of slip, for a dose of 1."),
        constant("glazed_loss", "1", c::GLAZED_LOSS, Assumed, "Share of friction that full glazing takes."),
        constant("glazed_slope", "s/m", c::GLAZED_SLOPE_S_M, Assumed, "What full glazing adds to the slope."),
        constant("film_activation", "K", c::FILM_K, Assumed, "90 kJ/mol over the gas constant."),
        constant("film_at", "K", c::FILM_AT_K, Assumed, "Where 63 % of the oil's boundary film has gone."),
        constant("scoring", "m2/N", c::SCORING_M2_N, Memory, "Order of severe wear of steel."),
        constant("expansion", "1/K", c::EXPANSION_PER_K, Memory, "Steel."),
        constant("yield_strain", "1", c::YIELD_STRAIN, Memory, "Hardened spring steel, 700 MPa, held in one direction."),
        constant("softens_from", "K", c::SOFTENS_K[0], Memory, "The yield strength of steel falls straight from here."),
        constant("softens_to", "K", c::SOFTENS_K[1], Memory, "To a tenth here."),
        constant("soft_share", "1", c::SOFT_SHARE, Memory, "Share of the yield strength that is kept above."),
        constant("waves", "1", c::WAVES, Assumed, "Waves round a warped plate."),
        constant("steel_conductivity", "W/(m.K)", c::STEEL_W_M_K, Memory, ""),
        constant("steel_density", "kg/m3", c::STEEL_KG_M3, Memory, ""),
        constant("steel_heat_capacity", "J/(kg.K)", c::STEEL_J_KG_K, Memory, ""),
        constant("lining_conductivity", "W/(m.K)", c::LINING_W_M_K, Assumed, ""),
        constant("lining_density", "kg/m3", c::LINING_KG_M3, Assumed, ""),
        constant("lining_heat_capacity", "J/(kg.K)", c::LINING_J_KG_K, Assumed, ""),
        constant("spring_modulus", "Pa", c::SPRING_PA, Memory, "DIN EN 16984."),
        constant("spring_poisson", "1", c::SPRING_POISSON, Memory, "DIN EN 16984."),
        constant("slip_ln_sd", "1", c::SLIP_LN_SD, CommonPractice, "Spread of ln(slip) as logged."),
        constant("plates_ln_sd", "1", c::PLATES_LN_SD, Assumed, "Spread of ln(scoring and warp)."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "torque of annular faces by uniform wear, forces on a wedge (textbook)",
        "J. O. Almen and A. László, Trans. ASME 58 (1936) 305; DIN EN 16984: load of a disc spring (from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids (from memory)",
        "stick-slip by a falling friction (textbook); criterion of E. J. Routh and A. Hurwitz",
        "Chinese Journal of Mechanical Engineering 2023, doi 10.1186/s10033-023-00864-y: judder of a car clutch below a slope of -0.005 s/m (abstract)",
        "R. Stribeck: friction over speed",
        "S. A. Arrhenius: rate over temperature (textbook)",
        "E. P. Kingsbury, J. Appl. Phys. 29 (1958) 888: share of a surface that an adsorbed film has left (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "axial force of the bevel gears of the differential, friction of ramps and tabs, which hold force back as the load falls",
        "wear of ramps, cross pin, side gears and their washers; set and relaxation of the springs; stress in them",
        "one side wearing more than the other; cone, waviness and pressure over the face other than by a factor for hot bands",
        "friction at rest above that of sliding, other than in the slope; friction over pressure and temperature",
        "temperatures are taken with new springs and friction without modifier, on the hot side; bursts begin from plates warmed by the record's mean heat",
        "the heat that the pack makes is not fed back into the oil's temperature: that is logged",
        "modifier lost by age, water and oxidation, not by friction; other additives; debris of the pack as contamination of its own oil",
        "warp needs one slip to come about and is not counted up",
        "slip of less than the log's resolution; slip while the pack is locked; one wheel that spins freely for longer than the log's points show",
        "tabs wear by counted cycles of torque alone, at one level of friction",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "Ramps and preload set how the car turns in and puts power down: change them per car, step by step, and record them with every rebuild.",
        "A pack that has lost its preload lets a lifted wheel spin; one that grabs can turn the car: test after any change before racing.",
        "The builder's limits and the class's rules on differentials come first.",
        "Blue, scored or warped steels go out whatever is computed; look at every plate at each restack.",
        "Springs press on the cover: undo it evenly. Hot oil burns; let the axle cool.",
        "Check the breakaway torque with the car safely on stands, in gear or neutral as the reading says.",
    ])
}
