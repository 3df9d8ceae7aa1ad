//! Inputs: numbers of the spec and properties of the surfaces.

use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants::{TRACK_WEAR_M2_N, WINDOW_WEAR_M2_N};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    vec![
        number("torque_share", "share of the axle torque that this joint takes", "1", (0.3, 1.0), 0.5, "0.5 with an open differential; up to b/(1 + b) at the better gripping wheel with a bias ratio b."),
        number("balls", "balls, one to a track", "1", (4.0, 10.0), 6.0, "Counted: 6 or 8 (common practice, no source)."),
        number("ball_m", "diameter of the balls", "m", (0.010, 0.035), 0.019, "Micrometer. Default assumed."),
        number("pitch_radius_m", "distance of the balls from the joint's centre", "m", (0.015, 0.07), 0.032, "The joint maker's drawing. Default assumed."),
        number("offset_m", "distance of the tracks' centres from the joint's centre", "m", (0.001, 0.012), 0.0035, "The joint maker's drawing; about 0.1 of the pitch radius (assumed)."),
        number("pressure_angle_rad", "pressure angle of the tracks", "rad", (0.52, 0.87), 0.698, "40 degrees, 35 to 45 (from memory)."),
        number("conformity", "radius of the track's section over that of the ball", "1", (1.005, 1.12), 1.02, "Profile of a track and a ball. Default assumed."),
        number("capacity_n_m", "dynamic torque capacity of the straight joint", "N.m", (100.0, 4000.0), 560.0, "The joint maker's figure M_d of the rating formula; 12 % uncertain. Default from memory, not verified."),
        number("heat_transfer_w_k", "heat to the air for each kelvin of the joint's surface above it", "W/K", (0.5, 15.0), 4.0, "A surface temperature over known running. Default: a cylinder of 0.1 m by 0.1 m across air of 35 m/s (Hilpert, from memory) and nothing else; 2 to 3 W/K behind a shield (assumed)."),
        number("oil_40c_m2_s", "viscosity of the grease's base oil at 40 degC", "m2/s", (2.0e-5, 1.0e-3), 1.5e-4, "The grease maker's sheet (ISO 3104). Default assumed."),
        number("oil_100c_m2_s", "the same at 100 degC", "m2/s", (3.0e-6, 1.0e-4), 1.45e-5, "As above."),
        number("grease_life_s", "life of the grease at 90 degC", "s", (3.6e4, 3.6e7), 1.44e6, "400 h: assumed. Halves for each 12.5 K more (10 to 15 K: common practice, no source)."),
        number("grease_limit_k", "highest temperature that the grease stands", "K", (363.15, 473.15), 413.15, "The grease maker's sheet; 140 degC assumed."),
        number("window_contact_m2", "area on which a ball has worn itself into its window", "m2", (1.0e-6, 1.0e-4), 1.2e-5, "Length and width of the mark in a used window. Default assumed."),
        number("build_play_m", "radial play as built", "m", (0.0, 1.0e-4), 2.0e-5, "Dial indicator. Default assumed."),
        number("limit_play_m", "limit of radial play", "m", (3.0e-5, 1.0e-3), 1.2e-4, "0.1 mm more than built: common practice, no source."),
        number("limit_window_m", "limit of the windows' wear", "m", (2.0e-5, 1.0e-3), 1.5e-4, "0.15 mm: common practice, no source."),
        number("limit_surface_k", "limit of the surface temperature", "K", (353.15, 453.15), 393.15, "120 degC: common practice, no source."),
    ]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let roughness = |ra_m| number("ra_m", "roughness Ra", "m", (0.01e-6, 3.2e-6), ra_m, "Stylus, +-10 % (ISO 21920-2). Default assumed.");
    let hardness = |pa| number("hardness_pa", "hardness", "Pa", (3.0e9, 3.0e10), pa, "HV times 9.81e6 Pa; of the steel, not of a coating on it. Default from memory.");
    let wear = |m2_n, note| number("wear_coefficient_m2_n", "wear coefficient", "m2/N", (1.0e-20, 1.0e-14), m2_n, note);
    let friction = |of| number("boundary_friction", "friction of asperity contact", "1", (0.02, 0.3), of, "Greased steel 0.05 to 0.12. Default assumed.");
    let track_note = "Calibrated: 1.5 um of wear of both tracks together in the default event (common practice, no source). Let measured play correct it.";
    let track = vec![roughness(0.4e-6), hardness(7.2e9), friction(0.07), wear(TRACK_WEAR_M2_N, track_note)];
    let ball = vec![roughness(0.05e-6), hardness(8.0e9), wear(0.2 * TRACK_WEAR_M2_N, "A fifth of the tracks': assumed.")];
    let window = vec![friction(0.07), wear(WINDOW_WEAR_M2_N, "Assumed.")];
    vec![
        surface("track", "tracks of outer and inner member", track, false, "Ground case. Never peen them."),
        surface("ball", "balls", ball, false, "As delivered."),
        surface("window", "windows of the cage", window, false, "Ground or hard-turned case."),
    ]
}
