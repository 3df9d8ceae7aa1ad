//! A plugin's card as a message.

use ringland_host::contract as host;
use ringland_proto::v1 as api;

/// The whole card.
pub fn card(card: &host::Card) -> api::Card {
    api::Card {
        component_type: card.component_type.clone(),
        label: card.label.clone(),
        version: card.version.clone(),
        description: card.description.clone(),
        numbers: card.numbers.iter().map(number).collect(),
        choices: card.choices.iter().map(choice).collect(),
        tables: card.tables.iter().map(table).collect(),
        surfaces: card.surfaces.iter().map(surface).collect(),
        condition: card.condition.iter().map(slot).collect(),
        readings: card.readings.iter().map(reading).collect(),
        mechanisms: card.mechanisms.iter().map(mechanism).collect(),
        channels: card.duty.channels.iter().map(channel).collect(),
        cycles: card.duty.cycles.clone(),
        shocks: card.duty.shocks.iter().map(shock).collect(),
        operations: card.operations.iter().map(operation).collect(),
        constants: card.constants.iter().map(constant).collect(),
        references: card.references.clone(),
        leaves_out: card.leaves_out.clone(),
        cautions: card.cautions.clone(),
        mates: card.duty.mates.iter().map(mate).collect(),
    }
}

fn number(field: &host::NumberField) -> api::NumberField {
    api::NumberField {
        name: field.name.clone(),
        label: field.label.clone(),
        unit: field.unit.clone(),
        minimum: field.minimum,
        maximum: field.maximum,
        default_value: field.default_value,
        note: field.note.clone(),
    }
}

fn choice(field: &host::ChoiceField) -> api::ChoiceField {
    let option = |option: &host::ChoiceOption| api::ChoiceOption {
        name: option.name.clone(),
        label: option.label.clone(),
    };
    let default = usize::try_from(field.default_option)
        .ok()
        .and_then(|i| field.options.get(i));
    api::ChoiceField {
        name: field.name.clone(),
        label: field.label.clone(),
        options: field.options.iter().map(option).collect(),
        default_option: default
            .map(|option| option.name.clone())
            .unwrap_or_default(),
        note: field.note.clone(),
    }
}

fn table(field: &host::TableField) -> api::TableField {
    api::TableField {
        name: field.name.clone(),
        label: field.label.clone(),
        columns: field.columns.iter().map(number).collect(),
        minimum_rows: field.minimum_rows,
        maximum_rows: field.maximum_rows,
        note: field.note.clone(),
    }
}

fn surface(field: &host::SurfaceField) -> api::SurfaceField {
    api::SurfaceField {
        name: field.name.clone(),
        label: field.label.clone(),
        properties: field.properties.iter().map(number).collect(),
        residual_stress: field.residual_stress,
        note: field.note.clone(),
    }
}

fn slot(slot: &host::Slot) -> api::ConditionSlot {
    let trend = match slot.trend {
        host::Trend::Rising => api::Trend::Rising,
        host::Trend::Falling => api::Trend::Falling,
        host::Trend::Free => api::Trend::Free,
    };
    api::ConditionSlot {
        name: slot.name.clone(),
        label: slot.label.clone(),
        unit: slot.unit.clone(),
        trend: trend.into(),
        minimum: slot.minimum,
        maximum: slot.maximum,
    }
}

fn reading(field: &host::ReadingField) -> api::ReadingField {
    api::ReadingField {
        name: field.name.clone(),
        label: field.label.clone(),
        unit: field.unit.clone(),
        limit_side: limit_side(field.limit_side).into(),
        limit_source: field.limit_source.clone(),
        instrument: field.instrument.clone(),
        instrument_sd: field.instrument_sd,
        instrument_sd_relative: field.instrument_sd_relative,
        informs: field.informs.clone().unwrap_or_default(),
    }
}

fn mechanism(mechanism: &host::Mechanism) -> api::Mechanism {
    api::Mechanism {
        name: mechanism.name.clone(),
        label: mechanism.label.clone(),
        consequence: consequence(mechanism.consequence).into(),
        life_ends_when: mechanism.life_ends_when.clone(),
        reading: mechanism.reading.clone().unwrap_or_default(),
        rate_ln_sd: mechanism.rate_ln_sd,
    }
}

fn channel(need: &host::ChannelNeed) -> api::ChannelNeed {
    api::ChannelNeed {
        name: need.name.clone(),
        required: need.required,
        default_value: need.default_value,
        note: need.note.clone(),
    }
}

fn shock(need: &host::ShockNeed) -> api::ShockNeed {
    api::ShockNeed {
        kind: need.kind.clone(),
        fields: need.fields.clone(),
    }
}

fn mate(need: &host::MateNeed) -> api::MateNeed {
    api::MateNeed {
        component_type: need.component_type.clone(),
        slot: need.slot.clone(),
        default_value: need.default_value,
        note: need.note.clone(),
    }
}

fn operation(operation: &host::Operation) -> api::Operation {
    api::Operation {
        name: operation.name.clone(),
        label: operation.label.clone(),
        note: operation.note.clone(),
    }
}

fn constant(constant: &host::Constant) -> api::Constant {
    let basis = match constant.basis {
        host::Basis::Published => api::Basis::Published,
        host::Basis::Memory => api::Basis::Memory,
        host::Basis::CommonPractice => api::Basis::CommonPractice,
        host::Basis::Calibrated => api::Basis::Calibrated,
        host::Basis::Assumed => api::Basis::Assumed,
    };
    api::Constant {
        name: constant.name.clone(),
        unit: constant.unit.clone(),
        value: constant.value,
        basis: basis.into(),
        note: constant.note.clone(),
    }
}

/// Side of a limit.
pub fn limit_side(side: host::LimitSide) -> api::LimitSide {
    match side {
        host::LimitSide::Above => api::LimitSide::Above,
        host::LimitSide::Below => api::LimitSide::Below,
        host::LimitSide::Unlimited => api::LimitSide::Unlimited,
    }
}

/// What a mechanism's end means.
pub fn consequence(consequence: host::Consequence) -> api::Consequence {
    match consequence {
        host::Consequence::Nuisance => api::Consequence::Nuisance,
        host::Consequence::PowerLoss => api::Consequence::PowerLoss,
        host::Consequence::UnitLoss => api::Consequence::UnitLoss,
        host::Consequence::Hazard => api::Consequence::Hazard,
    }
}
