//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;
use crate::material::{CARBON, Materials, ORGANIC, SINTERED};

pub(super) const DESCRIPTION: &str = "Dry clutch of one to four discs. The heat of each launch and engagement is solved through the whole stack of plates, linings and cores over \
time; hot bands take more than the mean. Linings wear by heat and temperature, run in, and glaze; plates that are hotter on one face yield and relax while they are held flat and come out coned; hot bands held by \
the plate around them check and crack in strain cycling; the diaphragm's load follows the wear; splines fret on a shaft that is off the engine's axis. One engagement starts from the heat that the last one left.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    let mut constants = vec![
        constant("wear", "m2/N", c::WEAR_M2_N, Calibrated, "Default of the friction face: 0.50 mm of stack in 16 events of the default duty (common practice, no source). At a friction of 0.30 it is a volume of 37 mm3/MJ, cold."),
        constant("seating", "J/m2", c::SEATING_J_M2, Assumed, "Heat over area in which the excess wear of new linings falls to 1/e."),
        constant("glazing_activation", "K", c::GLAZING_K, Assumed, "110 kJ/mol over the gas constant."),
        constant("glazing_time", "s", c::GLAZING_S, Assumed, "At the lining's glazing temperature, for a dose of 1."),
        constant("glazed_slope", "s/m", c::GLAZED_SLOPE_S_M, Assumed, "What full glazing adds to the slope of friction."),
        constant("relaxation_rate", "1/s", c::RELAXATION_PER_S, Memory, "Of peened, quenched and tempered steel (O. Vöhringer and V. Schulze)."),
        constant("relaxation_activation", "eV", c::RELAXATION_EV, Memory, "Of the same."),
        constant("relaxation_exponent", "1", c::RELAXATION_EXPONENT, Memory, "Of the same, over time."),
        constant("relaxation_share", "1", c::RELAXATION_SHARE, Calibrated, "Share of that, in the logarithm, by which the stress of an engagement relaxes in one sense: bands move from launch to launch, and stress of heat relaxes less than that of peening. The floaters' cone reaches its limit after some 20 events of the default duty, and the first of wear and cone comes after 13 (common practice, no source: 12 to 16)."),
        constant("hot_life", "1", c::HOT_LIFE, Memory, "S. S. Manson: a tenth of the cycles of the cold curve."),
        constant("craze", "m", c::CRAZE_M, Assumed, "First craze, from which checks grow in proportion to their length."),
        constant("cooling_speed", "rad/s", c::COOLING_AT_RAD_S, Assumed, "At which the heat transfer is stated."),
        constant("cooling_exponent", "1", c::COOLING_EXPONENT, Memory, "Laminar flow at a rotating disc."),
        constant("sliding_per_offset", "1", c::SLIDING_PER_OFFSET, Memory, "Geometry: to and fro over the diameter of the circle, once a turn."),
        constant("spline_wear", "m2/N", c::SPLINE_WEAR_M2_N, Assumed, "Hardened steel, dry."),
        constant("energy_ln_sd", "1", c::ENERGY_LN_SD, CommonPractice, "Spread of ln(energy) as logged."),
        constant("set_ln_sd", "1", c::SET_LN_SD, Assumed, "Spread of ln(set) by yield strength and energy."),
        constant("crack_ln_sd", "1", c::CRACK_LN_SD, Assumed, "Spread of ln(life) at a known strain."),
        constant("spline_ln_sd", "1", c::SPLINE_LN_SD, Assumed, "Spread of ln(wear) between discs."),
        constant("transforms", "K", c::TRANSFORMS_K, Memory, "Carbon steel turns to austenite."),
    ];
    for (name, option) in [("sintered", SINTERED), ("organic", ORGANIC), ("carbon", CARBON)] {
        constants.extend(lining(name, option));
    }
    constants.extend(steel());
    constants
}

#[rustfmt::skip]
fn lining(name: &str, option: u32) -> Vec<Constant> {
    use Basis::{Assumed, Memory};
    let lining = Materials::of(option).lining;
    let [(from_k, _), (middle_k, middle), (hot_k, hot)] = lining.wear_by_k;
    let entry = |what: &str, unit, value, basis, note: &str| constant(&format!("{name}_{what}"), unit, value, basis, note);
    vec![
        entry("conductivity", "W/(m.K)", lining.thermal.conductivity_w_m_k, Memory, "Through the thickness, hot."),
        entry("density", "kg/m3", lining.thermal.density_kg_m3, Memory, ""),
        entry("heat_capacity", "J/(kg.K)", lining.thermal.heat_capacity_j_kg_k, Memory, "Mean of what a clutch sees."),
        entry("wear_cold_to", "K", from_k, Assumed, "Up to here it wears as when cold."),
        entry("wear_warm_at", "K", middle_k, Assumed, "Straight from there to here."),
        entry("wear_warm", "1", middle, Assumed, "Wear over that when cold, here."),
        entry("wear_hot_at", "K", hot_k, Assumed, "Straight to here, and on by the same slope."),
        entry("wear_hot", "1", hot, Assumed, "Wear over that when cold, here."),
        entry("glazes_at", "K", lining.glazes_k, Assumed, "Temperature of the glazing time."),
        entry("glazing_loss", "1", lining.glazing_loss, Assumed, "Share of the friction that full glazing takes."),
    ]
}

