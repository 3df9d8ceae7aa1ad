//! Inputs: numbers of the spec, choices and properties of the surfaces. The valve train's fields are shared with its other parts.

use ringland_engine::valvetrain;
use ringland_plugin::{ChoiceField, NumberField, SurfaceField, choice, number, surface};

use crate::constants as c;
use crate::materials::{ALLOYS, STEMS};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut fields = valvetrain::numbers();
    fields.extend(ringland_engine::oil_numbers());
    fields.extend([
        number("stem_diameter_m", "stem diameter", "m", (0.004, 0.014), 0.006, "Micrometer, +-1.5 um."),
        number("clearance_m", "clearance of stem and guide, on diameter, cold, as built", "m", (8.0e-6, 150.0e-6), 50.0e-6, "Small-hole or air gauge less micrometer. Intake 0.020 to 0.050 mm (0.035 usual), exhaust 0.035 to 0.075 (0.050): common practice, no source; the maker's minimum rules."),
        number("guide_length_m", "guide: length that bears", "m", (0.02, 0.08), 0.040, ""),
        number("guide_outer_m", "guide: outside diameter", "m", (0.007, 0.025), 0.011, ""),
        number("boss_outer_m", "outside diameter of the boss that holds it", "m", (0.01, 0.06), 0.022, "Of a round boss as stiff as the head about the guide."),
        number("interference_m", "interference of guide and boss, on diameter, cold", "m", (0.0, 150.0e-6), 35.0e-6, "0.025 to 0.050 mm usual: common practice, no source."),
        number("tip_overhang_m", "valve tip above the guide's top, valve closed", "m", (0.01, 0.1), 0.032, "Depth gauge."),
        number("port_length_m", "stem between the head's neck and the guide's bottom, valve closed", "m", (0.005, 0.08), 0.025, ""),
        number("gauge_below_m", "where wobble is measured, below the guide's bottom, valve closed", "m", (0.0, 0.1), 0.030, "Dial gauge at the head. The lift of 10 mm adds to it."),
        number("neck_heat_share", "neck over coolant, over exhaust gas over coolant", "1", (0.0, 1.0), 0.80, "Of temperatures above the coolant's. Exhaust about 0.8, intake about 0.4. Assumed; measure with tempered test valves."),
        number("gas_heat_share", "gas about the stem over coolant, over exhaust gas over coolant", "1", (-0.2, 1.0), 0.85, "Mean over the cycle. Exhaust about 0.85, intake about 0. Assumed."),
        number("gas_w_m2_k", "heat transfer from port gas to stem at the limiter", "W/(m2.K)", (20.0, 3000.0), 230.0, "Mean over the cycle; goes with speed to the power 0.6. Default: a cylinder in a cross flow of 150 m/s for a third of the cycle, from memory."),
        number("stem_w_m_k", "conductivity of the stem", "W/(m.K)", (5.0, 300.0), 22.0, "Hot, from memory: austenitic 20 to 25, nickel alloy 18, martensitic 25, titanium alloy 9."),
        number("stem_expansion_per_k", "expansion of the stem", "1/K", (6.0e-6, 22.0e-6), 17.0e-6, "From memory: austenitic 17e-6, nickel alloy 14e-6, martensitic 12e-6, titanium alloy 9e-6."),
        number("full_load_exhaust_temp_k", "exhaust gas at full load", "K", (500.0, 1500.0), 1173.15, "For the check of the hot clearance and for readings at full load."),
        number("limit_clearance_m", "limit: clearance at either mouth", "m", (20.0e-6, 500.0e-6), 130.0e-6, "Exhaust 0.13 mm, intake 0.10: common practice, no source."),
        number("limit_wobble_m", "limit: wobble at 10 mm lift", "m", (50.0e-6, 1.5e-3), 250.0e-6, "0.25 mm: common practice, no source."),
        number("limit_hot_clearance_m", "least clearance when hot", "m", (0.0, 100.0e-6), 10.0e-6, "The maker's minimum rules. Default assumed."),
    ]);
    fields
}

/// Indices of the choices.
#[allow(missing_docs, reason = "named on the card")]
pub mod option {
    pub const ALLOY: usize = 1;
    pub const STEM: usize = 2;
    pub const SEAL: usize = 3;
    pub const COUNT: usize = 4;
}

pub(super) fn choices() -> Vec<ChoiceField> {
    let alloys = ALLOYS.map(|alloy| (alloy.name, alloy.label));
    let seals = [
        ("metering", "metering seal"),
        (
            "rich",
            "seal that lets pass much oil, or none on an oiled head",
        ),
        ("dry", "dry: no oil reaches the guide"),
    ];
    let pairs = "With the other of the pair it sets what the pair bears before it galls: common practice, no source, low confidence.";
    vec![
        valvetrain::follower(),
        choice("guide_alloy", "guide", &alloys, 0, pairs),
        choice("stem_surface", "stem surface", &STEMS, 0, pairs),
        choice(
            "oil_supply",
            "oil supply",
            &seals,
            0,
            "What the seal leaves on the stem.",
        ),
    ]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let rq = |value, note| number("rq_m", "roughness Rq once run in", "m", (0.005e-6, 3.0e-6), value, note);
    vec![
        surface("bore", "bore of the guide", vec![
            rq(0.30e-6, "Reamed or honed to Ra 0.4 um and run in. Default assumed."),
            number("hardness_pa", "hardness", "Pa", (0.3e9, 12.0e9), 2.0e9, "Aluminium bronze about 200 HV; compared with the wear coefficient only."),
            number("boundary_friction", "friction coefficient of asperity contact on the stem", "1", (0.01, 0.5), 0.12, "From memory; 0.2 to 0.3 dry."),
            number("wear_coefficient_m2_n", "specific wear coefficient in boundary contact on this stem", "m2/N", (1.0e-20, 1.0e-12), c::BORE_WEAR_M2_N, "Calibrated: see the constants. A bench coefficient (ASTM G99, G133) is no substitute."),
        ], false, "Turned to size after pressing."),
        surface("stem", "stem in the guide", vec![
            rq(0.12e-6, "Ground to Ra 0.1 um. Default assumed."),
        ], false, "Its own wear is the valve's."),
    ]
}
