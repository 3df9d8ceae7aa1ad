//! Inputs: numbers, choices, the table of gears and surfaces.

use ringland_plugin::{
    ChoiceField, NumberField, SurfaceField, TableField, choice, number, surface, table,
};

use crate::constants as c;

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut fields = bearing("a", "bearing A");
    fields.extend(bearing("b", "bearing B"));
    fields.extend(shaft());
    fields.extend(loads());
    fields.extend([
        number("viscosity_40c_m2_s", "oil: kinematic viscosity at 40 degC", "m2/s", (10.0e-6, 2.0e-3), 60.0e-6, "Of the base oil, for grease. ISO 3448 grade or the oil's sheet."),
        number("viscosity_100c_m2_s", "oil: kinematic viscosity at 100 degC", "m2/s", (2.5e-6, 2.0e-4), 10.5e-6, "From the oil's sheet."),
        number("cleanliness_code", "oil: ISO 4406 number above 6 um", "1", (11.0, 23.0), 17.0, "The first of -/17/14, by particle counter. Grease: 13 high cleanliness, 15 normal, 17 slight to typical, 19 severe, 21 very severe contamination."),
        number("temp_rise_k", "bearing above its oil; a hub's above the air", "K", (0.0, 150.0), 5.0, "Probe or paint at the outer ring. Hubs with brakes beside them 60 to 120 K (common practice, no source)."),
        number("limiting_speed_rad_s", "limiting speed", "rad/s", (50.0, 5000.0), 952.0, "From the bearing's list. Steel cages about 0.5e6 mm/min over the pitch diameter (common practice, no source): 9090 1/min for 55 mm."),
        number("drag_friction", "friction of the set while it is turned by hand", "1", (0.001, 0.05), 0.01, "Turns preload into the drag that is measured. Lubricated tapers 0.005 to 0.02 (common practice, no source)."),
        number("limit_play_growth_m", "limit: growth of play", "m", (2.0e-6, 0.3e-3), 30.0e-6, "30 um, common practice, no source. Where half of a preload is gone before that, that is the limit."),
        number("limit_dent", "limit: depth of a dent over the element's diameter", "1", (1.0e-5, 1.0e-2), 1.0e-4, "1e-4 is the dent of the static rating (ISO 76)."),
    ]);
    fields
}

#[rustfmt::skip]
fn bearing(name: &str, label: &str) -> Vec<NumberField> {
    let entry = |field: &str, what: &str, unit: &str, range, default, note: &str| {
        number(&format!("{name}_{field}"), &format!("{label}: {what}"), unit, range, default, note)
    };
    vec![
        entry("rating_n", "dynamic load rating C", "N", (2.0e3, 5.0e5), 25.0e3, "From the bearing's list."),
        entry("static_rating_n", "static load rating C0", "N", (1.0e3, 8.0e5), 14.0e3, "From the bearing's list."),
        entry("fatigue_limit_n", "fatigue load limit Cu", "N", (20.0, 1.0e5), 0.7e3, "From the bearing's list; about C0/22 for balls, C0/8.2 for rollers (ISO 281 annex B, from memory)."),
        entry("pitch_m", "pitch diameter", "m", (0.015, 0.2), 0.055, "Mean of bore and outside if not known."),
        entry("element_m", "diameter of a ball or mean diameter of a roller", "m", (2.0e-3, 0.05), 11.1e-3, ""),
        entry("elements", "number of balls or rollers", "1", (5.0, 40.0), 9.0, "Counted."),
        entry("contact_angle_rad", "contact angle", "rad", (0.0, 0.78), 0.0, "0 for deep groove and cylindrical; angular contact balls 15 to 40 deg, tapers 10 to 30 deg."),
        entry("roller_length_m", "length on which a roller bears", "m", (2.0e-3, 0.08), 10.0e-3, "Not read for balls."),
    ]
}

#[rustfmt::skip]
fn shaft() -> Vec<NumberField> {
    vec![
        number("spread_m", "distance of the load centres of A and B", "m", (0.01, 0.6), 0.18, "Between pressure centres: contact lines of a pair move them out (O) or in (X)."),
        number("play_m", "play in service", "m", (-60.0e-6, 150.0e-6), 15.0e-6, "Radial internal clearance of a deep groove or cylindrical bearing; axial play of a set pair, negative for preload. Warm and fitted, not as bought."),
        number("pressure_angle_rad", "mesh: normal pressure angle", "rad", (0.25, 0.5), 0.349, "20 deg."),
        number("helix_angle_rad", "mesh: helix angle; of a pinion its spiral angle", "rad", (0.0, 0.9), 0.0, "0 straight cut; pinions 35 to 50 deg."),
        number("final_drive_ratio", "final drive: ratio", "1", (1.5, 8.0), 4.1, "Read for a wheel hub."),
        number("pinion_pitch_m", "pinion: mean pitch diameter", "m", (0.02, 0.15), 0.058, "At the middle of the face."),
        number("pinion_cone_rad", "pinion: pitch cone half angle", "rad", (0.05, 0.8), 0.27, ""),
        number("pinion_overhang_m", "pinion: middle of the face outside of A", "m", (-0.1, 0.15), 0.035, "Negative for a pinion between its bearings."),
    ]
}

