//! Constants, references, what is left out, cautions.

use ringland_engine::valvetrain::FLOAT_LOFT_M;
use ringland_mechanics::contact::STEEL_THERMAL_CONTACT;
use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "One lobe and its follower: flat tappet, sliding pad or roller. The motion of the valve train at each speed, with surge and float, \
gives the force on the contact round the cam; there follow Hertz pressure, the film of the surfaces' own kinematics thinned by inlet heating, the load shared between film and \
asperities, and the flash temperature. Wear is Archard's on the asperities' share, at eleven stations round the lobe and on the follower; pitting is by Hertz pressure, hardness and film.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("wear_coefficient", "m2/N", c::WEAR_COEFFICIENT_M2_N, Calibrated, "Default of lobe and follower: a plain bucket and its lobe (10 mm of lift, 12 mm wide) reach the first of their wear limits after 24 events of 170 min (common practice, no source: two seasons)."),
        constant("pitting_strength", "1", c::PITTING_STRENGTH, Assumed, "Hertz pressure that half of such parts stand for 1e7 turns with a film as thick as the roughness, over hardness: 1.86 GPa at 60 HRC."),
        constant("pitting_exponent", "1", c::PITTING_EXPONENT, Memory, "Life falls with the tenth power of Hertz pressure at a line (load to the fifth; Palmgren's rollers have 20/3 of pressure)."),
        constant("pitting_turns", "1", c::PITTING_TURNS, Memory, "Turns at the strength."),
        constant("film_life_half", "1", c::FILM_LIFE[0].1, Assumed, "Life at a film of half the roughness or less over that at one; 0.5 at 0.65, 1.6 at 1.6, 2 at 2 and more."),
        constant("strength_ln_sd", "1", c::STRENGTH_LN_SD, Assumed, "Scatter of pitting strength between parts."),
        constant("film_friction", "1", c::FILM_FRICTION, Memory, "Of an elastohydrodynamic film; drives rollers and heats films."),
        constant("traction_slip", "1", c::TRACTION_SLIP, Assumed, "Sliding over cam speed that gives three quarters of a roller's traction."),
        constant("oil_conductivity", "W/(m.K)", c::OIL_CONDUCTIVITY_W_M_K, Memory, ""),
        constant("thermal_contact", "J/(m2.K.s^0.5)", STEEL_THERMAL_CONTACT, Memory, "Of hardened steel, both parts."),
        constant("poisson", "1", c::POISSON, Memory, "Both parts."),
        constant("roller_density", "kg/m3", c::STEEL_KG_M3, Memory, ""),
        constant("seating_turns", "1", c::SEATING_TURNS, Assumed, "Turns over which the freshness of a surface falls to 1/e."),
        constant("lobe_ln_sd", "1", c::LOBE_LN_SD, Assumed, "Spread between lobes of one engine."),
        constant("wear_correlation", "1", c::WEAR_CORRELATION, Assumed, "Between both wears and scuffing."),
        constant("pitting_correlation", "1", c::PITTING_CORRELATION, Assumed, "Between pitting and the others."),
        constant("float_loft_m", "m", FLOAT_LOFT_M, Assumed, "Gap between valve and cam, while the cam holds the valve open, above which a note tells of float."),
        constant("least_room", "K", c::LEAST_ROOM_K, Assumed, "Least room between bulk and limit that severity is counted against."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "H. Hertz, 1881; K. L. Johnson, Contact Mechanics, 1985: line contact (from memory; checked against closed forms)",
        "D. Dowson and G. R. Higginson, Elasto-hydrodynamic Lubrication, 1966: film of a line (constants from memory)",
        "P. K. Gupta, H. S. Cheng and others, J. Tribol. 114 (1992): thermal reduction of the film (from memory)",
        "K. L. Johnson, J. A. Greenwood and S. Y. Poon, Wear 19 (1972) 91: load shared by film and asperities",
        "J. A. Greenwood and J. H. Tripp, Proc. Inst. Mech. Eng. 185 (1970-71) 625: asperity contact (constants from memory)",
        "H. Blok, 1937: flash temperature (as in ISO/TS 6336-20, from memory; constant by quadrature)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "A. Palmgren and M. A. Miner: summation; contact life by a power of pressure with a factor for the film (from memory)",
        "R. L. Norton, Cam Design and Manufacturing Handbook: kinematics of followers (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "the arc of a finger or rocker: the follower moves along a line through the cam's axis, at one ratio",
        "needles, pin and retention of a roller (a rolling bearing of its own); the traction of asperities on a roller",
        "how fast a flat tappet turns: it is taken to turn freely about its middle, below which the lobe stands",
        "edge load, misalignment and bending of the camshaft, but for the factor of the load in the middle of the width",
        "squeeze: where the entrainment turns round the film is taken as none",
        "starvation and oil supply: the inlet is flooded, and a cold or dry start adds nothing",
        "change of the lobe's shape by wear, of the valve's motion by lash growth and wear, and of the roughness after running-in",
        "residual stress and the depth of a case: pitting follows surface hardness; a case must be deeper than the largest shear",
        "traction, inclusions and grinding burn in pitting; growth of a pit once there",
        "a coating's adhesion and its softness in contact; what its wearing through does to the mate",
        "each place of the follower at its own speed: the worst places of all operating points are added up, which is on the safe side",
        "friction and gas force on the valve; differences between cylinders; see the valve train",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "Used lifters and lobes are matched pairs: never mix them, never put a used follower on a new lobe.",
        "A pit over 1 mm, a crack, scuff marks, a blued roller, roller play over 0.3 mm or a roughness felt by hand end the life whatever is computed.",
        "Needles of a failed roller travel through the engine: stop at a new noise or at metal in the filter.",
        "A valve that leaves its cam can strike the piston: a floating operating point is a limit of the engine, not of the lobe.",
        "The class's rules and the makers' limits on lift, load, coating and lash come before any figure here.",
    ])
}
