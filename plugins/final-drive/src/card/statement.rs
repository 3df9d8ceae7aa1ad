//! Constants, references, what is left out, cautions.

use ringland_mechanics::contact::STEEL_THERMAL_CONTACT;
use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Ring gear and pinion, spiral bevel or hypoid. Pitch cones from teeth, offset and spiral; contact and root stress by the cylinders that stand for them, after ISO 10300. \
Along the path of contact the film of the flanks' own motion, lengthwise sliding included, shares the load with the asperities: wear and backlash, flash temperature and scuffing. Bearings lose preload with turns: drag and pattern. \
Peaks of the axle torque, launches and hop, count singly from its counted cycles.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("wear_coefficient", "m2/N", c::WEAR_COEFFICIENT_M2_N, Calibrated, "Default of both flanks: backlash of the default pair grows 54 um in 12 events of 170 min (common practice, no source)."),
        constant("face_load_factor", "1", c::FACE_LOAD_FACTOR, Calibrated, "Default: one in a hundred of the default pairs has pitted after 17 events of 170 min by the scatter of strength alone (common practice, no source: 13 to 18)."),
        constant("settling_turns", "1", c::SETTLING_TURNS, Calibrated, "Default: the drag of the pinion bearings falls to 1/e in 25 events of 170 min (assumed)."),
        constant("addendum", "1", c::ADDENDUM, Memory, "Full-depth teeth, mean normal modules."),
        constant("dedendum", "1", c::DEDENDUM, Memory, "The same."),
        constant("bearing_share", "1", c::BEARING_SHARE, Memory, "Share of the face that bears at full load (ISO 10300-1)."),
        constant("poisson", "1", c::POISSON, Memory, "Both gears."),
        constant("rz_per_ra", "1", c::RZ_PER_RA, Memory, "ISO 6336-2."),
        constant("film_friction", "1", c::FILM_FRICTION, Memory, "Of an elastohydrodynamic film."),
        constant("oil_conductivity", "W/(m.K)", c::OIL_CONDUCTIVITY_W_M_K, Memory, ""),
        constant("oil_density", "kg/m3", c::OIL_KG_M3, Memory, "For the viscosity factor of the contact strength."),
        constant("thermal_contact", "J/(m2.K.s^0.5)", STEEL_THERMAL_CONTACT, Memory, "Of hardened steel, both gears."),
        constant("bulk_share", "1", c::BULK_SHARE, Memory, "Bulk over oil temperature, for each kelvin of the mean flash temperature: 0.47 times 1.2 for dip lubrication (ISO/TS 6336-20)."),
        constant("strength_ln_sd", "1", c::STRENGTH_LN_SD, Assumed, "Scatter of strength between pairs. The standards' numbers are for 1 % failures; half fail at exp(2.33 x 0.07) of them."),
        constant("setting_ln_sd", "1", c::SETTING_LN_SD, Assumed, "Spread of stress by the setting of the pattern."),
        constant("sensitivity", "1", c::SENSITIVITY, Memory, "Mean-stress sensitivity of the root: FKM guideline at 1200 MPa."),
        constant("case_residual", "Pa", c::CASE_RESIDUAL_PA, Assumed, "Residual stress of a case as carburised; it is in the root's strength."),
        constant("retained", "1", c::RETAINED, Assumed, "Share of residual stress that stays under load."),
        constant("least_share", "1", c::LEAST_SHARE, Assumed, "Nominal over local stress at the root."),
        constant("peak_turns", "1", c::PEAK_TURNS, Assumed, "Pinion turns at the peak of a counted torque cycle: every tooth of the pinion meets it once, one in the ratio of the ring gear's."),
        constant("seating_turns", "1", c::SEATING_TURNS, Assumed, "Pinion turns over which the freshness of the flanks falls to 1/e: a run-in of 40 km is some three such."),
        constant("pair_ln_sd", "1", c::PAIR_LN_SD, Assumed, "Spread of wear, settling and flash temperature between pairs."),
        constant("pitting_correlation", "1", c::CORRELATIONS[0], Assumed, "Share of the spread that pitting and roots have in common with the rest."),
        constant("wear_correlation", "1", c::CORRELATIONS[4], Assumed, "The same of backlash, preload and pattern; 0.5 for scuffing."),
        constant("least_room", "K", c::LEAST_ROOM_K, Assumed, "Least room between oil and limit that severity is counted against."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "ISO 23509: bevel and hypoid gear geometry (from memory; pitch cones checked against vectors)",
        "ISO 10300-1, -2, -3: load capacity of bevel gears: virtual cylindrical gears, contact and root factors, hypoid factor (2014; bevel factor of the root of 2001; from memory)",
        "ISO 6336-2, -3, -5, -6: life factors, influence of oil, speed and roughness, strength of materials, damage sum (from memory)",
        "ISO/TS 6336-20: flash temperature and bulk temperature (from memory)",
        "ISO 10825: terms of gear damage",
        "J. E. Shigley, Mechanical Engineering Design: bevel gear example (from memory)",
        "H. Hertz, 1881; D. Dowson and G. R. Higginson, 1966; P. K. Gupta, H. S. Cheng and others, 1992: contact, film and its heating (constants from memory)",
        "K. L. Johnson, J. A. Greenwood and S. Y. Poon, Wear 19 (1972) 91; J. A. Greenwood and J. H. Tripp, 1970-71: load shared by film and asperities",
        "H. Blok, 1937; J. F. Archard, J. Appl. Phys. 24 (1953) 981",
        "FKM guideline: mean stress and stress gradient (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "machine settings and true flank form: the pair is given by its pitch cones; mismatch, bias and edge contact are in the factor of uneven load",
        "deflection of pinion, carrier and housing; a pattern that has moved does not raise the stress here: keep to its limit",
        "the limit pressure angle: each flank is given by its effective angle",
        "the ring gear's flanks in pitting: they pass as often less as the ratio; one sum stands for the pinion",
        "drive and coast bending of a root as one alternation: both sides are added as one, on the safe side",
        "growth of a pit or a crack, micropitting, case crushing: case depth and hardness are only checked",
        "scuffing in the peaks of counted cycles, whose speed is not known",
        "how preload falls with load and heat: it falls with turns and contamination alone",
        "gear oil: age, water, loss of additives, foaming, level; churning loss and oil supply at speed",
        "bearings' own life (a component of its own), ring-gear bolts, carrier cracks, differential",
        "torque with both wheels at different speeds: the ring gear has their mean",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A broken tooth can lock the driven axle at speed. A cracked root, a pit over 1 mm in a row, a scuff line or metal flakes on the magnet end the life whatever is computed.",
        "Ring gear and pinion are a matched set: change both, never one.",
        "A pattern that has moved has a cause: find the bearing, nut or housing before it is set again.",
        "Hypoid pairs need the oil class that their maker names: a milder oil scuffs them within one event.",
        "The class's rules on ratios and diffs and the makers' limits come before any figure here.",
    ])
}
