//! Inputs: numbers of the spec, choices, and properties of the surfaces.

use ringland_engine::valvetrain;
use ringland_plugin::{ChoiceField, NumberField, SurfaceField, choice, number, surface};

use crate::constants::{SEAT_WEAR_M2_N, STEM_WEAR_M2_N};
use crate::material::{OPTIONS, option};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = ringland_engine::numbers();
    numbers.extend(valvetrain::numbers());
    numbers.extend(ringland_engine::oil_numbers());
    numbers.extend([
        number("stem_diameter_m", "stem diameter", "m", (4.0e-3, 1.2e-2), 6.0e-3, "Micrometer, +-1.5 um."),
        number("stem_length_m", "stem from head to keeper groove", "m", (0.04, 0.2), 0.09, "Calliper."),
        number("valve_mass_kg", "mass of the valve", "kg", (0.01, 0.2), 0.045, "Weighed. Part of moving_mass_kg."),
        number("retained_mass_kg", "mass at the tip: retainer, keepers, moving share of the spring", "kg", (5.0e-3, 0.15), 0.035, "Weighed; a third of the spring's active coils."),
        number("seat_radius_m", "mean radius of the seat", "m", (8.0e-3, 3.0e-2), 14.5e-3, "Blueing and calliper."),
        number("seat_width_m", "width of the seat along its face", "m", (0.5e-3, 4.0e-3), 1.2e-3, "Blueing, +-0.1 mm. Narrow seats run hot and sink faster."),
        number("seat_angle_rad", "angle of the seat to the plane of the head", "rad", (0.3, 1.0), std::f64::consts::FRAC_PI_4, "45 deg is usual, 30 deg for intake, 50 to 55 deg for flow."),
        number("head_thickness_m", "thickness of the head as a plate", "m", (1.5e-3, 1.0e-2), 4.0e-3, "Half way between rim and neck; not the margin. Larger heads are thicker: about 5.5 mm at a seat of 34 mm. Default assumed."),
        number("neck_radius_m", "radius at which the head grows into the neck", "m", (2.0e-3, 1.2e-2), 5.0e-3, "Where the fillet begins. Default assumed."),
        number("rim_stiffness_n_m", "stiffness of seat and rim under a landing", "N/m", (2.0e7, 2.0e9), 1.5e8, "Assumed."),
        number("groove_area_m2", "net section at the keeper groove", "m2", (5.0e-6, 8.0e-5), 19.6e-6, "Diameter at the groove's bottom: 5.0 mm."),
        number("groove_notch_factor", "stress concentration of the groove", "1", (1.0, 6.0), 3.0, "2 to 4 by its radius (from memory)."),
        number("neck_notch_factor", "stress concentration of the fillet under the head", "1", (1.0, 3.0), 1.2, "Assumed."),
        number("strength_scatter", "standard deviation of ln(strength) from valve to valve", "1", (0.01, 0.2), 0.08, "From memory."),
        number("slope", "slope of the S-N lines", "1", (3.0, 15.0), 10.0, "From memory; the same below the knee."),
        number("guide_length_m", "guide length", "m", (0.02, 0.1), 0.040, "As on the card of the guide."),
        number("tip_overhang_m", "valve tip above the guide's top, valve closed", "m", (5.0e-3, 0.1), 0.032, "Calliper. Default assumed."),
        number("bearing_length_m", "length that bears at each end of the guide", "m", (1.0e-3, 0.03), 8.0e-3, "From the wear pattern. Default assumed."),
        number("port_length_m", "stem between the head's neck and the guide's bottom, valve closed", "m", (5.0e-3, 0.08), 0.025, "Default assumed."),
        number("guide_rq_m", "roughness Rq of the guide's bore", "m", (0.005e-6, 3.0e-6), 0.30e-6, "As on the card of the guide. Default assumed."),
        number("seal_lip_gradient_pa_m", "steepest pressure rise under the lip of the stem seal", "Pa/m", (1.0e8, 1.0e14), 1.0e11, "Sets the oil left on the stem: 1e11 a metering seal, 5e10 one that is fitted rich. Assumed."),
        number("build_margin_m", "margin of the head as built", "m", (0.3e-3, 5.0e-3), 1.5e-3, "Calliper."),
        number("recut_stock_m", "margin lost when seat and face are cut", "m", (0.0, 1.0e-3), 0.1e-3, "Measured. Default assumed."),
        number("full_load_exhaust_temp_k", "exhaust gas at full load", "K", (500.0, 1500.0), 1173.0, "900 degC. Reference for the head's temperature reading."),
        number("limit_recession_m", "limit: recession", "m", (2.0e-5, 1.0e-3), 0.12e-3, "0.10 to 0.15 mm, common practice, no source."),
        number("limit_lash_m", "limit: least lash", "m", (0.0, 5.0e-4), 0.08e-3, "Assumed: what closes the valve when hot."),
        number("limit_stem_loss_m", "limit: loss of the stem's diameter", "m", (5.0e-6, 2.0e-4), 22.0e-6, "0.020 to 0.025 mm, common practice, no source."),
        number("limit_margin_m", "limit: least margin", "m", (0.2e-3, 3.0e-3), 1.0e-3, "1.0 mm exhaust, 0.8 mm intake, common practice, no source."),
        number("limit_run_s", "limit: time on the valve", "s", (3.6e3, 3.6e7), 1.8e6, "The valve maker's. Titanium valves are often held to 10 to 12 h, common practice, no source; sodium-filled ones to their maker's hours."),
        number("fuel_cooling_w", "heat that fuel takes off the back of the head at full load and rated speed", "W", (0.0, 500.0), 0.0, "Port injection on to an intake valve: of the order of 100 W. 0 for an exhaust valve and for direct injection. Assumed."),
    ]);
    numbers
}

