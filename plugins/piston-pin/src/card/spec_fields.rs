//! Inputs: numbers of the spec and properties of the surfaces. The engine's fields are shared with other components.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants as c;

const ASSUMED: &str = "Default assumed.";

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut fields = ringland_engine::numbers();
    fields.extend(ringland_engine::oil_numbers());
    fields.extend([
        number("piston_and_pin_mass_kg", "mass of piston, rings and pin", "kg", (0.05, 4.5), 0.43, "Weighed: what presses on the bush."),
        number("pin_outer_m", "pin: outer diameter", "m", (0.010, 0.060), 0.022, "Micrometer, +-1 um."),
        number("pin_inner_m", "pin: inner diameter", "m", (0.001, 0.050), 0.012, ""),
        number("pin_length_m", "pin: length", "m", (0.02, 0.20), 0.056, ""),
        number("rod_width_m", "small end: width of the bush", "m", (0.008, 0.080), 0.021, ""),
        number("boss_length_m", "bearing length of one boss", "m", (0.005, 0.060), 0.0165, ""),
        number("bush_clearance_m", "bush to pin, on diameter, as built", "m", (2.0e-6, 60.0e-6), 12.0e-6, "Bore gauge less micrometer; 8 to 20 um usual."),
        number("oil_patch_m", "width of the patches of oil that the bush holds between pressings", "m", (0.05e-3, 0.080), 1.0e-3, "The starved share: the whole width when flooded. Assumed; wear follows it, the wear coefficient is fitted with it."),
        number("pin_modulus_pa", "pin: modulus of elasticity", "Pa", (0.8e11, 3.2e11), 2.05e11, "Steel, from memory."),
        number("bush_modulus_pa", "bush: modulus of elasticity", "Pa", (0.5e11, 2.2e11), 1.1e11, "Tin or aluminium bronze, from memory."),
        number("pin_strength_pa", "pin: fully reversed stress amplitude for 1e7 cycles", "Pa", (1.0e8, 1.5e9), 5.5e8, "Case-hardened steel. Default assumed."),
        number("pin_slope", "pin: slope of the S-N line", "1", (3.0, 20.0), 9.0, ASSUMED),
        number("pin_tensile_pa", "pin: tensile strength", "Pa", (0.5e9, 3.0e9), 1.8e9, "At the surface, by hardness. Default assumed."),
        number("limit_bush_clearance_m", "limit: bush clearance", "m", (5.0e-6, 200.0e-6), 30.0e-6, "0.030 to 0.035 mm (0.0012 to 0.0014 in), common practice, no source."),
        number("limit_pin_wear_m", "limit: wear step of the pin, on diameter", "m", (0.5e-6, 50.0e-6), 5.0e-6, "Common practice, no source. A coating that is thinner sets it."),
        number("limit_scuff_w_m2", "limit: friction power over area, before a pin scuffs", "W/m2", (1.0e6, 1.0e9), 1.2e7, "Friction coefficient times pressure on asperities times speed. Default assumed."),
    ]);
    fields
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let wear = |value, note| number("wear_coefficient_m2_n", "specific wear coefficient in this pair", "m2/N", (1.0e-20, 1.0e-12), value, note);
    let rq = |value, note| number("rq_m", "roughness Rq once run in", "m", (0.005e-6, 3.0e-6), value, note);
    vec![
        surface("pin", "outside of the pin", vec![
            rq(0.10e-6, "Ra 0.08 um; stylus +-10 %."),
            number("boundary_friction", "friction coefficient of asperity contact on the bush", "1", (0.005, 0.4), 0.12, "From memory."),
            wear(c::PIN_WEAR_M2_N, "Default assumed: a tenth of the bush's."),
            number("coating_thickness_m", "thickness of a hard coating", "m", (0.0, 20.0e-6), 0.0, "0 for none; 1.5 to 3.5 um usual."),
        ], true, "Ground and polished case-hardened steel unless changed. Residual stress at the surface shifts the mean stress of the pin."),
        surface("bush", "bore of the bush", vec![
            rq(0.25e-6, "Once run in, stylus +-10 %. Default assumed."),
            wear(c::BUSH_WEAR_M2_N, "Calibrated: 16.5 events of the default duty to the limit."),
            number("asperity_radius_m", "radius of asperity summits", "m", (1.0e-6, 1.0e-3), 40.0e-6, "Default assumed; density x radius x roughness is then 0.05."),
            number("asperity_density_per_m2", "density of asperity summits", "1/m2", (1.0e7, 1.0e13), 4.6e9, ASSUMED),
        ], false, "Bronze, honed to size."),
    ]
}
