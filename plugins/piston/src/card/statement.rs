//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Top and second groove, skirt, alloy and pin boss of one piston. Side thrust, ring and boss forces \
are computed over crank angle at each operating point. Grooves wear where the piston crosses its clearance under flank pressure and where \
rings land; the skirt runs on a starved slider film with Greenwood-Tripp asperities, coat first; the alloy softens after Larson and \
Miller; the boss follows an S-N line at temperature.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory, Published};
    vec![
        constant("groove_wear", "m2/N", c::GROOVE_WEAR_M2_N, Calibrated, "Default of the groove surfaces: 16 events of the default duty until the top side clearance has gone from 0.045 to 0.10 mm (common practice, no source: 14 to 18)."),
        constant("pin_bore_wear", "m2/N", c::PIN_BORE_WEAR_M2_N, Calibrated, "Default of the pin bores: half of their limit over those 16 events."),
        constant("collapse", "m/(N.s.K)", c::COLLAPSE_M_N_S_K, Calibrated, "20 um of skirt collapse, half of the limit, over those 16 events."),
        constant("wear_temp", "K", c::WEAR_TEMP_K, Assumed, "Groove temperature of the wear coefficient."),
        constant("wear_doubling", "K", c::WEAR_DOUBLING_K, CommonPractice, "Groove wear doubles for each 20 K."),
        constant("impact_wear", "m3/J", c::IMPACT_WEAR_M3_J, Assumed, "Volume worn by the energy of landing rings; scaled with the flanks' wear coefficient."),
        constant("seating_depth", "1", c::SEATING_DEPTH, Assumed, "Groove wear over the height of fresh peaks at seating dose 1."),
        constant("seated_welding", "1", c::SEATED_WELDING, Assumed, "Micro-welding of seated over fresh flanks."),
        constant("welding_temp", "K", c::WELDING_REFERENCE[0], Assumed, "Index 1 after half an hour at 2 MPa of flank pressure at this temperature, Arrhenius from there."),
        constant("welding_pressure", "Pa", c::WELDING_REFERENCE[1], Assumed, "See welding_temp."),
        constant("welding_time", "s", c::WELDING_REFERENCE[2], Assumed, "See welding_temp."),
        constant("gas_constant", "J/(mol.K)", c::GAS_J_MOL_K, Published, "Exact in the SI (2019)."),
        constant("coolant_share", "1", c::COOLANT_SHARE, Assumed, "Rise of groove with coolant temperature."),
        constant("oil_share", "1", c::OIL_SHARE, Assumed, "Rise of groove with oil temperature."),
        constant("jets_shut", "Pa", c::JETS_OPEN_PA[0], Assumed, "Oil gauge pressure below which the jets are shut."),
        constant("jets_open", "Pa", c::JETS_OPEN_PA[1], Assumed, "Above which they are open."),
        constant("knock_rise", "K", c::KNOCK_RISE_K, Assumed, "Of groove temperature at knock level 1 and above."),
        constant("knock_peak", "1", c::KNOCK_PEAK[0], Assumed, "Rise of peak pressure for each unit of knock level, all cycles of a block alike."),
        constant("knock_peak_most", "1", c::KNOCK_PEAK[1], Assumed, "Most of that rise."),
        constant("skirt_heat_share", "1", c::SKIRT_HEAT_SHARE, Assumed, "Of groove over coolant temperature."),
        constant("boss_heat_share", "1", c::BOSS_HEAT_SHARE, Assumed, "Of groove over coolant temperature."),
        constant("collapse_temp", "K", c::COLLAPSE_TEMP_K, Assumed, "Skirts keep their shape below it."),
        constant("film_rise", "K", c::FILM_RISE_K, Assumed, "Of the skirt's film over the mean of coolant and oil at full load."),
        constant("boss_weakening", "1/K", c::BOSS_WEAKENING_PER_K, Assumed, "Strength and tensile strength of the boss over temperature."),
        constant("boss_scatter", "1", c::BOSS_SCATTER, Assumed, "Coefficient of variation of boss strength; times the slope it spreads ln(life)."),
        constant("boss_swing_share", "1", c::BOSS_SWING_SHARE, Assumed, "Of the pin's swing that slides in the bosses."),
        constant("cylinder_ln_sd", "1", c::CYLINDER_LN_SD, Assumed, "Spread of ln(wear) between cylinders; stays when the rate is known."),
        constant("larson_miller", "1", 20.0, Memory, "Constant of the time-temperature parameter, times in hours."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "O. Reynolds 1886; Rayleigh 1918: the inclined slider (closed forms from memory, checked by quadrature)",
        "J. A. Greenwood and J. H. Tripp, Proc. Inst. Mech. Eng. 185 (1970-71) 625: asperity contact (constants from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "F. R. Larson and J. Miller, Trans. ASME 74 (1952) 765; E. L. Robinson 1938: time at temperature (from memory)",
        "J. Goodman: mean stress; A. Palmgren, M. A. Miner: damage sum (from memory)",
        "S. K. Chen and P. F. Flynn, SAE 650733: engine friction (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "crown and ring lands: thermal cracks of the crown, lands broken by knock; look for them",
        "temperature field: each place is a stated share of the groove's, and the groove's a stated line over load and speed",
        "gas dynamics between the rings: land pressures are stated shares of cylinder pressure",
        "secondary motion: the piston crosses its cold clearance at once when side thrust turns; slap and tilt are one incline of the skirt",
        "squeeze, side leakage and elastic deformation of the skirt; ovality; cold starts",
        "grown groove clearance does not feed back on impacts; lost hardness does not weaken the boss (its own limit scraps the piston first)",
        "knock raises groove temperature and boss force only; a burst counts at its record's mean speed",
        "where the coat is through on one face, roughness and incline stay as they were",
        "corrosion, deposits; contamination is a multiplier that the duty brings",
        "an over-rev and a knock burst count in addition to their time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "The piston maker's limit on hours or cycles rules.",
        "A piston that saw heavy knock is scrap whatever is computed.",
        "Any penetrant indication at boss or crown is scrap; a clean look does not reset the damage.",
        "The class's rules and the piston maker's clearances come before any figure here.",
    ])
}
