//! Inputs: numbers of the spec, choices, surfaces. The defaults are two 3/8-24 bolts for each rod of an invented 2.0 l turbocharged
//! in-line four.

use ringland_plugin::{ChoiceField, NumberField, SurfaceField, choice, number, surface};

const ASSUMED: &str = "Assumed.";
const COMMON: &str = "Common practice, no source.";

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = ringland_engine::numbers();
    numbers.extend([
        number("bolts_per_rod", "bolts of one rod", "1", (2.0, 4.0), 2.0, "They share the load evenly."),
        number("cap_mass_kg", "mass of the rod's cap", "kg", (0.02, 3.0), 0.14, "Cap, its bearing half and what of the bolts is below the split, weighed. The rest of the big end's share is above it."),
        number("thread_diameter_m", "thread: nominal diameter", "m", (6.0e-3, 16.0e-3), 9.525e-3, "3/8 in."),
        number("thread_pitch_m", "thread: pitch", "m", (0.5e-3, 2.0e-3), 1.0583e-3, "24 threads to the inch."),
        number("shank_diameter_m", "shank: diameter", "m", (4.0e-3, 18.0e-3), 9.525e-3, "At its thinnest, when waisted."),
        number("shank_length_m", "shank: length within the grip", "m", (1.0e-3, 0.1), 30.0e-3, "Grip is shank and free thread."),
        number("free_thread_m", "free thread within the grip", "m", (1.0e-3, 0.05), 10.0e-3, ASSUMED),
        number("bearing_diameter_m", "head: outer diameter of the bearing face", "m", (8.0e-3, 0.04), 14.5e-3, ASSUMED),
        number("hole_diameter_m", "bolt hole: diameter", "m", (6.0e-3, 0.02), 9.8e-3, ASSUMED),
        number("boss_diameter_m", "rod and cap: diameter of metal around the bolt", "m", (9.0e-3, 0.1), 19.0e-3, "Limits the cone of pressure. Default assumed."),
        number("load_introduction", "where the load enters the clamped length: 1 at its ends, 0 at the split", "1", (0.1, 1.0), 0.7, "n of VDI 2230. Assumed; with the compliances it makes the load factor 0.15."),
        number("load_offset_m", "offset of the load's line inside of the bolt's", "m", (0.0, 0.02), 5.0e-3, "Prying: 1 + offset/edge = 1.6. Default assumed."),
        number("edge_distance_m", "bolt to the outer edge of the joint face", "m", (3.0e-3, 0.03), 8.3e-3, "The lever's fulcrum. Default assumed."),
        number("bolt_modulus_pa", "bolt: modulus of elasticity", "Pa", (0.9e11, 2.3e11), 2.06e11, "Steel, from memory."),
        number("rod_modulus_pa", "rod: modulus of elasticity", "Pa", (0.6e11, 2.3e11), 2.06e11, "Steel 2.06e11, titanium 1.1e11, aluminium 0.7e11, from memory."),
        number("bolt_expansion_per_k", "bolt: thermal expansion", "1/K", (5.0e-6, 3.0e-5), 1.2e-5, "Steel, from memory."),
        number("rod_expansion_per_k", "rod: thermal expansion", "1/K", (5.0e-6, 3.0e-5), 1.2e-5, "Steel 1.2e-5, titanium 0.9e-5, aluminium 2.3e-5, from memory."),
        number("assembly_temp_k", "temperature at assembly", "K", (260.0, 330.0), 293.15, ""),
        number("yield_strength_pa", "bolt: yield strength, 0.2 %", "Pa", (0.6e9, 2.2e9), 1.38e9, "The bolt maker's."),
        number("tensile_strength_pa", "bolt: tensile strength", "Pa", (0.7e9, 2.4e9), 1.52e9, "The bolt maker's."),
        number("tightening_stretch_m", "stretch at tightening", "m", (0.02e-3, 0.8e-3), 0.19e-3, "Tightened length less free length, stretch gauge: head and engaged thread take part. The bolt maker's stretch comes first. Default: 52 kN."),
        number("tightening_torque_n_m", "torque at tightening", "N.m", (5.0, 300.0), 75.0, "Read when the bolts are tightened by torque."),
        number("specified_friction", "friction for which the torque was given", "1", (0.03, 0.4), 0.11, "The lubricant of the torque specification. Another one, or a coating, makes the torque invalid."),
        number("embedding_m", "embedding of thread, head and split, in all", "m", (0.0, 3.0e-5), 6.0e-6, "VDI 2230, from memory: 3 to 10 um."),
        number("stretch_ln_sd", "spread of preload when tightened by stretch", "1", (0.005, 0.3), 0.04, "Standard deviation of ln(preload) between bolts. 3 to 5 %, from memory."),
        number("torque_ln_sd", "spread of preload when tightened by torque", "1", (0.02, 0.5), 0.13, "25 to 30 % at two standard deviations, from memory. The spread of the surfaces' friction adds to it."),
        number("tightenings_per_build", "tightenings of one build", "1", (1.0, 10.0), 3.0, "Bearing clearance, sizing, final. Common practice, no source."),
        number("tightening_interval_s", "running time between builds", "s", (600.0, 3.6e6), 61_200.0, "Freshening every 6 events of 170 min."),
        number("redline_rad_s", "redline", "rad/s", (200.0, 2200.0), 880.0, "Limiter of the engine."),
        number("limit_permanent_stretch_m", "limit: permanent stretch", "m", (2.0e-6, 5.0e-4), 25.0e-6, "0.025 mm (0.001 in); look closer from half of it. Common practice, no source."),
        number("limit_tightenings", "limit: tightenings", "1", (1.0, 100.0), 6.0, "5 to 8. Common practice, no source."),
        number("limit_over_redline", "limit: highest speed over redline", "1", (1.0, 1.5), 1.10, COMMON),
    ]);
    numbers
}

#[rustfmt::skip]
pub(super) fn choices() -> Vec<ChoiceField> {
    vec![
        choice("tightening", "tightened by", &[("stretch", "measured stretch"), ("torque", "torque")], 0, "Stretch measures the preload itself; torque measures mostly friction."),
        choice("rolling", "thread rolled", &[("after", "after heat treatment"), ("before", "before heat treatment")], 0, "The bolt maker's process. Not a treatment of a finished bolt."),
    ]
}

pub(super) fn surfaces() -> Vec<SurfaceField> {
    vec![
        face(
            "thread",
            "thread",
            "Rolled. Not to be peened, coated or superfinished.",
        ),
        face(
            "bearing_face",
            "bearing face under the head",
            "With the lubricant used.",
        ),
    ]
}

#[rustfmt::skip]
fn face(name: &str, label: &str, note: &str) -> SurfaceField {
    let properties = vec![
        number("boundary_friction", "friction coefficient while tightened", "1", (0.03, 0.4), 0.11, "With the lubricant used; 0.08 to 0.16, from memory."),
        number("coating_thickness_m", "thickness of a coating", "m", (0.0, 5.0e-5), 0.0, "0 for none."),
    ];
    surface(name, label, properties, false, note)
}
