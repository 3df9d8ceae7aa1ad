//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "One fixed ball joint of a drive shaft. Its kinematics give the balls' places in the plane that bisects the axes over a turn at an angle; torque and the balance of the cage give \
what each ball carries, by Hertz contact. Pitting counts a load cycle for each turn: the rated life of the straight joint, less by the mean cube of the computed loads over those of the straight joint, changed by film over roughness as rolling bearings are. \
Tracks, balls and windows wear by what slides; friction heats the joint, heat ages the grease. The highest torque may leave a set. A boot tears by chance, at a rate that angle and impacts add to.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory, Published};
    vec![
        constant("rating", "h/min", 470_756.0, Memory, "Rated hours at one turn a minute at the capacity, above 1000 1/min; 25339/n^0.577 below (textbook of driveshafts)."),
        constant("median_over_l10", "1", c::MEDIAN_OVER_L10, Memory, "Weibull slope 1.6; the lives drawn are lognormal with the same L10 and median (ln sd 0.92). The prior on the rate (12 % of capacity, to the power 3) widens that."),
        constant("capacity_kappa", "1", c::CAPACITY_KAPPA, Assumed, "Viscosity ratio at which the capacity holds: ground tracks in grease. Least that ISO 281 defines."),
        constant("contaminated_limit", "1", c::CONTAMINATED_LIMIT, Assumed, "e_C C_u/P of a heavily loaded, greased joint in a_ISO of ISO 281."),
        constant("kappa_of_lambda", "1", c::KAPPA_OF_LAMBDA, Memory, "Viscosity ratio from film over roughness: kappa = lambda^1.3 (ISO 281)."),
        constant("film_friction", "1", c::FILM_FRICTION, Assumed, "Friction of what the film carries."),
        constant("pressure_viscosity", "1/Pa", c::ALPHA_PER_PA, Memory, "Mineral base oil."),
        constant("density", "kg/m3", c::DENSITY_KG_M3, Assumed, "Base oil."),
        constant("set_pressure", "Pa", c::SET_PA, Published, "ISO 76: 4200 MPa in a ball contact leaves a set of about 1e-4 of the ball's diameter. Value from memory; not read here."),
        constant("set_hardness_power", "1", c::SET_HARDNESS_POWER, Memory, "Static capacity goes with the square of hardness, pressure with the cube root of load; 700 HV is where the set pressure holds."),
        constant("grease_halving", "K", c::GREASE_HALVING_K, CommonPractice, "10 to 15 K halve the life of a grease."),
        constant("boot_per_hour", "1/h", c::BOOT_PER_HOUR, Assumed, "At 0.105 rad; goes with the square of the angle."),
        constant("boot_per_impact", "1", c::BOOT_PER_IMPACT, Assumed, "At 50 m/s2; goes with its square."),
        constant("track_wear", "m2/N", c::TRACK_WEAR_M2_N, Calibrated, "Default wear coefficient of the tracks: 1.5 um in the default event (common practice, no source)."),
        constant("window_wear", "m2/N", c::WINDOW_WEAR_M2_N, Assumed, "Default wear coefficient of the windows."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "Textbooks of driveshafts: rating of fixed ball joints, L_h = 470756/n (A_x M_d/M)^3, A_x = (1 - sin b) cos^2 b (from memory). The angle factor is not used: it is compared",
        "H. Hertz 1881: elastic contact of curved bodies, by elliptic integrals",
        "ISO 281: p = 3 of ball contacts, a_ISO (from memory); ISO 76: set at 4200 MPa (from memory)",
        "A. Palmgren 1924, M. A. Miner 1945: damage sum",
        "B. J. Hamrock and D. Dowson 1977: film of an elliptic contact; J. A. Greenwood and J. H. Tripp 1970: share of asperities",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "friction in the balance of balls and cage: it evens out what the balls carry somewhat",
        "joint angles beyond that from which balls lean to either side of the cage (0.26 rad at the default): few balls carry all of it there, in peaks that friction would cut; the forecast says so",
        "errors of pitch between tracks, bending of cage and members, play: all balls go through the same",
        "plunging joints, tripods, cross-groove joints: the tracks here are arcs in planes through the axes",
        "crossing grooves and the ends of tracks: the contact is taken to stay within the track at any torque",
        "Heathcote slip across the conforming contact, and the spin of the ball: sliding is that by unequal arcs, plus that by pivoting (added up, which is an upper bound)",
        "false brinelling of a joint that stands straight: at no angle a turn counts as at any other",
        "the history of temperature within a record: the joint is at the record's mean, as its five minutes of heat capacity are short of an event and long against a corner",
        "cooling by speed: the heat transfer is one number; measure",
        "what spent grease does to wear and friction: the grease's life is its own mechanism",
        "starvation and reversal of the film: it is that of the mean rolling speed, fully flooded",
        "compression in the surface and coatings that let go: a coating on balls or tracks is a hazard that has no law here",
        "fracture of cage, stem or outer member by overload",
        "torque of this joint from moment to moment: the share is a number of the spec",
        "that a torn boot ends a joint: everything else here supposes a whole one",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A joint that seizes or breaks throws its shaft. The class's rules and the joint maker's limits (angle, speed, torque) come before any figure here.",
        "A torn boot ends the joint, even if the model says it is healthy: grease that has taken dirt in is not cured by more grease. Replace joint and boot.",
        "Look at boots and clips before each run, at full lock and full droop; grease thrown on hot parts burns.",
        "Any spall over 1 mm, a blue track, a notch to be felt or clicking under torque ends a joint's life whatever is computed.",
        "Never peen tracks. Coatings on balls and tracks may let go, and their debris is hard.",
        "The rated capacity is known to some 12 %, which is 1.4 in life.",
    ])
}
