//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Piston pin and small-end bush as one component. The force between them is computed over crank angle; \
the bush is a squeeze film that starves, with Greenwood-Tripp asperities, and wears after Archard while the pin swings. The pin bends and \
ovalises and follows an S-N line; friction power over area judges scuffing; a coating is lost by a hazard.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("bush_wear", "m2/N", c::BUSH_WEAR_M2_N, Calibrated, "Default of the bush: 16.5 events of the default duty until the clearance has grown from 12 to 30 um (common practice, no source: 15 to 18). Goes with the assumed oil_patch_m."),
        constant("pin_wear", "m2/N", c::PIN_WEAR_M2_N, Assumed, "Default of the pin: a tenth of the bush's."),
        constant("film_rise", "K", c::FILM_RISE_K, Assumed, "Of the bush's oil over the engine's at full load."),
        constant("bush_swing_share", "1", c::BUSH_SWING_SHARE, Assumed, "Of the swing that slides in the bush."),
        constant("knock_peak", "1", c::KNOCK_PEAK[0], Assumed, "Rise of peak pressure for each unit of knock level, all cycles of a block alike."),
        constant("knock_peak_most", "1", c::KNOCK_PEAK[1], Assumed, "Most of that rise."),
        constant("pin_scatter", "1", c::PIN_SCATTER, Assumed, "Coefficient of variation of pin strength; times the slope it spreads ln(life)."),
        constant("coating_hazard", "m2/J", c::COATING_HAZARD_M2_J, Assumed, "Hazard for each unit of friction work over area: about 1.5 % over 30 events of a coated pin on the default duty."),
        constant("cylinder_ln_sd", "1", c::CYLINDER_LN_SD, Assumed, "Spread of ln(wear) between cylinders; stays when the rate is known."),
        constant("ovalisation", "1", 0.09, Memory, "Factor of the ovalisation formula; checked to lie between two thin rings."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "J. Stefan 1874; O. Reynolds 1886: squeeze of a strip of oil (closed form from memory)",
        "J. A. Greenwood and J. H. Tripp, Proc. Inst. Mech. Eng. 185 (1970-71) 625: asperity contact (constants from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "textbook bending and ovalisation of piston pins (from memory); thin rings under point and cosine loads",
        "J. Goodman: mean stress; A. Palmgren, M. A. Miner: damage sum (from memory)",
        "S. K. Chen and P. F. Flynn, SAE 650733: engine friction (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "oil supply: how far the bush starves is an assumed width of oil patches, not computed from holes, splash or jets",
        "pressure-viscosity, cavitation, the wedge of the swinging pin, edge loading as the pin bends; the gap is even over a half",
        "a grown clearance does not feed back on film or impact",
        "creep and walking of the bush, a loose press fit; permanent ovality",
        "turning of the pin: bending always acts in one plane; contact fatigue of the bosses is the piston's",
        "surface strength follows the residual stress at the surface only; subsurface starts of cracks",
        "blueing by lost oil; knock bursts count through the knock level of the operating points only",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "The pin maker's life at this peak pressure rules; so do the class's rules on pins.",
        "Any blueing, line or flake on a pin: replace it, whatever is computed. Any walk of a bush: replace it.",
        "A hard coating hides cracks from magnetic particles: eddy current, or strip it.",
        "Locks that are used again let a pin out into the bore: fit new ones.",
    ])
}
