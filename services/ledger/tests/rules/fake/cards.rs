//! Cards of made-up parts.

use ringland_host::contract::{
    Card, ChannelNeed, Consequence, DutyNeed, LimitSide, MateNeed, Mechanism, NumberField,
    Operation, ReadingField, ShockNeed, Slot, SurfaceField, Trend,
};

pub fn number(
    name: &str,
    unit: &str,
    (minimum, maximum): (f64, f64),
    default_value: f64,
) -> NumberField {
    NumberField {
        name: name.into(),
        label: name.replace('_', " "),
        unit: unit.into(),
        minimum,
        maximum,
        default_value,
        note: String::new(),
    }
}

pub fn surface(name: &str, properties: Vec<NumberField>, residual_stress: bool) -> SurfaceField {
    SurfaceField {
        name: name.into(),
        label: name.into(),
        properties,
        residual_stress,
        note: String::new(),
    }
}

pub fn slot(name: &str, unit: &str) -> Slot {
    Slot {
        name: name.into(),
        label: name.replace('_', " "),
        unit: unit.into(),
        trend: Trend::Rising,
        minimum: 0.0,
        maximum: 1e9,
    }
}

pub fn reading(name: &str, unit: &str, limit_side: LimitSide) -> ReadingField {
    ReadingField {
        name: name.into(),
        label: name.replace('_', " "),
        unit: unit.into(),
        limit_side,
        limit_source: "the maker".into(),
        instrument: "gauge".into(),
        instrument_sd: 3.0,
        instrument_sd_relative: 0.0,
        informs: None,
    }
}

pub fn mechanism(name: &str, consequence: Consequence, reading: Option<&str>) -> Mechanism {
    Mechanism {
        name: name.into(),
        label: name.replace('_', " "),
        consequence,
        life_ends_when: "the limit is reached".into(),
        reading: reading.map(Into::into),
        rate_ln_sd: 0.3,
    }
}

pub fn channel(name: &str, default: Option<f64>) -> ChannelNeed {
    ChannelNeed {
        name: name.into(),
        required: default.is_none(),
        default_value: default.unwrap_or(0.0),
        note: String::new(),
    }
}

pub fn shock(kind: &str, fields: &[&str]) -> ShockNeed {
    ShockNeed {
        kind: kind.into(),
        fields: fields.iter().map(ToString::to_string).collect(),
    }
}

pub fn mate(component_type: &str, slot: &str, default_value: f64) -> MateNeed {
    MateNeed {
        component_type: component_type.into(),
        slot: slot.into(),
        default_value,
        note: String::new(),
    }
}

/// A card with nothing but its type.
pub fn blank(component_type: &str) -> Card {
    Card {
        component_type: component_type.into(),
        label: component_type.replace('_', " "),
        version: "1.0.0".into(),
        description: String::new(),
        numbers: Vec::new(),
        choices: Vec::new(),
        tables: Vec::new(),
        surfaces: Vec::new(),
        condition: Vec::new(),
        readings: Vec::new(),
        mechanisms: Vec::new(),
        duty: DutyNeed::default(),
        operations: Vec::new(),
        constants: Vec::new(),
        references: Vec::new(),
        leaves_out: vec!["everything but wear".into()],
        cautions: vec!["a measured limit comes first".into()],
    }
}

/// Wears with speed, warms with oil and starts; `reface` takes wear off.
pub fn wear_part() -> Card {
    Card {
        numbers: vec![number("limit", "1", (1e-6, 1e9), 1.0)],
        surfaces: vec![surface(
            "face",
            vec![number("wear_coefficient_m2_n", "m2/N", (1e-3, 1e3), 1.0)],
            false,
        )],
        condition: vec![slot("wear", "1"), slot("heat", "1")],
        readings: vec![reading("wear_depth", "1", LimitSide::Above)],
        mechanisms: vec![
            mechanism("wear", Consequence::PowerLoss, Some("wear_depth")),
            mechanism("heat", Consequence::UnitLoss, None),
        ],
        duty: DutyNeed {
            channels: vec![
                channel("engine_speed_rad_s", None),
                channel("oil_temp_k", Some(380.0)),
            ],
            cycles: Vec::new(),
            shocks: vec![shock("start", &["oil_temp_k"])],
            mates: Vec::new(),
        },
        operations: vec![Operation {
            name: "reface".into(),
            label: "reface".into(),
            note: String::new(),
        }],
        ..blank("wear_part")
    }
}

/// As a wear part, of another type, reading a slot of a third.
pub fn reader(component_type: &str, read: &str) -> Card {
    let mut card = wear_part();
    card.component_type = component_type.into();
    card.duty.mates = vec![mate(read, "wear", 0.5)];
    card
}
