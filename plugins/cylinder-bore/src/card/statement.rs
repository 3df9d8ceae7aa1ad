//! Constants, references, what is left out, cautions.

use ringland_engine::rings;
use ringland_mechanics::film::pack;
use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Bore of one cylinder. The oil film under every ring is solved over crank angle (Reynolds equation, flow factors, gas at \
both edges, Greenwood-Tripp asperities) and its contact laid along the stroke where it happened: the solution that wears the ring faces wears the bore. \
Wear is Archard's with running-in. The shift of a casting in its first hot hours is a mechanism of its own, and no wear is learnt from it.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("bore_wear_coefficient", "m2/N", rings::BORE_WEAR_COEFFICIENT_M2_N, Calibrated, "Default of the bore surface: 0.35 um/h at top-ring reversal over the default duty until the ring gap has grown by 0.10 mm. The same as the ring pack's."),
        constant("running_in_multiplier", "1", 7.8, Calibrated, "Default of the bore surface, with form_depth: an untreated pack is four fifths seated by one 12 s full-load pull."),
        constant("form_depth", "m", pack::FORM_DEPTH_M, Calibrated, "With running_in_multiplier."),
        constant("flank_area", "m2", pack::FLANK_AREA_M2, Calibrated, "Leak area of the ring flanks: 85 l/min of blow-by at full load."),
        constant("shift_hours", "h", c::SHIFT_HOURS_H, Calibrated, "Hours at full-load bore temperature by which the shift closes by a factor e: about three default events (over the first hard races: common practice, no source)."),
        constant("judged_below", "m", c::JUDGED_BELOW_M, Calibrated, "Height below reversal at which valleys are judged: an untreated hone then lasts two ring sets (common practice, no source). The wear that is computed falls steeply there."),
        constant("shift_default", "m", 3.5e-5, Assumed, "Default of shift_m: about one unseasoned casting in five goes beyond 0.05 mm."),
        constant("thrust_share_default", "1", 0.3, Assumed, "Default of thrust_share."),
        constant("glaze_load", "1", c::GLAZE_LOAD, Assumed, "Indicated load over full load below which an unseated bore glazes."),
        constant("glaze_hours", "h", c::GLAZE_HOURS_H, Assumed, "Hours of it, wholly unseated, that glaze by a factor e."),
        constant("rpk_left", "m", c::RPK_LEFT_M, Assumed, "Reduced peak height left of any hone once run in."),
        constant("hone_stock", "m", c::HONE_STOCK_M, Assumed, "Taken off the diameter beyond clean-up."),
        constant("oil_share", "1", pack::OIL_SHARE, Assumed, "Oil's share in film temperature at the cool end of the bore."),
        constant("rise_exponent", "1", pack::RISE_EXPONENT, Assumed, "Of indicated power in the rise of bore temperature."),
        constant("peak_variance", "1", pack::PEAK_VARIANCE, Assumed, "Variance of fresh peaks over Rpk squared."),
        constant("peak_share", "1", pack::PEAK_SHARE, Assumed, "Area share of fresh peaks."),
        constant("crown_loss", "1", pack::CROWN_LOSS, Assumed, "Crown of the top face lost for each depth worn."),
        constant("cylinder_ln_sd", "1", c::CYLINDER_LN_SD, Assumed, "Spread of ln(rate) between cylinders; stays when the rate is known."),
        constant("wear_correlation", "1", c::WEAR_CORRELATION, Assumed, "Between taper and valleys; the shift is independent of both."),
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
        "S. K. Chen and P. F. Flynn, SAE 650733: engine friction (from memory)",
        "ISO 21920-2 (profile parameters Rpk, Rvk, Mr2 and the oil volume (1 - Mr2) Rvk/2), ISO 12181-1 (roundness): from memory",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "starvation: the film is flooded, so contact away from the reversals is a lower bound; the step at reversal is steeper here than in service",
        "the angle: one section stands for the circumference, and thrust_share lays a stated shape over it",
        "the piston skirt: its rubbing on the bore is the piston's model; slap and cold starts",
        "conformability: rings are taken to follow the bore however it shifts",
        "distortion under the head and by temperature: measure with a torque plate, as honed",
        "the shift has a stated size and closes with hours at temperature; it is not computed from the casting's stresses",
        "of all rings only the crown of the top one is followed, as it was at the start of each record",
        "scuffing, cracks and porosity, coating loss of plated bores, corrosion and soot; contamination is a multiplier that the duty brings",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A bore measured without torque plate and main caps, or away from the temperature of its setting ring (0.9 um for each K of difference on 86 mm iron), says nothing of wear.",
        "Out-of-round of a new block after its first races is casting shift, not wear: enter roundness at mid-stroke, never as taper.",
        "A crack, a scuffed band or a step that catches a fingernail ends the bore's life whatever is computed.",
        "Wall thickness by sonic test, sleeve fit and the block maker's limits come before any oversize; the class's rules on bore size and sleeving come first.",
    ])
}
