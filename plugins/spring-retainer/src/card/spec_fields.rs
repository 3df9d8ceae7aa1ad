//! Inputs: numbers, choices and surfaces. The fields of the valve train are shared with other components.

use ringland_engine::valvetrain;
use ringland_plugin::{ChoiceField, NumberField, SurfaceField, choice, number, surface};

use crate::constants as c;
use crate::material;
use crate::spec::GRIPPING;

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut fields = valvetrain::numbers();
    fields.extend([
        number("retainer_mass_kg", "mass of the retainer, without keepers", "kg", (2.0e-3, 0.08), 0.012, "Weighed: what swings on the taper."),
        number("cone_half_angle_rad", "taper: half angle", "rad", (0.05, 0.3), 0.122, "7 deg. Of retainer and keepers alike: a difference is not modelled."),
        number("cone_mean_m", "taper: mean diameter", "m", (4.0e-3, 25.0e-3), 8.5e-3, "Measured over the keepers on a stem."),
        number("cone_length_m", "taper: length that bears", "m", (3.0e-3, 25.0e-3), 10.0e-3, "Along the axis, by blueing."),
        number("stem_m", "valve: stem diameter under the keepers", "m", (3.0e-3, 14.0e-3), 6.0e-3, "Micrometer."),
        number("tip_height_m", "valve: tip above the middle of the taper", "m", (2.0e-3, 40.0e-3), 10.0e-3, "Lever of the rocker's scrub."),
        number("hub_outer_m", "retainer: outer diameter of the hub", "m", (7.0e-3, 40.0e-3), 14.0e-3, "Where the flange leaves it; inside the spring."),
        number("flange_outer_m", "retainer: outer diameter of the flange", "m", (12.0e-3, 70.0e-3), 27.0e-3, ""),
        number("flange_m", "retainer: thickness of the flange", "m", (0.8e-3, 8.0e-3), 2.2e-3, "At the root, where it is thinnest."),
        number("flange_fillet_m", "retainer: fillet between hub and flange", "m", (0.02e-3, 2.4e-3), 0.6e-3, "Radius gauge or replica."),
        number("load_at", "taper: where the flange loads the hub", "1", (0.0, 1.0), 0.8, "Over the taper's length, 0 at its narrow end."),
        number("groove_at", "taper: where the groove holds the keepers", "1", (0.0, 1.0), 0.5, "Over the taper's length, 0 at its narrow end; the middle of several beads."),
        number("end_coil_turns", "spring: turns that lie on the flange", "1", (0.3, 1.5), 0.75, "The ground face of the end coil."),
        number("end_coil_face_m", "spring: width of the ground face", "m", (0.5e-3, 6.0e-3), 2.6e-3, ""),
        number("coil_clearance_m", "spring: clearance of all coils at full lift", "m", (0.0, 10.0e-3), 1.2e-3, "Length at full lift less solid length."),
        number("limit_sink_m", "limit: sink of the retainer on its keepers", "m", (0.02e-3, 2.0e-3), 0.25e-3, "0.010 in, common practice, no source."),
        number("limit_step_m", "limit: step worn by the spring", "m", (0.01e-3, 1.0e-3), 0.10e-3, "0.004 in, common practice, no source."),
    ]);
    fields
}

pub(super) fn choices() -> Vec<ChoiceField> {
    vec![
        valvetrain::follower(),
        choice(
            "material",
            "retainer",
            &[
                ("steel", "alloy steel, about 42 HRC"),
                ("titanium", "titanium alloy 6-4"),
            ],
            material::TITANIUM,
            "Sets stiffness, strength, and whether a bare taper galls. The wear coefficients are the surfaces': enter those of the material.",
        ),
        choice(
            "locks",
            "keepers",
            &[
                ("gripping", "halves that clamp the stem"),
                (
                    "free",
                    "halves that butt and hold by beads, valve free to turn",
                ),
            ],
            GRIPPING,
            "Clamped, stem and keepers are one core; free, the keepers alone are.",
        ),
    ]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let wear = |value, note| number("wear_coefficient_m2_n", "specific wear coefficient in this pair", "m2/N", (1.0e-19, 1.0e-10), value, note);
    let friction = |note| number("boundary_friction", "friction coefficient in this pair", "1", (0.02, 0.5), 0.12, note);
    let coating = || number("coating_thickness_m", "thickness of a hard coating", "m", (0.0, 50.0e-6), 0.0, "0 for none; 1.5 to 3.5 um usual. The wear coefficient is then the coating's; below it bare material wears.");
    vec![
        surface("taper", "taper of the retainer", vec![
            friction("Dry or oily metal, from memory 0.08 to 0.2. Decides whether the taper slides as a whole."),
            wear(c::TAPER_WEAR_M2_N, "Calibrated for bare titanium, with the keepers' share. About 0.6 of it for bare steel (assumed)."),
            coating(),
        ], false, "Bare titanium unless changed."),
        surface("keeper", "taper of the keepers", vec![
            wear(c::KEEPER_SHARE * c::TAPER_WEAR_M2_N, "Hardened steel; default a quarter of the retainer's (assumed)."),
        ], false, "Both halves."),
        surface("spring_seat", "flange where the spring stands", vec![
            friction("From memory."),
            wear(c::SEAT_WEAR_M2_N, "Calibrated for bare titanium. About 0.6 of it for bare steel (assumed)."),
            coating(),
        ], false, "Bare titanium unless changed."),
        surface("body", "fillet of the flange and bore of the hub", vec![
            number("ra_m", "roughness Ra", "m", (0.02e-6, 6.0e-6), 0.8e-6, "Stylus +-10 %. Turned."),
        ], true, "Residual stress shifts the mean stress where a crack starts."),
    ]
}
