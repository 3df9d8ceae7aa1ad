//! Inputs: numbers of the spec and properties of the surfaces. The engine's fields are shared with other components.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants as c;

const ASSUMED: &str = "Default assumed.";

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut fields = ringland_engine::numbers();
    fields.extend(ringland_engine::oil_numbers());
    fields.extend([
        number("piston_mass_kg", "mass of piston with rings, without pin", "kg", (0.05, 4.0), 0.31, "Weighed."),
        number("pin_diameter_m", "pin diameter", "m", (0.010, 0.060), 0.022, "Micrometer."),
        number("boss_length_m", "bearing length of one boss", "m", (0.005, 0.060), 0.0165, ""),
        number("boss_load_factor", "peak over mean bearing stress of the boss", "1", (1.0, 2.0), 1.15, "Textbook value, from memory: 1.1 to 1.4."),
        number("skirt_clearance_m", "skirt to bore, on diameter, bare metal, cold", "m", (0.02e-3, 0.3e-3), 0.085e-3, "Micrometer at the maker's gauge height, +-3 um. A coat narrows it by twice its thickness."),
        number("skirt_length_m", "length of a skirt face that carries", "m", (0.01, 0.15), 0.040, ASSUMED),
        number("skirt_width_m", "width of a skirt face that carries", "m", (0.01, 0.15), 0.045, ASSUMED),
        number("skirt_rise_m", "convergence of a skirt face with the bore over its length", "m", (1.0e-6, 100.0e-6), 20.0e-6, "Barrel and tilt as one incline. Default assumed."),
        number("skirt_oil_film_m", "oil that the bore brings to the skirt", "m", (0.2e-6, 50.0e-6), 2.0e-6, "What the oil ring leaves: the film is starved by it. Default assumed."),
        number("top_side_clearance_m", "top groove: side clearance of a new ring, as built", "m", (0.01e-3, 0.15e-3), 0.045e-3, "Feeler, +-0.01 mm."),
        number("second_side_clearance_m", "second groove: side clearance of a new ring, as built", "m", (0.01e-3, 0.15e-3), 0.040e-3, "Feeler, +-0.01 mm."),
        number("top_ring_mass_kg", "mass of the top ring", "kg", (0.5e-3, 0.1), 6.0e-3, "Weighed."),
        number("second_ring_mass_kg", "mass of the second ring", "kg", (0.5e-3, 0.1), 6.0e-3, "Weighed."),
        number("ring_thickness_m", "radial thickness of the rings", "m", (1.5e-3, 7.0e-3), 3.0e-3, "Micrometer."),
        number("second_land_share", "pressure between the rings over that above them, gauge", "1", (0.0, 0.9), 0.25, ASSUMED),
        number("third_land_share", "pressure under the second ring over that above the rings, gauge", "1", (0.0, 0.9), 0.05, ASSUMED),
        number("groove_base_k", "top groove without load at 6000 1/min, warm engine, without oil jets", "K", (370.0, 500.0), 423.15, "Templugs or thermal paint. Default assumed."),
        number("groove_rise_k_per_pa", "rise of groove temperature with brake mean effective pressure", "K/Pa", (0.2e-5, 8.0e-5), 2.6e-5, "2.6 K for each bar. Default assumed."),
        number("groove_rise_k_s_per_rad", "rise of groove temperature with speed", "K.s/rad", (0.0, 0.3), 0.0382, "4 K for each 1000 1/min. Default assumed."),
        number("jet_cooling_k", "fall of groove temperature by the oil jets", "K", (0.0, 40.0), 10.0, "0 without jets. Default assumed; 0 to 25."),
        number("second_groove_drop_k", "second groove cooler than the top one by", "K", (0.0, 80.0), 30.0, ASSUMED),
        number("activation_energy_j_mol", "activation energy of micro-welding", "J/mol", (0.5e5, 3.0e5), 1.5e5, "Default assumed; 1.0e5 to 2.0e5."),
        number("hardness_pa", "hardness of the alloy, new", "Pa", (0.6e9, 1.8e9), 1.255e9, "128 HB of a 2618-type alloy (1 HB is 9.807e6 Pa); portable tester +-4 HB."),
        number("soft_hardness_pa", "hardness of the alloy, fully softened", "Pa", (0.3e9, 0.9e9), 0.588e9, "60 HB. Default assumed."),
        number("ageing_parameter_k", "Larson-Miller parameter at which half of the gain in hardness is lost", "K", (8000.0, 14_000.0), 10_800.0, "T(20 + log10 t), kelvin and hours: 5 h at 250 degC. Default assumed."),
        number("boss_strength_pa", "boss: fully reversed stress amplitude for 1e7 cycles at 230 degC", "Pa", (10.0e6, 300.0e6), 87.0e6, "65 MPa pulsating. Default assumed."),
        number("boss_slope", "boss: slope of the S-N line", "1", (3.0, 20.0), 9.0, ASSUMED),
        number("boss_tensile_pa", "boss: tensile strength at 230 degC", "Pa", (80.0e6, 600.0e6), 260.0e6, ASSUMED),
        number("piston_modulus_pa", "piston: modulus of elasticity", "Pa", (0.4e11, 2.2e11), 0.71e11, "Aluminium, from memory."),
        number("bore_modulus_pa", "bore: modulus of elasticity", "Pa", (0.6e11, 2.4e11), 1.1e11, "Grey iron, from memory."),
        number("limit_side_clearance_m", "limit: side clearance of the top groove", "m", (0.02e-3, 0.5e-3), 0.10e-3, "0.10 mm (0.004 in), common practice, no source."),
        number("limit_skirt_loss_m", "limit: loss of skirt diameter", "m", (0.005e-3, 0.5e-3), 0.04e-3, "0.04 mm (0.0015 in), common practice, no source."),
        number("limit_hardness_loss_pa", "limit: loss of hardness", "Pa", (0.02e9, 0.8e9), 0.147e9, "15 HB, common practice, no source."),
        number("limit_pin_bore_m", "limit: growth of the pin bore", "m", (1.0e-6, 100.0e-6), 8.0e-6, "Common practice, no source."),
    ]);
    fields
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let wear = |value, note| number("wear_coefficient_m2_n", "specific wear coefficient", "m2/N", (1.0e-20, 1.0e-11), value, note);
    let rq = |value, note| number("rq_m", "roughness Rq once run in", "m", (0.01e-6, 10.0e-6), value, note);
    let friction = |value| number("boundary_friction", "friction coefficient of asperity contact", "1", (0.005, 0.4), value, "From memory.");
    vec![
        surface("top_groove", "flanks of the top groove", vec![
            wear(c::GROOVE_WEAR_M2_N, "At 220 degC. Calibrated: 16 events of the default duty to the limit."),
            number("rpk_m", "reduced peak height as machined", "m", (0.02e-6, 5.0e-6), 0.8e-6, "Stylus (ISO 21920-2). Fresh peaks weld most readily. Default assumed."),
            number("coating_thickness_m", "thickness of a layer that keeps ring and alloy apart", "m", (0.0, 50.0e-6), 0.0, "Anodised or coated flanks; 0 for none."),
        ], false, "Bare alloy unless changed."),
        surface("second_groove", "flanks of the second groove", vec![
            wear(c::GROOVE_WEAR_M2_N, "At 220 degC. Calibrated with the top groove's."),
        ], false, "Bare alloy unless changed."),
        surface("skirt", "skirt, metal", vec![
            rq(1.0e-6, "Turned profile once run in, stylus +-10 %. Default assumed."),
            friction(0.12),
            wear(1.0e-15, "Default assumed: some tenths of a micrometre over a life."),
            number("asperity_radius_m", "radius of asperity summits", "m", (1.0e-6, 1.0e-3), 40.0e-6, "Default assumed; density x radius x roughness is then 0.05."),
            number("asperity_density_per_m2", "density of asperity summits", "1/m2", (1.0e7, 1.0e13), 1.2e9, ASSUMED),
        ], false, "Turned alloy."),
        surface("skirt_coat", "dry-film coat of the skirt", vec![
            number("coating_thickness_m", "thickness on each face", "m", (0.0, 40.0e-6), 0.0, "0 for none. Once bedded in: 5 to 8 um less than as applied (common practice, no source)."),
            number("coating_modulus_pa", "elastic modulus of the coat", "Pa", (0.5e9, 1.0e11), 6.0e9, "Graphite or molybdenum disulfide in resin. Default assumed."),
            rq(1.0e-6, "Of the coat. Default assumed."),
            friction(0.08),
            wear(6.0e-16, "Default assumed: 0.6 of the metal's."),
        ], false, "None unless its thickness is above 0."),
        surface("bore", "cylinder bore under the skirt", vec![
            rq(0.29e-6, "Plateau, stylus +-10 %. Default assumed."),
        ], false, "As honed."),
        surface("pin_boss", "pin bores and bosses", vec![
            wear(c::PIN_BORE_WEAR_M2_N, "Calibrated: half of the limit over 16 events."),
        ], true, "Residual stress at the surface shifts the mean stress of the boss."),
    ]
}
