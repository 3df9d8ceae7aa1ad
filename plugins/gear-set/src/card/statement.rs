//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "The gears of a gearbox: up to six cylindrical pairs on one centre distance, engaged by dogs. For each operating point the pair in mesh has \
its load factors, contact stress and tooth-root stress after ISO 6336, the temperature and the film along its path of contact after ISO/TS 6336-20 and -22. Miner sums of flanks and roots, wear of \
flanks and rounding of dogs are kept for each gear; the set's life is that of its weakest link.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("dog_wear", "m/J", c::DOG_WEAR_M_J, Calibrated, "Default of dog_wear_m_j: the gear shifted most rounds by 0.05 mm in the default event (common practice, no source)."),
        constant("wear_coefficient", "m2/N", c::WEAR_COEFFICIENT_M2_N, Assumed, "Default of flank.wear_coefficient_m2_n."),
        constant("pitting_knee", "1", 5.0e7, Memory, "ISO 6336-2: allowable stress at 5e7 cycles, 1.6 of it at 1e5, no pit allowed."),
        constant("root_knee", "1", 3.0e6, Memory, "ISO 6336-3: allowable stress at 3e6 cycles, 2.5 of it at 1e3."),
        constant("long_life_factor", "1", 0.85, Memory, "Of the allowable stress at 1e10 cycles."),
        constant("flank_ln_sd", "1", c::FLANK_LN_SD, Assumed, "Scatter of strength that takes the 1 % of the allowable stress number to the half of a Miner sum."),
        constant("root_ln_sd", "1", c::ROOT_LN_SD, Assumed, "The same for the root."),
        constant("pitting_shape", "1", c::PITTING_SHAPE, Memory, "Weibull shape of pitting lives, by which flanks of a set are joined."),
        constant("root_shape", "1", c::ROOT_SHAPE, Memory, "The same for roots."),
        constant("rz_per_ra", "1", c::RZ_PER_RA, Memory, "Profile height over mean roughness, 4 to 7."),
        constant("rq_per_ra", "1", c::RQ_PER_RA, Memory, "Root-mean-square over mean roughness."),
        constant("finest_rz10", "m", 1.0e-6, Memory, "Roughness at a radius of 10 mm below which ISO 6336-2 shows no more gain."),
        constant("test_gear_residual", "Pa", c::TEST_GEAR_RESIDUAL_PA, Assumed, "Residual stress of the standard's carburised test gears, in their allowable stress number."),
        constant("retained", "1", c::RETAINED, Assumed, "Share of residual stress that stays under load."),
        constant("strength_per_hardness", "1", c::STRENGTH_PER_HARDNESS, Memory, "Ultimate strength of the case over its hardness, for its sensitivity to mean stress (FKM guideline)."),
        constant("friction_at_one", "1", 0.060, Memory, "ISO/TS 6336-20: friction 0.060 (w/(v rho))^0.2 of mineral oil."),
        constant("bulk_weight", "1", 0.47, Memory, "ISO/TS 6336-20: bulk rise over the mean flash temperature."),
        constant("thermal_contact", "J/(m2.K.s0.5)", c::THERMAL_CONTACT, Memory, "Case-carburised steel."),
        constant("oil_density", "kg/m3", c::OIL_KG_M3, Assumed, "For the kinematic viscosity at 40 degC."),
        constant("oil_conductivity", "W/(m.K)", c::OIL_CONDUCTIVITY_W_M_K, Memory, "Heating of the film's inlet."),
        constant("micropitting_film", "1", c::MICROPITTING_FILM, Memory, "Film over mean roughness below which grey flanks are told of."),
        constant("box_ln_sd", "1", c::BOX_LN_SD, Assumed, "Spread of ln(wear), ln(rounding) and ln(flash temperature) between boxes; stays when the rate is known."),
        constant("correlation", "1", c::CORRELATION, Assumed, "Share of the variance of ln(rate) common to all mechanisms."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "ISO 6336-1 (load factors, method B), -2 (pitting), -3 (tooth root, method B), -5 (strength), -6 (load spectra): from memory",
        "ISO/TS 6336-20 (flash temperature), -21 (integral temperature), -22 (micropitting, the idea of film over roughness): from memory",
        "ISO 21771, ISO 53, ISO 1328-1: geometry, rack, grades (from memory); ISO 10825: terms of gear damage",
        "J. E. Shigley and C. R. Mischke, Mechanical Engineering Design, example 14-4: contact geometry, stress and life factors by the AGMA way, checked",
        "H. Blok 1937: flash temperature; H. Hertz 1881; D. Dowson and G. R. Higginson 1966: film",
        "J. A. Greenwood and J. H. Tripp 1970: asperity pressure over separation",
        "A. Palmgren 1924, M. A. Miner 1945: damage sum; W. Weibull 1939: weakest link",
        "FKM guideline: sensitivity to mean stress (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "coast flanks and reverse: torque of overrun and neutral adds nothing",
        "tip and root fillet interference, grinding notches, thin rims, lightening holes, keyways and splines",
        "bending of shafts and housing, but for the face load factor; torsional vibration, but for the application factor",
        "inertia of the engine: the gear carries the log's torque also while the engine speeds up",
        "the oil's temperature acts on scuffing, film and wear; pitting follows the oil's grade, as ISO 6336-2 has it",
        "growth of pits and of cracks; crushing of a thin case; micropitting is told of, not counted",
        "torque of a dog that engages, and of wheels that hop: log the torque, or raise the application factor",
        "relaxation of residual stress by cycles and heat: a fixed share stays",
        "tapered dog faces, cracks of dog rings and hubs, hub splines, shift forks and synchronisers",
        "tall teeth of a contact ratio of 2 and more: refused",
        "a gear channel between whole numbers is rounded",
        "a launch counts at its peak torque throughout, the input shaft at half the speed at which the clutch grips; it is too short to warm the bulk of the teeth, every operating point long enough",
        "near its mesh resonance a pair is not harder the faster it turns; other meshes and the shafts have their own",
        "starvation and cold oil; debris adds to wear alone",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A broken tooth locks a gearbox or lets it free-wheel. The part maker's limits and the class's rules come before any figure here.",
        "A loose chip does more than wear: look at the drain magnet first; find where it came from before the box runs again.",
        "A crack at a root ends the gear whatever is computed. Any pit above 1 mm, or over 4 % of a flank, ends it too (common practice, no source).",
        "Superfinishing takes 2 to 8 um off each face: check size and contact pattern. Peen roots, not flanks; mask bores, journals and splines.",
        "Crack checks by certified inspectors (ISO 9712 or equal).",
        "Gears are changed by pairs.",
    ])
}
