//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "All rod bolts of one engine. The load on the joint of rod and cap follows from gas and inertia over crank angle; the bolt's \
share of it from the joint diagram, with prying, embedding, heat, opening and yielding. Cycles at the right preload are harmless: the question is whether the bolts \
got their preload and keep it, so the spread of preload between the bolts of the set is carried through to lives and risk.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, CommonPractice, Memory};
    vec![
        constant("endurance_at_any_diameter", "Pa", 0.85 * 45.0e6, Memory, "Endurance amplitude 0.85 (150 mm/d + 45) N/mm2 on the core area: VDI 2230."),
        constant("endurance_knee", "1", 2.0e6, Memory, "Cycles at the endurance limit: VDI 2230. Exponent above it 3, or 6 when rolled last; below it, once damaged, 2 k - 1 (Haibach)."),
        constant("strength_ln_sd", "1", c::STRENGTH_LN_SD, Memory, "Spread of the endurance limit between bolts."),
        constant("line_z", "1", c::LINE_Z, Assumed, "The endurance line is that of the weakest tenth of bolts."),
        constant("load_ln_sd", "1", 0.1, Assumed, "Prior spread of the rate of opening: load, prying and load factor. Of fatigue 0.3, which is 5 % of stress to the sixth power; of stretch 0.3."),
        constant("uniform_strain", "1", c::UNIFORM_STRAIN, Assumed, "Plastic strain of the yielding length at tensile strength; hardening is a straight line up to there."),
        constant("half_angle", "rad", std::f64::consts::FRAC_PI_6, Memory, "Of the cones of pressure in the members: 30 deg."),
        constant("head_length", "1", 0.4, Memory, "Head as a length of nominal diameter, in diameters: VDI 2230. Engaged thread 0.5 on the core."),
        constant("most_tightening_use", "1", c::MOST_TIGHTENING_USE, Memory, "Of yield, with torsion, at tightening: VDI 2230."),
        constant("least_preload_use", "1", c::LEAST_PRELOAD_USE, CommonPractice, "Preload over yield load below which the reader is told; 0.6 to 0.75 is usual."),
        constant("friction_tolerance", "1", c::FRICTION_TOLERANCE, Assumed, "Departure of friction above which the torque is called invalid."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "VDI 2230 part 1: joint diagram, embedding, tightening, endurance of threads (from memory; the text was not at hand)",
        "R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, 9th edition, chapter 8: member stiffness, safety (read)",
        "ISO 68-1, ISO 724, ISO 898-1: thread dimensions, stress area (formulas from memory)",
        "ISO 16047: torque and preload (from memory)",
        "M. A. Miner, J. Appl. Mech. 12 (1945) A159; E. Haibach: slope below the limit (from memory)",
        "S. K. Chen and P. F. Flynn, SAE 650733: engine friction (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "bending of the bolt and the gradual lift of the joint face from its inner edge: the pull acts as one prying load until the face opens as a whole",
        "elasticity of the cap: the lever of prying is that of stiff members; pressure of the pin across the rod",
        "torsion left from tightening; it lowers the yield load by some per cent until it settles",
        "loosening by sideways slip, thread gall, nicks, corrosion pits, hydrogen: look for them, no rate is modelled",
        "scatter of the endurance limit moves how fast damage grows, not whether a bolt is damaged at all",
        "scatter of yield strength; relaxation by heat (below 150 degC small for alloy steel)",
        "preload lost by heat is not taken off when yield is judged, stiffness does not change with temperature",
        "a bolt that was loose is taken to be as loose after it is tightened again; permanent stretch kept over a tightening is the median bolt's",
        "lives below 1e4 cycles: the finite-life line is carried on beyond where it is given",
        "cylinders are taken to be alike, bolts of one rod to share its load evenly; torsional vibration of the crank",
        "third and smaller cycles of the joint's load within an engine cycle",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "The bolt maker's stretch, lubricant and count of reuses overrule every figure here, and so do the class's rules.",
        "A bolt that drags in its thread, is nicked or pitted, has stretched for good beyond its limit, or has seen more than 10 % above redline is scrap whatever is computed.",
        "No surface treatment makes preload safer. A coating changes friction, so that a torque specification is invalid: tighten by stretch. Never peen or superfinish a thread.",
        "A rod that lets go breaks the engine open: oil and parts are thrown. Keep people out of the line of a running engine whose bolts are in doubt.",
    ])
}
