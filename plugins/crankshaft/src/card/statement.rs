//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Crankshaft of an in-line engine, one rod on each throw. Gas and inertia forces of a throw over 720 deg; \
torque of all throws in firing order drives a torsional chain of damper, hub, throws and flywheel, solved harmonic by harmonic with stated damping; \
bending of a throw on its two bearings; local stress with the factors of the form of IACS UR M53 and Neuber's notch sensitivity; rainflow count; \
strength over depth from hardness, residual stress and roughness; Miner's sum for each fillet and the shoulder of the nose. Wear of the pins after Archard.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory, Published};
    vec![
        constant("strength", "Pa", super::STRENGTH_PA, Calibrated, "Default of strength_pa: 10 % of untreated cranks of the default engine have a crack after 27 events of 170 min (25 to 30 events before retirement: common practice, no source). Nothing treated was fitted."),
        constant("knee_cycles", "1", c::KNEE_CYCLES, Assumed, "Cycles at which strength_pa is stated; the line goes on below it (elementary Miner)."),
        constant("retained", "1", c::RETAINED, Assumed, "Share of the residual stress left after the first loads."),
        constant("mpa_per_hv", "MPa", c::MPA_PER_HV, Memory, "Tensile strength over hardness of steel: hardness of the core."),
        constant("case_over_core", "HV", c::CASE_OVER_CORE_HV, Memory, "ISO 18203: nitriding depth is where hardness is 50 HV above the core."),
        constant("case_end", "1", c::CASE_END, Assumed, "Depth at which the case has fallen to the core, over the case depth."),
        constant("defect_hardness", "HV", c::DEFECT_HV, Memory, "Strength of the case over that of the core goes as HV + 120 (Y. Murakami)."),
        constant("notch_over_ra", "1", c::NOTCH_OVER_RA, Memory, "Depth of roughness Rz over Ra; it counts as a small crack."),
        constant("nose_ra", "m", c::NOSE_RA_M, Assumed, "Roughness Ra of the nose's shoulder."),
        constant("roughness_depth", "m", c::ROUGHNESS_DEPTH_M, Assumed, "Depth below which roughness does not count."),
        constant("crack_threshold", "Pa.m^0.5", c::CRACK_THRESHOLD, Memory, "Long-crack threshold of quenched and tempered steel, stress range counted from zero."),
        constant("surface_crack", "1", c::SURFACE_CRACK, Published, "Geometry factor of an edge crack, textbook; an upper bound for a shallow one."),
        constant("aged_loss", "1", c::AGED_LOSS, Assumed, "Loss factor of an aged damper over that of a new one."),
        constant("aged_stiffness", "1", c::AGED_STIFFNESS, Assumed, "Stiffness of an aged damper over that of a new one: its bond is torn, the ring comes loose."),
        constant("taper_share", "1", c::TAPER_SHARE, Assumed, "Taper over wear of a pin."),
        constant("forging_correlation", "1", c::FORGING_CORRELATION, Assumed, "Between fillets and nose: one forging."),
        constant("journal_ln_sd", "1", c::JOURNAL_LN_SD, Assumed, "Spread of ln(wear) between the pins of a crank."),
        constant("least_film_share", "1", c::LEAST_FILM_SHARE, Assumed, "Share of the cycle in which the rod bearing's film is near its least."),
        constant("reference_wear", "m2/N", c::REFERENCE_WEAR_M2_N, Assumed, "Wear coefficient of a pin of 30 HRC; a spec far from it for its hardness is told."),
        constant("hardness_exponent", "1", c::HARDNESS_EXPONENT, Assumed, "Of hardness in that: a quarter at 55 to 60 HRC."),
        constant("rq_over_ra", "1", c::RQ_OVER_RA, Memory, "Of a surface of normal heights."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "IACS UR M53: form of nominal stresses, stress-concentration factors, fatigue strength (polynomials from memory: compare with the text)",
        "W. Ker Wilson, Practical Solution of Torsional Vibration Problems: stiffness of a throw (formula from memory)",
        "R. L. Norton, Machine Design: fits of shoulder-fillet charts (torsion rows from memory)",
        "H. Neuber: notch sensitivity; E. Siebel and M. Stieler 1955: stress gradient (from memory)",
        "Y. Murakami, Metal Fatigue: hardness and small defects; M. H. El Haddad and others 1979: small cracks (from memory)",
        "G. Sines 1955: mean torsion does no fatigue damage (from memory)",
        "ASTM E1049-85: rainflow count; A. Palmgren 1924, M. A. Miner 1945: damage sum",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear; F. W. Ocvirk 1953: short bearing",
        "S. K. Chen and P. F. Flynn, SAE 650733: engine friction (from memory)",
        "ISO 9934, ASTM E1444: magnetic-particle testing",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "two rods on one pin (V engines), bored pins and journals, recessed webs",
        "the stiffness of neighbouring throws and of the block: a throw stands alone on two rigid bearings, which is on the safe side for bending",
        "bending vibration (the flywheel's whirl), axial vibration, bearing misalignment and a worn main bearing",
        "the edge of the oil hole: it is within the calibrated strength, not computed",
        "the driveline behind the flywheel, shocks of clutch and shifts; valve-train torque",
        "the change of reciprocating inertia with crank angle (secondary resonance); viscous and pendulum dampers; damper temperature",
        "cylinder-to-cylinder differences, cycle-to-cycle scatter and knock",
        "stress that is not proportional: cycles are counted along the longest chord of bending and torsion",
        "relaxation of residual stress after the first loads; stress redistributed by grinding",
        "growth of a crack once started: a crack ends the life",
        "journal score, heat check, straightness and thrust wear: measured, not predicted; the film is the plain bearing's",
        "wear of the shells: the least film of a short bearing at high eccentricity does not depend on its clearance, so none is read",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A crack indication ends the crank's life whatever is computed. Crack check (wet fluorescent magnetic particle) at every freshening; a clean check lowers risk and does not reset damage.",
        "A broken crankshaft can throw rods and oil: people near a running engine can be hurt.",
        "Grinding through a nitrided case, another damper or flywheel: have the torsional vibration checked by the part maker.",
        "A blued journal has been overheated: test its hardness before anything else. Demagnetise below 3 gauss after magnetic-particle testing.",
        "The class's rules, the crank maker's and the damper maker's limits come before any figure here.",
    ])
}
