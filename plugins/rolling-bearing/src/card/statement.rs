//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "The two rolling bearings of one shaft as a set: gearbox shaft, pinion or wheel hub. The place's loads are shared over both rows and their elements \
by the balance of displacements, with clearance, preload and a contact angle that turns with load (ISO/TS 16281 without tilt); each operating point uses up rated life (ISO 281) with the film of its \
oil and speed, the cleanliness of the oil and the roughness of the raceways; both bearings are combined after Weibull. Play grows by wear and changes the sharing of load; impacts leave dents that raise the \
hazard of a spall; grease ages by heat; the cage by speed.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    vec![
        constant("weibull_slope", "1", c::SLOPE, Memory, "ISO 281:2007, behind the reliability factor; also combines both bearings."),
        constant("usual_roughness", "m", c::USUAL_ROUGHNESS_M, Assumed, "Composite Rq for which the reference viscosity stands."),
        constant("wear", "m2/N", c::WEAR_M2_N, Calibrated, "Default of the raceways: half of the preload of a pinion's tapers gone after a season of 12 events (common practice, no source)."),
        constant("slip", "1", c::SLIP, Assumed, "Sliding over rolling in the contacts."),
        constant("rated_dent", "1", c::RATED_DENT, Memory, "ISO 76: dent over the element's diameter under the static rating; depth goes with the square of the load (A. Palmgren)."),
        constant("static_share", "1", c::STATIC_SHARE, Memory, "ISO 76: largest element load is 5 C0/(Z cos alpha)."),
        constant("dent_stress", "1", c::DENT_STRESS, Assumed, "Rise of pressure at a dent's shoulder for each rated dent of depth."),
        constant("most_dent", "1", c::MOST_DENT, Assumed, "Deepest dent that is followed."),
        constant("counted_safety", "1", c::COUNTED_SAFETY, CommonPractice, "Static safety below which an impact counts as a dent."),
        constant("cage_hazard", "1/s", c::CAGE_PER_S, Assumed, "At the limiting speed: one in a thousand hours."),
        constant("cage_exponent", "1", c::CAGE_EXPONENT, Assumed, "Of the cage's hazard over speed."),
        constant("rating_scatter", "1", c::RATING_SCATTER, Assumed, "Coefficient of variation of C."),
        constant("bearing_ln_sd", "1", c::BEARING_LN_SD, Assumed, "Spread of ln(wear) between bearings; stays when the rate is known."),
        constant("dent_ln_sd", "1", c::DENT_LN_SD, Assumed, "Spread of ln(depth) of dents."),
        constant("grease_lg_hours", "1", c::GREASE[0], Memory, "lg of grease life in hours = this - 1.4 r - (0.018 - 0.006 r) T; r speed over limiting speed, 0.25 to 1; T degC, 70 to 160."),
        constant("preload_left", "1", c::PRELOAD_LEFT, CommonPractice, "Share at which a preload counts as lost."),
        constant("thin_film", "1", c::THIN_FILM, Memory, "Viscosity ratio below which a thin film is told."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "ISO 281:2007: rating life, life modification factor, reference viscosity, annex A contamination (formulas from memory)",
        "ISO 76: static load rating (from memory)",
        "ISO/TS 16281: load of each element, ratings of inner and outer ring (formulas from memory)",
        "G. Lundberg and A. Palmgren 1947, 1952: life of rings; W. Weibull: weakest link",
        "R. Stribeck 1901; H. Sjövall 1933: distribution of load (textbook)",
        "ISO 4406: code of particles; ISO 3448: grades of viscosity",
        "L. Ubbelohde and C. Walther; ASTM D341: viscosity over temperature",
        "spiral bevel forces: statics of the mean cone (textbook)",
        "bearing handbooks: grease life over speed and temperature (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "tilt of the rings, bending of shaft and housing, misalignment; edge load of rollers beyond what the rating holds",
        "heat that changes fits and preload: play in service is an input; centrifugal force of the elements, skidding of unloaded ones",
        "equivalent loads of contact angles above 20 degrees come out up to 30 % below the standard's X and Y tables, which take the angle into the rating",
        "additives of the oil (kappa below 1 is taken without them), water, current, corrosion, false brinelling while standing",
        "hardness and temperature of the rings (C holds to 58 HRC and 125 to 150 degC), coatings other than by roughness and wear coefficient, ceramic balls other than by the ratings entered",
        "wear goes on at the rate of the set as adjusted; debris that the set itself makes; the oil's cleanliness as the log tells it",
        "gear loads of a shaft's second mesh, of reverse and of shift shocks; efficiency; torque peaks as dents",
        "a hub's braking and driving force, camber, kerb side force; in neutral whatever is behind the gears counts as standing",
        "impacts come before the operating points of their record; the deepest dent of an impact stands for all of its elements",
        "dents of one impact on both raceways and on elements are one; a dent's stress hangs on its depth alone",
        "that a set has lasted so far does not sharpen what is believed of its rate: inspections do",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A wheel hub that lets go takes the wheel with it: play, roughness, noise or a brinell mark means replacement, whatever is computed. Never use a hub with a brinell mark again.",
        "Any spall, straw or darker colour (200 degC), cracked cage or steel on the magnet ends the life.",
        "Pressing over the elements destroys a new bearing: press on the ring that is tight. Heat with care, never with a flame.",
        "A clean oil and magnet do more than any treatment of raceways.",
        "Set preload and nut locking by the maker's procedure; the maker's limits and the class's rules come first. Wheel bearings belong in licensed hands where the law says so.",
    ])
}
