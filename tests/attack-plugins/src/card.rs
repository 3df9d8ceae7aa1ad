//! The card: one number, the choice of attack, one slot, one reading, one mechanism.

use crate::{
    WEAR_LIMIT_M,
    attack::{ATTACKS, default_attack},
};
use ringland_plugin::{
    Consequence, DutyNeed, Instrument, LimitSide, ModelCard, Trend, channel, choice, lines,
    mechanism, number, operation, reading, slot,
};

pub fn card() -> ModelCard {
    let options: Vec<(&str, &str)> = ATTACKS.iter().map(|(name, _)| (*name, *name)).collect();
    ModelCard {
        component_type: "attack_plugin".into(),
        label: "Attack plugin".into(),
        version: "1.0.0".into(),
        description: "Linear wear, or an attack on the host. For tests only.".into(),
        numbers: vec![number(
            "rate_multiplier",
            "wear rate multiplier",
            "1",
            (0.0, 100.0),
            1.0,
            "invented",
        )],
        choices: vec![choice(
            "attack",
            "attack",
            &options,
            default_attack(),
            "what to do to the host",
        )],
        tables: vec![],
        surfaces: vec![],
        condition: vec![slot(
            "wear_depth_m",
            "wear depth",
            "m",
            Trend::Rising,
            (0.0, 1.0),
        )],
        readings: vec![reading(
            "wear_depth_m",
            "wear depth",
            "m",
            (LimitSide::Above, "invented"),
            Instrument {
                name: "micrometer",
                sd: 1e-6,
                sd_relative: 0.0,
            },
            Some("wear"),
        )],
        mechanisms: vec![mechanism(
            "wear",
            "wear",
            Consequence::Nuisance,
            &format!("wear depth reaches {WEAR_LIMIT_M} m"),
            Some("wear_depth_m"),
            0.5,
        )],
        duty: DutyNeed {
            channels: vec![channel("engine_speed_rad_s", "wear follows sliding")],
            cycles: vec![],
            shocks: vec![],
            mates: vec![],
        },
        operations: vec![operation("replace", "replace", "wear back to 0")],
        constants: vec![],
        references: vec![],
        leaves_out: lines(&["everything but linear wear"]),
        cautions: lines(&["for tests only"]),
    }
}
