//! Constants, references, what is left out, cautions.

use ringland_engine::valvetrain::FLOAT_LOFT_M;
use ringland_mechanics::spring::wire::TORSIONAL_SHARE;
use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "A matched set of valve springs, one for each valve. The motion of the train, converged over turns of the cam, gives the force in the coil at \
five stations along the spring with its surge. Stress cycles are rainflow-counted and compared over depth with the strength of the wire, which roughness, hardness, inclusions and residual stress \
shift; damage adds up by Miner's rule. The weakest spring of the set ends its life. The wire also relaxes, by stress, time and the temperature to which surge and friction heat it; the seat load \
that is lost, with what retainer and valve let the spring stand taller, goes back into the motion.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    vec![
        constant("strength", "Pa", c::STRENGTH_PA, Calibrated, "Default of strength_pa: B10 life of a set of 16 springs, peened in the conventional way, is 4 default events (common practice, no source)."),
        constant("knee_cycles", "1", c::KNEE_CYCLES, Memory, "Cycles at which strengths are given; the slope is the same above and below."),
        constant("torsional_share", "1", TORSIONAL_SHARE, Memory, "Ultimate strength in torsion over tensile strength (Shigley, 9th edition, eq. 10-30). With the strength it gives Goodman's slope."),
        constant("residual_stress_sensitivity", "1", 0.713_0, Memory, "2/sqrt(3) of M = 0.35e-3 Rm/MPa - 0.1 (FKM guideline), at the default wire: the weight of residual stress, alike in both directions, in torsion (sum of mean normal stresses, G. Sines)."),
        constant("reference_roughness", "m", c::REFERENCE_RA_M, Assumed, "Ra of drawn wire, for which the strength is given."),
        constant("rz_per_ra", "1", c::RZ_PER_RA, Assumed, "Profile height over mean roughness."),
        constant("torsion_roughness_share", "1", c::TORSION_ROUGHNESS_SHARE, Memory, "Share of the loss by roughness that counts in torsion (FKM guideline)."),
        constant("roughness_slope", "1", 0.22, Memory, "FKM guideline, steel: strength falls by 0.22 lg(Rz/um) lg(2 Rm/400 MPa)."),
        constant("torsion_inclusion_share", "1", c::TORSION_INCLUSION_SHARE, Memory, "Torsional over axial strength of metal with a small inclusion (M. Endo and Y. Murakami 1987)."),
        constant("retained", "1", c::RETAINED, Assumed, "Share of the residual stress that setting and the first million cycles leave."),
        constant("deepest_share", "1", c::DEEPEST_SHARE, Assumed, "Depth to which the start of a crack is looked for, over the wire diameter."),
        constant("relaxation_test_time", "s", c::RELAXATION_TEST_S, Memory, "48 h: the test that relaxation_fraction is of."),
        constant("relaxation_test_temp", "K", c::RELAXATION_TEST_K, Memory, "120 degC: likewise."),
        constant("relaxation_test_stress", "Pa", c::RELAXATION_TEST_PA, Memory, "1000 MPa: likewise."),
        constant("least_clearance", "m", c::LEAST_CLEARANCE_M, CommonPractice, "Clearance of all coils together at full lift below which check warns."),
        constant("float_loft_m", "m", FLOAT_LOFT_M, Assumed, "Gap between valve and cam, while the cam holds the valve open, from which on the valve counts as floating: less is vibration of the train."),
        constant("murakami_ratio_exponent", "1", 0.2872, Memory, "0.226 + HV/10000 at the default hardness: what the stress ratio takes of the strength at an inclusion."),
        constant("stress_ln_sd", "1", c::STRESS_LN_SD, Assumed, "Spread of a computed stress."),
        constant("heat_ln_sd", "1", c::HEAT_LN_SD, Assumed, "Spread of a computed rise of temperature."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "EN 13906-1: rate, stress correction (M. Bergstraesser), relaxation; EN 10270-2: valve-spring wire (from memory)",
        "A. M. Wahl, Mechanical Springs: curvature, surge as a wave between the ends",
        "F. P. Zimmerli 1957; Shigley's Mechanical Engineering Design, 9th edition, chapter 10: endurance of springs, Goodman's line in torsion",
        "ASTM E1049-85 (2017): rainflow count; here of a turn that repeats",
        "A. Palmgren 1924, M. A. Miner 1945: damage sum",
        "Y. Murakami, Metal Fatigue: strength left by inclusions; strength and hardness (from memory)",
        "FKM guideline: roughness, mean-stress sensitivity (from memory); G. Sines 1955: mean normal stresses",
        "ISO 26909, ISO 22705: terms and tests of springs; SAE HS-795, SAE J157: springs and chromium-silicon wire (from memory)",
        "SAE J442, J443, AMS 2430: peening intensity and coverage",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "contact between coils: where they meet, it takes energy out of the surge; here the surge grows on, and a note says so",
        "nested springs share load and damp each other: here one spring carries all, inner springs are a set of their own; conical and beehive coils, oval wire",
        "end coils that lie on and lift off as the spring closes: rate and stress are those of the active coils",
        "surface flaws deeper than the roughness, corrosion, nicks from the fitting tool: a marked spring is scrap",
        "residual stress that relaxes further with cycles and heat: a fixed share is retained",
        "heat with the engine stopped (oil soak), springs hotter at the exhaust valves than at the intake",
        "wear of a damper coil and of the seat, which let damping fall",
        "further sink of the retainer and recession of the valve during the events ahead: they stay as they are in the record or at the forecast",
        "engine torque, which is asked for as every engine part does: gas force on the valve head is not counted",
        "growth of a crack: life ends where one starts",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A spring that breaks drops its valve and can destroy the engine: change sets by risk, not at the break. The spring maker's limits and the class's rules come first.",
        "Life goes up and down with engine speed: a limiter moved by 200 1/min can halve it. Know the resonances before a gear ratio or a limiter is chosen.",
        "Change the whole set when one spring breaks or is marked. A clean look or ring test does not give life back.",
        "Compressed springs store energy: use a compressor that cannot slip, and eye protection.",
        "Damage is of a median single spring: 1 is the life of half of them. A set of sixteen has lost one far sooner; read the set's risk.",
        "Seat loads of different testers differ by 2 to 3 %: measure always on the same one.",
    ])
}
