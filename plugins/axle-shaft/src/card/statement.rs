//! Constants, references, what is left out, cautions.

use ringland_mechanics::shaft::TOOTH_STIFFNESS_N_M2;
use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "One steel half-shaft with the spline on it. Counted cycles of the axle torque, by the share that the shaft takes, give the shear stress at the spline root, \
the snap-ring groove and the shoulder fillet. The hardest torques make a notch yield and leave shear stress against them, so that the mean of later cycles is not that of the torque; \
amplitude and mean are compared over depth with a strength that roughness and retained residual stress shift, and damage adds up by Miner's rule at the surface and below it. \
The highest torque also twists the body for good when it yields. The spline's flanks wear by what the torque and the tilt of a bent drive line make them slide.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("strength", "Pa", c::STRENGTH_PA, Calibrated, "Default of strength_pa: B10 of the default duty is 20 events, one season (common practice, no source)."),
        constant("knee_cycles", "1", c::KNEE_CYCLES, Memory, "Cycles at which the strength is given; the slope is the same above and below."),
        constant("rz_per_ra", "1", c::RZ_PER_RA, Assumed, "Profile height over mean roughness, 4 to 7 for machined and peened surfaces."),
        constant("roughness_slope", "1", 0.22 / 3.0_f64.sqrt(), Memory, "FKM guideline, steel in torsion: strength falls by so much times lg(Rz/um) lg(2 Rm/400 MPa)."),
        constant("rough_depth", "m", c::ROUGH_DEPTH_M, Assumed, "Depth over which roughness counts."),
        constant("mean_stress_sensitivity", "1", 0.53 / 3.0_f64.sqrt(), Memory, "(0.35e-3 Rm/MPa - 0.1)/sqrt(3) at the default steel (FKM guideline, torsion): weight of mean and residual stress; a third of it for a mean above the amplitude."),
        constant("torsion_length_share", "1", c::TORSION_LENGTH_SHARE, Memory, "Peterson's length in torsion over that in bending."),
        constant("relaxed_per_yield", "1", c::RELAXED_PER_YIELD, Calibrated, "Share of made-in residual stress that the hardest torque takes, for each yield strength of elastic stress: such that shot peening gives the default root 10 to 15 % of strength (common practice, no source)."),
        constant("least_retained", "1", c::LEAST_RETAINED, Assumed, "Share of it that stays."),
        constant("deepest", "m", c::DEEPEST_M, Assumed, "Depth to which the start of a crack is looked for."),
        constant("tooth_stiffness", "N/m2", TOOTH_STIFFNESS_N_M2, Memory, "Pair of teeth for each metre of length, mean of spur gears (ISO 6336-1)."),
        constant("spline_wear", "m2/N", c::SPLINE_WEAR_M2_N, Assumed, "Default wear coefficient of the flanks."),
        constant("wheel_speed", "rad/s", c::WHEEL_SPEED_RAD_S, Assumed, "Stands in for wheel speeds that are not logged."),
        constant("missed_launch", "1", c::MISSED_LAUNCH, Assumed, "Launch torque over the highest counted one from which on a note says that the count has missed the launches."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "ASTM E1049-85 (2017): rainflow count of the axle torque",
        "A. Palmgren 1924, M. A. Miner 1945: damage sum",
        "FKM guideline, analytical strength assessment: roughness, mean-stress sensitivity in torsion (from memory)",
        "R. E. Peterson: notch sensitivity; shoulder fillets by the power fits to his charts (R. L. Norton, Machine Design, appendix)",
        "H. Neuber, Kerbspannungslehre: grooves in torsion (from memory)",
        "B. de Saint-Venant: torsion of a section, solved for the splined one by boundary elements; C. Weber: exact solution of a grooved shaft",
        "T. J. Dolan and E. L. Broghamer 1942: concentration at the foot of a gear tooth (from memory)",
        "S. P. Timoshenko, Strength of Materials, part II: torsion beyond yield",
        "ISO 4156: involute splines, side fit (from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "SAE J442, J443, AMS 2430: peening intensity and coverage; ISO 9934, ASTM E1444: magnetic-particle testing",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "one shaft: of a pair, each with risk p, one breaks with probability 1 - (1 - p)^2, less where both share their loads",
        "how the differential shares torque from moment to moment: the share is a number of the spec",
        "growth of a crack: life ends where one starts; a crack found ends it whatever is computed",
        "the uneven load along the spline: it is taken as even, as wear and yielding of the first millimetres leave it; tooth tension and root shear are added as if at one place; a bore changes the root's stress, not its concentration",
        "fretting fatigue of the flanks and roots as such: it is in the calibrated strength; a coating is credited by its friction and wear alone",
        "hardening of a notch that yields, ratchetting; the notch is ideally plastic, its strain elastic (pseudo-elastic amplitudes)",
        "a harder launch yet to come: over events ahead the highest torque is that of the event asked about, and what is believed of its rate",
        "a record's hardest torque is taken to come first in it: it sets the notches for all its cycles",
        "twist by torque against drive in a shaft that has been twisted in drive, which comes sooner and takes part of it back",
        "twist by heat of a hard drag, straightening, kerb strikes, bending by the joint's couple, whirling, welds",
        "growth of runout: the reading is the build value; measure",
        "sticking of the spline at small movements and wear of the coast flanks: wear counts all that slides, as if on the drive flanks",
        "dirt and lost grease at the spline: a torn boot is the joint's",
        "counted cycles have no operating point: the damage is shared among points by time and torque to the power of the slope",
        "inclusions, hydrogen (do not plate or nitride 1.8 GPa steel), corrosion, nicks",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A shaft that breaks whips and takes the drive with it. The class's rules (loops, shafts that are listed) and the shaft maker's limits come before any figure here.",
        "A crack indication ends the shaft's life whatever is computed; take paint off before testing. A clean crack check lowers the risk; it does not give life back.",
        "Mark left and right, and direction. A shaft that has run is set for its side: never swap sides.",
        "A shaft whose line is off, even within the limit, has been beyond yield: find out which launch, and look for cracks.",
        "A shaft of unknown history is scrap.",
        "Never peen seal lands and spline flanks; peening comes last but for polishing. Crack checks by certified inspectors (ISO 9712 or equal).",
    ])
}
