//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "One poppet valve, intake or exhaust. Its motion with the spring's surge gives landings on the seat, bounces and float; the engine \
cycle gives gas pressure and heat. A heat balance of two nodes gives the head's temperature by exhaust gas, coolant and seat. Seats wear by impact and \
sliding, stems on the guide's contact law, grooves fatigue by waves of the landing on the preload of the spring, heads by gas pressure with thermal stress and by creep \
(Larson-Miller).";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, Memory};
    vec![
        constant("seat_wear", "m2/N", c::SEAT_WEAR_M2_N, Calibrated, "Default of seat_face.wear_coefficient_m2_n: the default exhaust valve sinks 6.2 um in an event of 170 min, 0.12 mm after 19 (common practice, no source)."),
        constant("stem_wear", "m2/N", c::STEM_WEAR_M2_N, Assumed, "Default of stem.wear_coefficient_m2_n: as that of the guide's bore, which is calibrated there."),
        constant("impact_wear", "1", c::IMPACT_SHARE, Memory, "Worn volume times hardness over energy: 5.3e-14 m3/J at 4 GPa; linear in energy."),
        constant("knee_cycles", "1", c::KNEE_CYCLES, Memory, "Cycles at which fatigue strengths are given."),
        constant("strength_quantile", "1", c::Z90, Assumed, "The materials' fatigue strengths are taken as those nine of ten valves survive; the median is higher by the scatter."),
        constant("rz_per_ra", "1", c::RZ_PER_RA, Assumed, "Profile height over mean roughness."),
        constant("reference_ra", "m", c::REFERENCE_RA_M, Assumed, "Roughness at which the materials' strengths hold."),
        constant("roughness_slope", "1", 0.22, Memory, "FKM guideline, steel, used for all materials: strength falls by 0.22 lg(Rz/um) lg(2 Rm/400 MPa)."),
        constant("retained_stress", "1", c::RETAINED, Assumed, "Share of residual stress at the groove that stays over life."),
        constant("groove_radius", "m", crate::spec::GROOVE_RADIUS_M, Assumed, "At the root of the groove: notch sensitivity after Neuber (steel, used for all) and stress gradient."),
        constant("groove_temperature", "K", c::GROOVE_K, Assumed, ""),
        constant("seat_heat", "W/(m2.K)", c::SEAT_W_M2_K, Assumed, "Rim through seat and insert to the coolant, valve closed. Chosen within the usual range (3 to 10 thousand, from memory) with an exhaust head of 700 to 800 degC at 900 degC of exhaust in view (common practice, no source)."),
        constant("exhaust_port_heat", "W/(m2.K)", c::EXHAUST_W_M2_K, Assumed, "Port gas to an exhaust head at full load and rated speed; goes with flow to the power 0.8."),
        constant("intake_port_heat", "W/(m2.K)", c::INTAKE_W_M2_K, Assumed, "The same for an intake head."),
        constant("guide_heat", "W/(m2.K)", c::GUIDE_W_M2_K, Assumed, "Stem to guide."),
        constant("charge_temperature", "K", c::CHARGE_K, Assumed, "In the intake port."),
        constant("idle_flow", "1", c::IDLE_FLOW, Assumed, "Flow through the port without load over that at full load."),
        constant("exchange_speed", "1", crate::gas::EXCHANGE_SPEED, Memory, "Gas speed over piston speed while gas is exchanged (Woschni)."),
        constant("blowdown_exponent", "1", crate::gas::BLOWDOWN, Memory, "Temperature over pressure as burned gas leaves: (gamma - 1)/gamma at 1.3. Only in its heat-transfer coefficient; its temperature is the logged one."),
        constant("motored_exponent", "1", crate::gas::MOTORED, Memory, "Of the motored pressure (Woschni)."),
        constant("knock_rise", "1", c::KNOCK_RISE, Assumed, "Rise of peak pressure for each unit of knock level, in every cycle of the operating point."),
        constant("knock_most", "1", c::KNOCK_MOST, Assumed, "Largest multiplier of peak pressure by knock."),
        constant("oil_loss_from", "K", c::OIL_LOSS_K.0, Assumed, "Stem temperature from which oil is lost."),
        constant("oil_dry_from", "K", c::OIL_LOSS_K.1, Assumed, "Stem temperature at which none is left."),
        constant("correlation", "1", c::CORRELATION, Assumed, "Share of the variance of ln(rate) common to the mechanisms of a valve."),
        constant("head_temperature_sd", "K", c::HEAD_SD_K, Assumed, "Spread of the computed head temperature."),
        constant("larson_miller_nickel", "1", 34.5, Memory, "P = 34.5 - 4.7 lg(stress/MPa), C = 20, in 1000 K and h."),
        constant("larson_miller_austenitic", "1", 33.95, Basis::Published, "P = 33.95 - 5.41 lg(stress/MPa): fitted to the creep strengths of EN 10090 for 1.4870 at 1000 h, 215, 115 and 50 MPa at 650, 725 and 800 degC, as reproduced on a public page; the standard itself was not seen."),
        constant("larson_miller_martensitic", "1", 29.4, Memory, "P = 29.4 - 5.1 lg(stress/MPa)."),
        constant("larson_miller_titanium", "1", 32.75, Memory, "P = 32.75 - 5.5 lg(stress/MPa), approximate."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "R. Lewis and R. S. Dwyer-Joyce, Automotive Engine Valve Recession, Professional Engineering Publishing 2002 (form of the law; title, contents and abstracts of its papers seen)",
        "F. R. Larson and J. Miller, Trans. ASME 74 (1952) 765; E. L. Robinson, Trans. ASME 60 (1938) 253: creep rupture and life fraction",
        "EN 10090:1998, valve steels and alloys: hot and creep strengths of 1.4870 as reproduced on a public page; of other grades from memory",
        "E. T. Vitcha, ASTM STP 520 (1973) 231, abstract: best of seven exhaust-valve alloys 45 ksi (310 MPa) at 1e8 cycles and 760 degC; as-forged surface 24 % lower",
        "GB/T 12773-2021 as reproduced on a public page: hot strengths of 45Cr9Si3",
        "S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells; S. Timoshenko and J. N. Goodier, Theory of Elasticity (from memory, checked against their equations)",
        "B. de Saint-Venant 1867: waves in a bar that is stopped",
        "ASTM E1049-85 (2017): rainflow count; J. Goodman: mean stress; A. Palmgren 1924, M. A. Miner 1945: damage sum",
        "FKM guideline: roughness (from memory); H. Neuber: notch sensitivity (Shigley's Mechanical Engineering Design, 9th edition, eq. 6-35a)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "G. Woschni, SAE 670931; I. Wiebe 1970; S. K. Chen and P. F. Flynn, SAE 650733: cylinder pressure, heat transfer and friction (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "one valve: of n valves, each with risk p, one fails with probability 1 - (1 - p)^n",
        "wear of tip and lash cap, and of the cam: lash here changes by recession alone",
        "guttering and burning of a leaking seat, deposits, corrosion and oxidation, sodium filling",
        "cupping (tulip): creep ends life by rupture, its strain is not followed; measure it, 0.05 mm is the usual limit",
        "cycles of thermal stress by warming up, laps and cut-offs: thermal stress is a steady part of the mean; unsteady temperatures within a lap are those of the logged exhaust temperature",
        "interaction of creep and fatigue beyond the sum of both",
        "bending of the stem by a head that lands on one side first, by a worn guide or an eccentric seat; ringing of the stem after its first swing",
        "gas force on the valve while open; contact with the piston",
        "loss of seat load by the spring's own ageing and by this valve's recession: only the retainer's sink is read, at the start of each record",
        "the wear of a coated stem after its coating is gone; the chance that a coating peels (about one in a hundred by common practice, no source)",
        "change of hardness and seat width with heat and wear",
        "an over-rev counts at its peak speed, all its cycles, in addition to its time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A valve that drops wrecks piston, head and often the block. The valve maker's hours and speeds and the class's rules come before any figure here.",
        "After float or contact with a piston replace the whole set, keepers too, whatever is computed: a bent stem breaks later.",
        "A mark in a keeper groove that a nail can feel, a crack indication, a cupped or bent head end the valve's life.",
        "Sodium-filled valves burn and explode when opened: dispose of them as their maker says.",
        "Titanium valves need their coating: grind, lap or polish neither stem nor tip. Titanium dust burns.",
    ])
}
