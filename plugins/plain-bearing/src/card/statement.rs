//! Constants, references, what is left out, cautions.

use ringland_mechanics::journal::FOAM_RESISTANCE;
use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;

pub(super) const DESCRIPTION: &str = "Both shells of a big end or main bearing and their journal. The film is solved in two dimensions over the bearing's own \
width (Reynolds equation, rotation and squeeze) and the journal followed over the load cycle with asperity contact (Greenwood-Tripp), for a \
grid of speed, load, viscosity and filling of the gap. Film temperature balances losses against oil flow. Wear is Archard's on the asperity \
pressure at the worst place of each shell; overlays fatigue by specific load; boundary heat warns of seizure.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    vec![
        constant("wear_coefficient", "m2/N", super::WEAR_COEFFICIENT_M2_N, Calibrated, "Default of shell and overlay: bare shells of the default engine reach their wear limit after 7 events of 170 min (common practice, no source: 6 to 8)."),
        constant("fatigue_exponent", "1", c::FATIGUE_EXPONENT, Memory, "N = 1e7 (strength/load)^9."),
        constant("fatigue_cycles", "1", c::FATIGUE_CYCLES, Memory, "Cycles at the rated strength."),
        constant("fatigue_slope", "1/K", c::FATIGUE_SLOPE_PER_K, Memory, "Strength lost for each kelvin over 100 degC."),
        constant("strength_ln_sd", "1", c::STRENGTH_LN_SD, Assumed, "Scatter of fatigue strength between shells."),
        constant("flooding", "Pa.s", c::FLOODING_PA_S, CommonPractice, "Gallery pressure for each rad/s at which the gap is full: 10 psi for 1000 1/min."),
        constant("least_layer", "1", c::LEAST_LAYER, Assumed, "Oil left in the gap without pressure, in radial clearances."),
        constant("foam_resistance", "1", FOAM_RESISTANCE, Assumed, "Share of its resistance that a gap without oil keeps; lets the journal cross it in finite time."),
        constant("oil_density", "kg/m3", c::OIL_DENSITY_KG_M3, Memory, "Hot."),
        constant("oil_heat", "J/(kg.K)", c::OIL_HEAT_J_KG_K, Memory, "Hot."),
        constant("wall_heat", "W/(m2.K)", c::WALL_HEAT_W_M2_K, Assumed, "Heat that housing and journal take, for each area of film and kelvin over the oil."),
        constant("knock_rise", "1", c::KNOCK_RISE, Assumed, "Rise of peak pressure for each unit of knock level."),
        constant("main_share", "1", c::MAIN_SHARE, Assumed, "Share of a neighbouring throw's load that a main bearing takes."),
        constant("bearing_ln_sd", "1", c::BEARING_LN_SD, Assumed, "Spread between bearings of one crank."),
        constant("wear_correlation", "1", c::WEAR_CORRELATION, Assumed, "Between wear, clearance and boundary heat."),
        constant("fatigue_correlation", "1", c::FATIGUE_CORRELATION, Assumed, "Between fatigue and the others."),
        constant("caution_pressure", "Pa", c::CAUTION_PRESSURE_PA, CommonPractice, "Below it, for longer than caution_time and above caution_speed: pull a rod cap."),
        constant("caution_time", "s", c::CAUTION_S, CommonPractice, ""),
        constant("caution_speed", "rad/s", c::CAUTION_SPEED_RAD_S, CommonPractice, "5000 1/min."),
        constant("chen_flynn_constant", "Pa", 13_700.0, Memory, "Engine friction, SAE 650733; turns torque into indicated pressure."),
        constant("chen_flynn_peak", "1", 0.005, Memory, "Of peak pressure."),
        constant("chen_flynn_speed", "Pa.s/m", 16_200.0, Memory, "Of mean piston speed."),
    ]
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "O. Reynolds 1886; two-dimensional, Reynolds condition at rupture as a complementarity problem (D. G. Christopherson, Proc. Inst. Mech. Eng. 146 (1941) 126)",
        "A. A. Raimondi and J. Boyd, Trans. ASLE 1 (1958) 159: steady bearings (table from memory)",
        "J. F. Booker, J. Basic Eng. 87 (1965) 537: mobility (from memory)",
        "J. A. Greenwood and J. H. Tripp, Proc. Inst. Mech. Eng. 185 (1970-71) 625: asperity contact (constants from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "ISO 7902 (hydrodynamic bearings: heat balance), ISO 7146 (damage terms), ISO 4378 (terms); from memory",
        "S. K. Chen and P. F. Flynn, SAE 650733: engine friction (from memory)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "bending, ovality and expansion of rod, housing and crank; misalignment; crush: shells and journal are round, rigid and parallel, so the film of a real, softer bearing differs and the wear coefficient carries the difference",
        "conservation of mass where the film is ruptured: the gap is full, or full up to the thickness that the gallery pressure gives; it fills and empties at once",
        "oil holes and grooves: enter the width that runs; flow of the feed itself",
        "viscosity within the film: pressure thickens it, shear thins it; both are left out and work against each other",
        "roughness in the flow of the film; wear and bedding in of the shape of the bore: wear never opens the film nor thins it",
        "wear of the journal (the crankshaft's model); debris but for the multiplier that the duty brings; corrosion; cavitation erosion",
        "main bearing: bending of the crank, which is cut at its mains, and differences between mains; throws other than the two neighbours",
        "a coating changes wear coefficient, friction and roughness; its softness in asperity contact is not modelled, nor loss by peeling",
        "an over-rev or a dip counts at its own speed and pressure in addition to its time at the operating points; a dip has the load of the operating point nearest in speed",
        "starts: all of the cranking is on what clings to the walls; run-down after switching off is left out",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "Oil pressure below 2 bar for more than 1 s above 5000 1/min: pull a rod cap before the engine runs again, whatever any number here says.",
        "Metal in the filter, copper visible across a shell, or any crack or flake of the overlay ends the shells' life whatever is computed.",
        "A bearing that seizes can break a rod and lock the driven wheels at speed.",
        "The class's rules and the bearing maker's limits on clearance, load and coating come before any figure here.",
    ])
}
