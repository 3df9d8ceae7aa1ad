//! Entries of a card in one line each. What the arguments mean stands in `sdk/wit/card.wit`;
//! numbers are SI, ranges are `(minimum, maximum)`.

use crate::contract::{
    Basis, ChannelNeed, ChoiceField, ChoiceOption, Consequence, Constant, LimitSide, MateNeed,
    Mechanism, NumberField, Operation, ReadingField, ShockNeed, Slot, SurfaceField, TableField,
    Trend,
};

/// A number of the spec, a column of a table or a property of a surface. `note` says where range
/// and default come from and how to measure it.
pub fn number(
    name: &str,
    label: &str,
    unit: &str,
    (minimum, maximum): (f64, f64),
    default_value: f64,
    note: &str,
) -> NumberField {
    NumberField {
        name: name.into(),
        label: label.into(),
        unit: unit.into(),
        minimum,
        maximum,
        default_value,
        note: note.into(),
    }
}

/// One of several named possibilities, `(name, label)` each; `default_option` is an index.
pub fn choice(
    name: &str,
    label: &str,
    options: &[(&str, &str)],
    default_option: u32,
    note: &str,
) -> ChoiceField {
    let option = |(name, label): &(&str, &str)| ChoiceOption {
        name: (*name).into(),
        label: (*label).into(),
    };
    ChoiceField {
        name: name.into(),
        label: label.into(),
        options: options.iter().map(option).collect(),
        default_option,
        note: note.into(),
    }
}

/// A table of the spec. `default_columns` has one list for each column, all of one length within
/// `rows`.
pub fn table(
    name: &str,
    label: &str,
    columns: Vec<NumberField>,
    (minimum_rows, maximum_rows): (u32, u32),
    default_columns: Vec<Vec<f64>>,
    note: &str,
) -> TableField {
    TableField {
        name: name.into(),
        label: label.into(),
        columns,
        minimum_rows,
        maximum_rows,
        default_columns,
        note: note.into(),
    }
}

/// A working surface; property names come from the vocabulary.
pub fn surface(
    name: &str,
    label: &str,
    properties: Vec<NumberField>,
    residual_stress: bool,
    note: &str,
) -> SurfaceField {
    SurfaceField {
        name: name.into(),
        label: label.into(),
        properties,
        residual_stress,
        note: note.into(),
    }
}

/// A slot of the condition row.
pub fn slot(
    name: &str,
    label: &str,
    unit: &str,
    trend: Trend,
    (minimum, maximum): (f64, f64),
) -> Slot {
    Slot {
        name: name.into(),
        label: label.into(),
        unit: unit.into(),
        trend,
        minimum,
        maximum,
    }
}

/// What measures a reading, and its error as one standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instrument<'a> {
    /// Its name: `micrometer`, `feeler gauge`.
    pub name: &'a str,
    /// Absolute part, in the unit of the reading.
    pub sd: f64,
    /// Part relative to the value.
    pub sd_relative: f64,
}

/// A measurable quantity. `limit` is the side on which it is rejected and who sets the limit;
/// `informs` names the mechanism whose rate a measurement informs.
pub fn reading(
    name: &str,
    label: &str,
    unit: &str,
    (limit_side, limit_source): (LimitSide, &str),
    instrument: Instrument<'_>,
    informs: Option<&str>,
) -> ReadingField {
    ReadingField {
        name: name.into(),
        label: label.into(),
        unit: unit.into(),
        limit_side,
        limit_source: limit_source.into(),
        instrument: instrument.name.into(),
        instrument_sd: instrument.sd,
        instrument_sd_relative: instrument.sd_relative,
        informs: informs.map(Into::into),
    }
}

/// One way in which the component ends its life. `reading` names the reading whose limit ends it;
/// `rate_ln_sd` is the standard deviation of ln(rate) before any inspection.
pub fn mechanism(
    name: &str,
    label: &str,
    consequence: Consequence,
    life_ends_when: &str,
    reading: Option<&str>,
    rate_ln_sd: f64,
) -> Mechanism {
    Mechanism {
        name: name.into(),
        label: label.into(),
        consequence,
        life_ends_when: life_ends_when.into(),
        reading: reading.map(Into::into),
        rate_ln_sd,
    }
}

/// A channel without which duty is refused.
pub fn channel(name: &str, note: &str) -> ChannelNeed {
    ChannelNeed {
        name: name.into(),
        required: true,
        default_value: 0.0,
        note: note.into(),
    }
}

/// A channel for which `default_value` stands in when the log has none.
pub fn channel_or(name: &str, default_value: f64, note: &str) -> ChannelNeed {
    ChannelNeed {
        name: name.into(),
        required: false,
        default_value,
        note: note.into(),
    }
}

/// Shocks of one kind and the fields read, in this order.
pub fn shock(kind: &str, fields: &[&str]) -> ShockNeed {
    ShockNeed {
        kind: kind.into(),
        fields: lines(fields),
    }
}

/// A slot of the condition of another component in the same build.
pub fn mate(component_type: &str, slot: &str, default_value: f64, note: &str) -> MateNeed {
    MateNeed {
        component_type: component_type.into(),
        slot: slot.into(),
        default_value,
        note: note.into(),
    }
}

/// A shop operation that resets part of the condition.
pub fn operation(name: &str, label: &str, note: &str) -> Operation {
    Operation {
        name: name.into(),
        label: label.into(),
        note: note.into(),
    }
}

/// A constant of the model and how it came to its value.
pub fn constant(name: &str, unit: &str, value: f64, basis: Basis, note: &str) -> Constant {
    Constant {
        name: name.into(),
        unit: unit.into(),
        value,
        basis,
        note: note.into(),
    }
}

/// Owned strings: references, cautions, what is left out, names of counted channels.
pub fn lines(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|&line| line.into()).collect()
}