#[rustfmt::skip]
fn steel() -> Vec<Constant> {
    use Basis::Memory;
    let plate = Materials::of(SINTERED).plate;
    let mut constants = vec![
        constant("steel_conductivity", "W/(m.K)", plate.thermal.conductivity_w_m_k, Memory, "Quenched and tempered medium-carbon steel, hot."),
        constant("steel_heat_capacity", "J/(kg.K)", plate.thermal.heat_capacity_j_kg_k, Memory, "Mean of 20 to 450 degC."),
        constant("steel_density", "kg/m3", plate.thermal.density_kg_m3, Memory, ""),
        constant("steel_modulus", "Pa", plate.modulus_pa, Memory, "Hot."),
        constant("steel_expansion", "1/K", plate.expansion_per_k, Memory, ""),
        constant("steel_fatigue_strength", "Pa", plate.strain_life.strength_coefficient_pa, Memory, "Coefficient of the strain-life curve; exponent -0.09."),
        constant("steel_fatigue_ductility", "1", plate.strain_life.ductility_coefficient, Memory, "Coefficient of the strain-life curve; exponent -0.6."),
    ];
    let yields = plate.yield_by_k.iter();
    constants.extend(yields.map(|(k, pa)| constant(&format!("steel_yield_{k:.0}_k"), "Pa", *pa, Memory, "Straight between temperatures.")));
    constants
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "torque of annular faces by uniform wear and uniform pressure (textbook; VDI 2241 in outline, from memory)",
        "H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids: half-space under a flux (from memory)",
        "R. Alexander, SIAM J. Numer. Anal. 14 (1977) 1006: two-stage diagonally implicit rule (from memory)",
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "S. A. Arrhenius: rate of glazing over temperature (textbook)",
        "Zener, Wert and Avrami's law of relaxation with the constants of O. Vöhringer and V. Schulze for peened steel (from memory)",
        "J. O. Almen and A. László, Trans. ASME 58 (1936) 305: load of a coned disc (from memory)",
        "elastic-plastic bending of a rectangular section and its springback (textbook)",
        "S. S. Manson, Thermal Stress and Low-Cycle Fatigue: strain of a held surface, a tenth of the life in heat (from memory)",
        "O. H. Basquin, L. F. Coffin, S. S. Manson: strain-life curve; B. Tomkins 1968: growth in proportion to length (from memory)",
        "A. Palmgren, M. A. Miner: damage sum",
        "stick-slip of two inertias by a falling friction, criterion of E. J. Routh and A. Hurwitz (textbook)",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "properties do not change with temperature: steel takes up more heat above 500 degC than is taken, so the hottest temperatures come out high",
        "heat that leaves while the clutch slips; heat from one ring of the face to another; contact resistance; edges and lugs as places that take up heat",
        "how hot bands form and move (thermoelastic instability): their factor is an input",
        "martensite of bands beyond 1000 K: told in a note, not counted in the cracks",
        "stress of a plate by its own rotation, and by a ring that is hotter than its rim; buckling into a potato-chip shape",
        "the set of the flywheel's face (bolted); wear of plates; linings that get thinner hold less heat",
        "sets of the engagements of a record are spread evenly over it; those of its first large one may come sooner",
        "judder by pressure that pulses, by further modes of the driveline, or at less than the full clamp load",
        "fade: friction that is lost while hot and comes back",
        "glazing after the slip has ended, and its being worn off; oil or dust on the faces",
        "relaxation and fatigue of the diaphragm, fatigue of lugs, drive-plate holes and straps, the release bearing",
        "slip in a closed clutch under too much torque: only engagements of the log make heat",
        "an error of the logged energies that all launches share: 1 % of heat is some 2.5 % of wear and 5.6 % of set about the default launch",
        "heat left by the last record: a record starts with a stack as warm as its housing",
        "splines slide by the offset alone, not by the engine's torsional vibration",
        "loss of a coating on the splines is taken at the median rate in every drawn life",
        "the loads and heat of gear shifts with the clutch, unless they are logged as engagements",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "A plate that bursts comes through the housing: never reuse a floater, pressure plate or flywheel with a crack, whatever is computed. The class's rules on scatter shields come first.",
        "Clutch dust is harmful: do not blow it out; use extraction and a mask, and treat unknown linings as if they held asbestos.",
        "The clutch maker's limits for stack, plates and fingers' height come first.",
        "Blue or banded plates, paint beyond its limit or a smell of lining end an event's clutch until every plate has been looked at and measured.",
        "A clutch that slips at full torque in a high gear overheats within seconds: stop.",
        "The clutch stores spring energy: slacken the cover evenly, with the proper tool.",
    ])
}
