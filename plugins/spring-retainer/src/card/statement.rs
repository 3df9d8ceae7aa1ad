//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;
use crate::material::Material;

pub(super) const DESCRIPTION: &str = "Spring retainer and keepers as one component. The motion of the valve train with the surge of its spring gives the \
forces on taper, flange and spring seat over a turn of the cam. The taper is two elastic bars on Coulomb's friction, bent by the rocker's scrub: it slips at its ends, slides as a whole, or comes \
off, and frets after Archard; a hard landing drives it on; the end coil of the spring grows and slides on the flange; flange and hub follow an S-N line by Goodman; the hub holds its keepers \
until it yields through; bare titanium galls by a hazard.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    let [steel, titanium] = [0, 1].map(Material::of);
    vec![
        constant("taper_wear", "m2/N", c::TAPER_WEAR_M2_N, Calibrated, "Default of the taper: with the keepers' share, 1.6 um of sink in an event of the default duty (common practice, no source)."),
        constant("keeper_share", "1", c::KEEPER_SHARE, Assumed, "Wear coefficient of the keepers over that of the taper."),
        constant("seat_wear", "m2/N", c::SEAT_WEAR_M2_N, Calibrated, "Default of the spring seat: 2 um of step in an event of the default duty (common practice, no source)."),
        constant("steel_wear_share", "1", c::STEEL_WEAR_SHARE, Assumed, "Wear of bare steel below a coating over that of bare titanium."),
        constant("sn_slope", "1", c::SLOPE, Assumed, "Of flange and hub, without a knee."),
        constant("strength_scatter", "1", c::STRENGTH_SCATTER, Assumed, "Coefficient of variation; times the slope it spreads ln(life)."),
        constant("rough_depth", "m", c::ROUGH_DEPTH_M, Assumed, "To which roughness lowers strength."),
        constant("rz_per_ra", "1", c::RZ_PER_RA, Memory, "Turned or ground."),
        constant("retained_residual", "1", c::RETAINED, Assumed, "Share of residual stress that stays."),
        constant("galling_hazard", "m2/J", c::GALLING_M2_J, Assumed, "Hazard for each unit of friction work over area, at the place with the most: about 2 % over 24 events of a bare titanium taper on the default duty."),
        constant("retainer_ln_sd", "1", c::RETAINER_LN_SD, Assumed, "Spread of ln(wear) between retainers; stays when the rate is known."),
        constant("jump", "m", c::JUMP_M, CommonPractice, "Sink in one event that is no wear but float or a wrong angle."),
        constant("steel_modulus", "Pa", steel.modulus_pa, Memory, "Also of keepers and stem."),
        constant("steel_tensile", "Pa", steel.tensile_pa, Memory, ""),
        constant("steel_yield", "Pa", steel.yield_pa, Memory, ""),
        constant("steel_strength", "Pa", steel.strength_pa, Memory, "Fully reversed amplitude for 1e7 cycles, polished."),
        constant("titanium_modulus", "Pa", titanium.modulus_pa, Memory, ""),
        constant("titanium_tensile", "Pa", titanium.tensile_pa, Memory, ""),
        constant("titanium_yield", "Pa", titanium.yield_pa, Memory, ""),
        constant("titanium_strength", "Pa", titanium.strength_pa, Memory, "Fully reversed amplitude for 1e7 cycles, polished."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "C. A. de Coulomb: friction; statics of the wedge (textbook)",
        "G. Lamé and B. Clapeyron 1833: thick-walled rings (textbook)",
        "S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, chapter 3: annular plates (from memory; its table read as printed in Mechanical Engineer's Data Handbook, page 55)",
        "bar on a friction foundation: shear lag with Coulomb's friction (textbook)",
        "A. E. Giannakopoulos, T. C. Lindley and S. Suresh, Acta Mater. 46 (1998) 2955: ends of a contact as cracks; D. S. Dugdale 1960: the strip that slides (from memory)",
        "S. Timoshenko, Strength of Materials II: roll of rings (from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "R. E. Peterson's charts of shoulders in the power fits of R. L. Norton, Machine Design: stress concentration",
        "J. Goodman: mean stress; A. Palmgren, M. A. Miner: damage sum; H. Tresca: yield (from memory)",
        "FKM guideline: roughness factor (from memory), taken for titanium too",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "a difference of the two cones' angles: a taper that bears at one end wears until it fits, many times faster than computed",
        "bending of the hub's section (it rolls as it is); rocking of the retainer under an end coil that loads it unevenly",
        "free keepers are taken not to be bent by the stem at all, so they hardly fret; what their turning wears is not counted",
        "turning of spring, retainer and valve; keepers that walk in their groove; wear of the keepers' bore and of the groove, closing of the keepers' end gap",
        "the seat load that sink and spring loss take away: forces are those of the spring as built",
        "a taper driven on by a hard landing holds better afterwards: each speed is taken as if it had always run; a hub that yields in part",
        "free flight of a retainer that comes off its taper, and the plastic seating of the next landing",
        "fretting fatigue: a fretted edge starts cracks at a lower stress; unevenness of the ring load; corrosion",
        "stem waves finer than one mass on the seat's stiffness: peaks of hard landings are smoothed, at low speed also by the half degree of cam between instants",
        "nested springs and dampers, wear of the spring's own end; strain-rate and heat on strength",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
        "a coating's end is taken at the median rate in every drawn life",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A retainer or keeper that lets go drops the valve and takes the engine: any crack, ridge, chipped corner or closed end gap means replacement, whatever is computed.",
        "Sink that comes in jumps, more than 0.05 mm in one event, is float or a wrong angle: stop and find out.",
        "Keepers and retainer are matched by angle and groove: never mix angles. New keepers with every set of titanium valves (common practice, no source: 10 to 12 events).",
        "The retainer maker's limits and the class's rules on materials and coatings come first.",
        "Springs are loaded while they are changed: use a proper compressor and eye protection; licensed practice comes first.",
    ])
}