#[rustfmt::skip]
fn loads() -> Vec<NumberField> {
    vec![
        number("wheel_load_n", "hub: load of the wheel at rest", "N", (200.0, 2.0e4), 2845.0, "Scales, with downforce at its mean."),
        number("lateral_transfer_kg", "hub: load gained by the outer wheel for each m/s2", "kg", (0.0, 2.0e3), 193.0, "Axle's share of mass times height of the centre of gravity over track."),
        number("tyre_radius_m", "hub: loaded radius of the tyre", "m", (0.2, 0.5), 0.31, ""),
        number("wheel_offset_m", "hub: middle of the tyre from A towards B", "m", (-0.2, 0.3), 0.03, "A is inboard and takes the thrust of the outer wheel."),
        number("impact_mass_kg", "mass that an impact throws on the set", "kg", (0.0, 1.0e3), 8.0, "Shaft with its gears; of a hub what the wheel carries, about its load over g."),
        number("full_torque_n_m", "highest engine torque", "N.m", (50.0, 5.0e3), 450.0, "Sets how far loads are solved."),
        number("grip_torque_n_m", "pinion: torque at which the tyres slip", "N.m", (50.0, 2.0e4), 870.0, "A pinion carries no more."),
    ]
}

pub(super) fn choices() -> Vec<ChoiceField> {
    vec![
        choice(
            "place",
            "place",
            &[
                ("input_shaft", "gearbox shaft at engine speed"),
                ("output_shaft", "gearbox shaft behind the gears"),
                ("pinion", "pinion of the final drive"),
                ("hub", "wheel hub"),
            ],
            0,
            "What loads the set, which oil it runs in, how fast it turns.",
        ),
        choice(
            "kind",
            "kind of both bearings",
            &[
                (
                    "deep_groove",
                    "deep groove balls, A holds the shaft axially",
                ),
                (
                    "angular_ball",
                    "angular contact balls, set against each other",
                ),
                ("taper", "tapered rollers, set against each other"),
                (
                    "cylindrical",
                    "cylindrical rollers, axial load held elsewhere",
                ),
            ],
            0,
            "",
        ),
        choice(
            "lubrication",
            "lubrication",
            &[
                ("online_filter", "circulating oil, filter in the line"),
                ("bath", "bath or splash"),
                ("grease", "grease"),
            ],
            0,
            "Sets how cleanliness counts; grease ages.",
        ),
    ]
}

#[rustfmt::skip]
pub(super) fn tables() -> Vec<TableField> {
    vec![table(
        "gears",
        "gears of the gearbox, first gear first",
        vec![
            number("ratio", "ratio", "1", (0.4, 6.0), 1.0, "Engine speed over that of the output shaft."),
            number("pitch_m", "pitch diameter of the driving gear", "m", (0.02, 0.2), 0.06, "On the shaft at engine speed."),
            number("position_m", "place from bearing A", "m", (-0.2, 0.6), 0.0, "Towards B; outside of the span allowed."),
        ],
        (1, 10),
        vec![
            vec![2.71, 2.06, 1.65, 1.36, 1.17, 1.00],
            vec![43.1e-3, 52.3e-3, 60.4e-3, 67.8e-3, 73.7e-3, 80.0e-3],
            vec![0.150, 0.125, 0.100, 0.075, 0.050, 0.025],
        ],
        "Ratios are read for every place but the shaft at engine speed; diameters and places for shafts of the gearbox. Default: centres 80 mm apart.",
    )]
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let rq = |value| number("rq_m", "roughness Rq", "m", (5.0e-9, 1.0e-6), value, "Stylus or interferometer. The film's ratio goes with the inverse of both faces' roughness together, kappa with its 1.3th power.");
    vec![
        surface("raceway", "raceways of both rings", vec![
            rq(c::USUAL_RQ_M[0]),
            number("wear_coefficient_m2_n", "specific wear coefficient, with the elements' share", "m2/N", (1.0e-21, 1.0e-13), c::WEAR_M2_N, "Calibrated on a pinion's loss of preload."),
        ], false, "Ground and honed unless changed."),
        surface("element", "balls or rollers", vec![rq(c::USUAL_RQ_M[1])], false, "Lapped unless changed."),
    ]
}
