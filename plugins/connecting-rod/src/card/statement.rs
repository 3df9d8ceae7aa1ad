//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "One steel connecting rod. Gas and inertia forces over the engine cycle give the stress at three sites (fillet of the small-end eye, \
big-end shoulder, corner of the bolt spot face), with bending by the rod's own transverse inertia. Each cycle is rainflow-counted; its equivalent amplitude is \
compared over depth with a strength that roughness, inclusions and retained residual stress shift. Damage adds up by Miner's rule at the surface and below it; \
the first of both to reach 1 is the life of half the rods.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("strength", "Pa", c::STRENGTH_PA, Calibrated, "Default of strength_pa: B10 of the default duty is 27.5 events, the middle of a policy of 25 to 30 (common practice, no source)."),
        constant("knee_cycles", "1", c::KNEE_CYCLES, Memory, "Cycles at which the strength is given; the slope is the same above and below."),
        constant("rz_per_ra", "1", c::RZ_PER_RA, Assumed, "Profile height over mean roughness, 4 to 7 for machined and peened surfaces."),
        constant("roughness_slope", "1", 0.22, Memory, "FKM guideline, steel: strength falls by 0.22 lg(Rz/um) lg(2 Rm/400 MPa)."),
        constant("mean_stress_sensitivity", "1", 0.302_5, Memory, "0.35e-3 Rm/MPa - 0.1 at the default steel (FKM guideline): weight of residual stress."),
        constant("retained_first", "1", c::RELAXATION.first, Assumed, "Residual stress left after the first load."),
        constant("relaxation_per_decade", "1", c::RELAXATION.per_decade, Assumed, "Share lost with each tenfold of cycles."),
        constant("relaxation_reference", "1", c::RELAXATION.reference_cycles, Assumed, "Cycles at which the loss sets in."),
        constant("retained_least", "1", c::RELAXATION.least, Assumed, "Share that stays."),
        constant("deepest", "m", c::DEEPEST_M, Assumed, "Depth to which the start of a crack is looked for."),
        constant("density", "kg/m3", c::DENSITY_KG_M3, Memory, "Steel."),
        constant("knock_rise", "1", c::KNOCK_RISE, Assumed, "Rise of peak pressure for each unit of knock level, in every cycle of the operating point."),
        constant("knock_most", "1", c::KNOCK_MOST, Assumed, "Largest multiplier of peak pressure by knock."),
        constant("site_correlation", "1", c::SITE_CORRELATION, Assumed, "Share of the variance of ln(damage) common to the sites of a rod."),
        constant("margin_ln_sd", "1", c::MARGIN_LN_SD, Assumed, "Spread of the buckling margin."),
        constant("stress_ln_sd", "1", c::STRESS_LN_SD, Assumed, "Spread of a computed local stress."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "ASTM E1049-85 (2017): rainflow count; here of a cycle that repeats",
        "R. N. Smith, P. Watson and T. H. Topper, J. Mater. 5 (1970) 767: mean stress",
        "A. Palmgren 1924, M. A. Miner 1945: damage sum",
        "FKM guideline, analytical strength assessment: roughness, mean-stress sensitivity (from memory)",
        "H. Neuber 1946; Shigley's Mechanical Engineering Design, 9th edition, eq. 6-35a: notch sensitivity",
        "Y. Murakami, Metal Fatigue: strength left by inclusions (from memory)",
        "S. Kodama 1972: relaxation of residual stress by cycles (form; constants assumed)",
        "J. B. Johnson's parabola and Euler: buckling",
        "SAE J442, J443, AMS 2430: peening intensity and coverage; ISO 9934, ASTM E1444: magnetic-particle testing",
        "G. Woschni, SAE 670931; I. Wiebe 1970; S. K. Chen and P. F. Flynn, SAE 650733: cylinder pressure and friction (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "one rod: of a set of n, each with risk p, one fails with probability 1 - (1 - p)^n",
        "the bolts and the joint: preload, opening, bolt fatigue are their own component",
        "growth of a crack: life ends where one starts; a crack found ends it whatever is computed",
        "local yielding by an over-rev, which changes residual stress; relaxation follows cycles, not stress or heat",
        "out-of-plane bending, bending by an offset or seized pin, torsional vibration, press fit of the bush, clamping by the bolts",
        "axial inertia spread along the beam: the rod is two masses, the beam a uniform bar in bending",
        "fretting at cap face and bores, corrosion, nicks and bruises",
        "growth of bend, length and bore out of round: the readings are the build values; measure",
        "liquid in the cylinder, a dropped valve, a seized bearing: they break or bend any rod",
        "an over-rev counts at its peak speed, all its cycles, in addition to its time at the operating points",
        "knock raises every cycle of an operating point alike; single detonations are not seen",
        "damage below the surface takes the worst depth of each load cycle: it is on the safe side by the shift of that depth with load",
        "rods of aluminium, titanium, or powder metal",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A rod that breaks comes through the block: oil, fire, parts on the track. The rod maker's speed and cycle limits and the class's rules come before any figure here.",
        "A crack indication ends the rod's life whatever is computed. A clean crack check lowers the risk; it does not give life back.",
        "A rod of unknown history, or from an engine that seized a bearing or took in water or fuel, is scrap.",
        "Never peen bores, cap faces, spot faces or threads. Machining after peening removes its effect.",
        "Crack checks by certified inspectors (ISO 9712 or equal).",
    ])
}
