//! Constants, references, what is left out, cautions.

use ringland_engine::rings;
use ringland_mechanics::film::pack;
use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Top, second and oil ring of one cylinder. The oil film under each face is solved over crank angle (Reynolds equation with \
sliding and squeeze, flow factors, gas at both edges, Greenwood-Tripp asperities) with cylinder pressure from a first-law cycle and land \
pressures from a gas network. Wear is Archard's on the real asperity pressure, with running-in. One section stands for the circumference.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    vec![
        constant("top_wear_coefficient", "m2/N", rings::FACE_WEAR_COEFFICIENT_M2_N, Calibrated, "Default of the face surfaces: 0.5 um/h of top-face wear over the default duty, averaged until the end gap has grown by 0.10 mm (6.6 events of 170 min): common practice, no source."),
        constant("bore_wear_coefficient", "m2/N", rings::BORE_WEAR_COEFFICIENT_M2_N, Calibrated, "Default of the bore surface: 0.35 um/h at top-ring reversal over the same duty."),
        constant("running_in_multiplier", "1", 7.8, Calibrated, "Default of the bore surface, with form_depth: an untreated pack is four fifths seated by one 12 s full-load pull."),
        constant("form_depth", "m", pack::FORM_DEPTH_M, Calibrated, "With running_in_multiplier; a smoother, harder pair then takes several pulls."),
        constant("flank_area", "m2", pack::FLANK_AREA_M2, Calibrated, "85 l/min of blow-by at full load for the default engine, seated: common practice, no source."),
        constant("unseated_area", "m2", pack::UNSEATED_AREA_M2, Calibrated, "Twice that as built: common practice, no source."),
        constant("leak_down_per_m", "1/m", c::LEAK_DOWN_PER_M, Calibrated, "0.045 % for each micrometre of gap growth."),
        constant("leak_down_build", "1", c::LEAK_DOWN_BUILD, CommonPractice, "3 % seated at build."),
        constant("leak_down_unseated", "1", c::LEAK_DOWN_UNSEATED, Assumed, "Added before seating."),
        constant("power_per_charge", "1", c::POWER_PER_CHARGE, Assumed, "Power lost for each unit of charge lost past the rings."),
        constant("oil_share", "1", pack::OIL_SHARE, Assumed, "Oil's share in film temperature at the cool end of the bore."),
        constant("rise_exponent", "1", pack::RISE_EXPONENT, Assumed, "Of indicated power in the rise of bore and groove temperature."),
        constant("peak_variance", "1", pack::PEAK_VARIANCE, Assumed, "Variance of fresh peaks over Rpk squared."),
        constant("peak_share", "1", pack::PEAK_SHARE, Assumed, "Area share of fresh peaks; half of it times Rpk is their volume over area (ISO 21920-2)."),
        constant("crown_loss", "1", pack::CROWN_LOSS, Assumed, "Crown lost for each depth worn."),
        constant("relaxation", "1", c::RELAXATION, Assumed, "Tension lost for each e-fold of hours at 200 degC groove temperature."),
        constant("relaxation_decade", "K", c::RELAXATION_DECADE_K, Assumed, "Rise that makes an hour count tenfold."),
        constant("tension_exponent", "1", c::TENSION_EXPONENT, Assumed, "Of remaining thickness in tension; 3 is bending stiffness."),
        constant("cylinder_ln_sd", "1", c::CYLINDER_LN_SD, Assumed, "Spread of ln(wear) between cylinders; stays when the rate is known."),
        constant("wear_correlation", "1", c::WEAR_CORRELATION, Assumed, "Between rates that follow from face wear."),
        constant("tension_correlation", "1", c::TENSION_CORRELATION, Assumed, "Between tension loss and face wear."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "O. Reynolds 1886; one-dimensional, Reynolds condition at rupture",
        "N. Patir and H. S. Cheng, J. Lubr. Technol. 100 (1978) 12 and 101 (1979) 220: flow and shear factors (coefficients from memory)",
        "J. A. Greenwood and J. H. Tripp, Proc. Inst. Mech. Eng. 185 (1970-71) 625: asperity contact (constants from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "G. Woschni, SAE 670931; I. Wiebe 1970: cylinder heat loss and heat release (from memory)",
        "S. K. Chen and P. F. Flynn, SAE 650733: engine friction (from memory)",
        "ISO 6621 (piston rings: terms), ISO 21920-2 (profile parameters)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "starvation: the film is flooded, so ring friction is a lower bound and the film at mid-stroke an upper one",
        "the circumference: bore distortion and conformability, piston thrust side, the gap itself",
        "ring lift, flutter, twist and inertia; groove wear and micro-welding (the piston's)",
        "pressure-viscosity, shear thinning and heating within the film; temperature along the bore is a stated shape",
        "gap growth and lost tension do not feed back on film, land pressures or wear; a worn crown does",
        "scuffing, glazing at low load, coating loss and chipping: no rate is modelled, look for them",
        "cavitation conserves no mass: it follows the Reynolds condition, open to the gas at the trailing edge",
        "wear of the bore is taken from the same contact as the top face's, where it turns; its shape is the bore's own model",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
        "corrosion and soot; contamination is a multiplier that the duty brings",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "Never close an end gap to chase leak-down: ring ends that butt seize the engine. The ring maker's minimum gap for boost and fuel comes first.",
        "A chipped, cracked or peeling face ends the ring's life whatever is computed.",
        "The class's rules on ring count, width and tension, and the ring maker's limits, come before any figure here.",
    ])
}
