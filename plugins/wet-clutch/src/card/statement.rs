//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Wet clutch pack. Heat of every launch, engagement and shift through half a separator, the lining and half a core, cooled by oil \
in the grooves, is solved in one dimension; over the temperature of the interface the lining glazes after Arrhenius, and friction and its slope over slip speed fall; energy over area wears the lining and \
uses up its energy life; oil loses its friction modifier by heat and oxidises; separators yield where hot spots grow. Judder is the slope of friction against the damping of the driveline in a gentle pull-away.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("glaze_time", "s", c::GLAZE_TIME_S, Calibrated, "Default of the lining: 10 % of packs glazed through after some 17 events with 10 launches of 264 kJ (common practice, no source)."),
        constant("glaze_reference", "K", c::GLAZE_REFERENCE_K, Assumed, "Temperature of that time."),
        constant("friction_by_glaze", "1", c::AGEING.coefficient_by_glaze, Assumed, "Fall of ln(friction) for each unit of glaze."),
        constant("slope_by_glaze", "s/m", c::AGEING.slope_by_glaze_s_m, Assumed, "Fall of the slope of a lining glazed all over."),
        constant("slope_by_modifier", "s/m", c::AGEING.slope_by_modifier_s_m, Assumed, "Fall of the slope without friction modifier."),
        constant("modifier_energy", "J/m3", c::MODIFIER_ENERGY_J_M3, Assumed, "Heat in unit volume of oil that leaves 1/e of the friction modifier; oxidation counts as well."),
        constant("oxidation_activation", "J/mol", c::OXIDATION_J_MOL, Memory, "Doubles in 10 K near 100 degC."),
        constant("oxidation_time", "s", c::OXIDATION_TIME_S, Assumed, "At 100 degC to a dose of 1."),
        constant("acid_rise", "kg/kg", c::ACID_RISE, Assumed, "At a dose of 1."),
        constant("energy_life_ln_sd", "1", c::ENERGY_LIFE_LN_SD, Assumed, "Takes the stated life of 10 % to the median, 2.45 times it."),
        constant("wear_activation", "J/mol", c::WEAR_ACTIVATION_J_MOL, Assumed, "Wear of the lining rises some threefold to 350 degC."),
        constant("reference_ra", "m", c::REFERENCE_RA_M, Assumed, "Wear goes with the separator's roughness over this: slope of asperities at one wave length."),
        constant("yield", "Pa", c::YIELD_PA, Assumed, "Of separators, cold; half at 500 degC."),
        constant("unevenness", "1", c::UNEVENNESS, Assumed, "Of pressure, from which hot spots grow."),
        constant("steel_conductivity", "W/(m.K)", c::STEEL_CONDUCTIVITY_W_M_K, Memory, ""),
        constant("steel_density", "kg/m3", c::STEEL_DENSITY_KG_M3, Memory, ""),
        constant("steel_heat_capacity", "J/(kg.K)", c::STEEL_HEAT_CAPACITY_J_KG_K, Memory, "100 to 300 degC."),
        constant("steel_expansion", "1/K", c::STEEL_EXPANSION_PER_K, Memory, ""),
        constant("steel_modulus", "Pa", c::STEEL_MODULUS_PA, Memory, ""),
        constant("oil_density", "kg/m3", c::OIL.density_kg_m3, Memory, "95 degC."),
        constant("oil_heat_capacity", "J/(kg.K)", c::OIL.heat_capacity_j_kg_k, Memory, ""),
        constant("oil_conductivity", "W/(m.K)", c::OIL.conductivity_w_m_k, Memory, ""),
        constant("pack_ln_sd", "1", c::PACK_LN_SD[0], Assumed, "Spread of ln(rate of glaze) between packs; stays when the rate is known."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids: half space and plate under heat flux",
        "R. Alexander, SIAM J. Numer. Anal. 14 (1977) 1006: time step of the heat solution",
        "H. Hausen 1943: Nusselt number of developing laminar flow (textbook, from memory)",
        "S. Arrhenius 1889: rate of a change over temperature",
        "E. J. Routh, A. Hurwitz: stability of a driveline of two inertias (textbook)",
        "VDI 2241: slip energy of clutches and its limits over area (from memory)",
        "SAE J286, JASO M348: tests of wet friction over slip speed and of capacity (method only, from memory)",
        "K. Lee and J. R. Barber, J. Tribol. 115 (1993) 607; R. A. Burton 1973: hot spots of a plate between linings (from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear; E. Rabinowicz: slope of asperities in abrasion (from memory)",
        "Chin. J. Mech. Eng. 36 (2023), doi 10.1186/s10033-023-00864-y: a measured car clutch judders below a slope of -0.005 s/m",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "heat along the radius: a new face under even pressure is hotter at its outer edge, by outer over friction radius; the mean over the face is solved",
        "end plates, heated on one side only; every face is taken to have half a separator behind it",
        "oil that the sliding plate stirs in the grooves, which cools better; grooves that wear shallower; boiling of oil; flow that pressure closes",
        "the course of torque and slip of an engagement other than by its energy, peak power and duration; its first slip is taken as peak power over peak torque",
        "slip of an engaged pack (creep, slip control, a pack that no longer holds): its heat is in no shock",
        "drag of the open pack; heat of shifts left for the next engagement; temperature of the oil over a record other than its mean",
        "heat that one record leaves for the next",
        "oil film squeezed out as the pack closes; water and dirt in the oil on friction; clogged pores as such (they are in glaze)",
        "wear of splines, return springs, piston seals and bearings",
        "hot spots that last (martensite), buckling by radial heat, feedback of uneven separators on their own hot spots",
        "judder at other torques than that of the gentle pull-away, and the higher pressure that a glazed lining needs for it",
        "adaptive control, which hides the loss of friction by raising pressure",
        "the spread of the slope of friction between surfaces; the order within a record of shifts and other engagements",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "Adaptive control hides a glazed pack: compare command pressure against torque at each teardown.",
        "Measured limits come first: blue or banded separators, burnt oil or bare cores mean new plates, whatever is computed.",
        "A lining that tears off blocks valves and pump: look into pan and filter after any launch that smelled.",
        "A clutch that slips or grabs can move the car unexpectedly: wheels off the ground or chocked for any capacity test.",
        "Let the oil cool: it scalds. Used oil and lining dust go to proper disposal.",
        "The gearbox maker's limits and the class's rules come first; licensed practice comes first.",
    ])
}
