//! The wheel's card.

use ringland_plugin::{
    Bounds, Consequence, DutyNeed, Instrument, LimitSide, ModelCard, Trend, channel, channel_or,
    lines, mate, mechanism, number, operation, reading, shock, slot, surface,
};

pub fn bounds(name: &str) -> Option<Bounds> {
    match name {
        "engine_speed_rad_s" | "peak_engine_speed_rad_s" => Some((0.0, 2500.0)),
        "contamination_factor" => Some((1.0, 20.0)),
        "duration_s" => Some((0.0, 3600.0)),
        "engine_torque_n_m" | "peak_torque_n_m" => Some((-5000.0, 5000.0)),
        _ => None,
    }
}

pub fn card() -> ModelCard {
    let gauge = Instrument {
        name: "depth gauge",
        sd: 1.0e-4,
        sd_relative: 0.0,
    };
    let limit = (LimitSide::Above, "invented");
    let coefficient = number(
        "wear_coefficient_m2_n",
        "wear",
        "m2/N",
        (0.0, 1.0e-6),
        2.0e-10,
        "",
    );
    ModelCard {
        component_type: "wheel".into(),
        label: "wheel".into(),
        version: "1.0.0".into(),
        description: "A wheel whose tread wears with distance.".into(),
        numbers: vec![
            number("radius_m", "radius", "m", (0.1, 1.0), 0.3, ""),
            number("limit_wear_m", "limit", "m", (1.0e-4, 0.1), 5.0e-3, ""),
        ],
        choices: vec![],
        tables: vec![],
        surfaces: vec![surface("tread", "tread", vec![coefficient], false, "")],
        condition: vec![
            slot("wear_m", "wear", "m", Trend::Rising, (0.0, 1.0)),
            slot("growth_m", "growth", "m", Trend::Falling, (-1.0, 0.0)),
        ],
        readings: vec![reading(
            "wear_m",
            "wear",
            "m",
            limit,
            gauge,
            Some("tread_wear"),
        )],
        mechanisms: vec![mechanism(
            "tread_wear",
            "tread wear",
            Consequence::Nuisance,
            "worn to its limit",
            Some("wear_m"),
            0.4,
        )],
        duty: DutyNeed {
            channels: vec![
                channel("engine_speed_rad_s", ""),
                channel_or("contamination_factor", 1.0, ""),
            ],
            cycles: lines(&["engine_torque_n_m"]),
            shocks: vec![
                shock("over_rev", &["duration_s", "peak_engine_speed_rad_s"]),
                shock("launch", &["peak_torque_n_m"]),
            ],
            mates: vec![mate("road", "sink_m", 0.05, "")],
        },
        operations: vec![operation("retread", "new tread", "")],
        constants: vec![],
        references: vec![],
        leaves_out: vec![],
        cautions: vec![],
    }
}