pub(super) fn choices() -> Vec<ChoiceField> {
    vec![
        valvetrain::follower(),
        choice(
            "port",
            "port",
            &[("intake", "intake"), ("exhaust", "exhaust")],
            1,
            "Decides what gas washes the back of the head.",
        ),
        choice(
            "material",
            "material",
            &OPTIONS,
            option::NICKEL,
            "Strengths over temperature: see README.",
        ),
    ]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let stem = vec![
        number("wear_coefficient_m2_n", "specific wear coefficient of the stem", "m2/N", (1.0e-19, 1.0e-12), STEM_WEAR_M2_N, "Assumed equal to that of the guide's bore. The coating's while there is one."),
        number("rq_m", "roughness Rq of the stem", "m", (0.005e-6, 3.0e-6), 0.12e-6, "Ground to Ra 0.1 um. Default assumed."),
        number("coating_thickness_m", "thickness of a hard coating", "m", (0.0, 3.0e-5), 0.0, "Of titanium stems: CrN, diamond-like carbon or nitride, 2 to 6 um. 0 for none."),
    ];
    let seat = vec![
        number("hardness_pa", "hardness of the softer face, hot", "Pa", (5.0e8, 1.5e10), 4.0e9, "Impact wear goes with its inverse."),
        number("wear_coefficient_m2_n", "specific wear coefficient in sliding under the gas load", "m2/N", (1.0e-18, 1.0e-11), SEAT_WEAR_M2_N, "Calibrated, see constants. Valve and seat together."),
    ];
    let groove = vec![number("ra_m", "roughness Ra of the groove", "m", (0.02e-6, 1.0e-5), 0.8e-6, "Stylus or replica.")];
    let neck = vec![number("ra_m", "roughness Ra of the fillet under the head", "m", (0.02e-6, 2.0e-5), 0.8e-6, "Stylus.")];
    vec![
        surface("stem", "stem", stem, false, "Ground; hard chromium or nitride on steel."),
        surface("seat_face", "seat and valve face", seat, false, "Valve without hard facing on an iron-base insert."),
        surface("groove", "keeper groove", groove, true, "Turned or ground. Residual stress where peened."),
        surface("neck", "fillet under the head", neck, false, "Residual stress does not outlast its heat."),
    ]
}
