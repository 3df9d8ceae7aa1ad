//! The channels of a log, checked against the vocabulary and in its order.

use crate::finding::{Refusal, error, settle};
use crate::limits::IntakeLimits;
use crate::units::{self, Reference, Unit};
use ringland_host::contract::Finding;
use ringland_host::contract::vocabulary::{CHANNELS, Channel};

/// What a caller says of a channel.
pub(crate) struct Wanted<'a> {
    /// Where it was said, for messages.
    pub field: String,
    pub channel: &'a str,
    pub unit: &'a str,
    pub scale: f64,
    pub offset: f64,
    pub rate_hz: Option<f64>,
    pub hold_s: Option<f64>,
    pub optional: bool,
    /// Cell of a row that holds its samples.
    pub cell: usize,
}

/// A channel to read.
#[derive(Debug)]
pub(crate) struct Planned {
    pub channel: &'static Channel,
    pub cell: usize,
    /// SI value = raw * factor + offset.
    factor: f64,
    offset: f64,
    pub hold_s: f64,
    pub optional: bool,
}

impl Planned {
    pub fn si(&self, raw: f64) -> f64 {
        raw * self.factor + self.offset
    }
}

/// Checks what is wanted and puts it in the vocabulary's order.
///
/// # Errors
/// All findings at once.
pub(crate) fn plan(
    wanted: &[Wanted<'_>],
    limits: &IntakeLimits,
    ambient_pressure_pa: f64,
) -> Result<Vec<Planned>, Refusal> {
    let mut findings = Vec::new();
    let mut planned: Vec<(usize, Planned)> = Vec::new();
    for one in wanted {
        match plan_one(one, limits, ambient_pressure_pa) {
            Ok((index, _)) if planned.iter().any(|(other, _)| *other == index) => {
                findings.push(error(
                    format!("{}.channel", one.field),
                    format!("{:?}", one.channel),
                    "each channel once",
                    "remove one of the two columns mapped to this channel",
                ));
            }
            Ok(found) => planned.push(found),
            Err(found) => findings.extend(found),
        }
    }
    if planned.is_empty() && findings.is_empty() {
        findings.push(error(
            "channels",
            "none",
            "at least one channel that the log has",
            "map the log's columns to channels",
        ));
    }
    settle(findings)?;
    planned.sort_by_key(|(index, _)| *index);
    Ok(planned.into_iter().map(|(_, planned)| planned).collect())
}

fn plan_one(
    wanted: &Wanted<'_>,
    limits: &IntakeLimits,
    ambient_pressure_pa: f64,
) -> Result<(usize, Planned), Vec<Finding>> {
    let field = &wanted.field;
    let mut found = CHANNELS.iter().enumerate();
    let Some((index, channel)) = found.find(|(_, channel)| channel.name == wanted.channel) else {
        return Err(vec![error(
            format!("{field}.channel"),
            format!("{:?}", wanted.channel),
            "a name of the vocabulary",
            format!("use one of {}", names().join(", ")),
        )]);
    };
    let mut findings = Vec::new();
    for (name, value) in [("rate_hz", wanted.rate_hz), ("hold_s", wanted.hold_s)] {
        if let Some(value) = value
            && !(value.is_finite() && value > 0.0)
        {
            let field = format!("{field}.{name}");
            findings.push(error(
                field,
                value,
                "a finite number above 0",
                "correct it or leave it out",
            ));
        }
    }
    if !(wanted.scale.is_finite() && wanted.scale != 0.0 && wanted.offset.is_finite()) {
        findings.push(error(
            format!("{field}.scale"),
            format!("{} with offset {}", wanted.scale, wanted.offset),
            "finite numbers, the scale other than 0",
            "correct them, or leave them out for numbers already in the unit",
        ));
    }
    let Some(unit) = units::find(wanted.unit, channel.unit) else {
        findings.push(unknown_unit(wanted, channel));
        return Err(findings);
    };
    if !findings.is_empty() {
        return Err(findings);
    }
    let two_samples = wanted.rate_hz.map_or(0.0, |rate| 2.0 / rate);
    let hold_s = wanted.hold_s.unwrap_or(limits.hold_s).max(two_samples);
    let reference = reference_offset(unit, channel, ambient_pressure_pa);
    Ok((
        index,
        Planned {
            channel,
            cell: wanted.cell,
            factor: wanted.scale * unit.factor,
            offset: wanted.offset * unit.factor + unit.offset + reference,
            hold_s,
            optional: wanted.optional,
        },
    ))
}

fn unknown_unit(wanted: &Wanted<'_>, channel: &Channel) -> Finding {
    error(
        format!("{}.unit", wanted.field),
        format!("{:?}", wanted.unit),
        units::accepted(channel.unit).join(", "),
        if channel.unit == "Pa" {
            "say whether the pressure is gauge or absolute: psig or psia, bar_gauge or bar_abs"
        } else {
            "name the unit of the numbers in the log"
        },
    )
}

/// What turns a pressure from one reference to the channel's own, which its label names.
fn reference_offset(unit: &Unit, channel: &Channel, ambient_pressure_pa: f64) -> f64 {
    let absolute = channel.label.contains("absolute");
    match unit.reference {
        Some(Reference::Absolute) if !absolute => -ambient_pressure_pa,
        Some(Reference::Gauge) if absolute => ambient_pressure_pa,
        _ => 0.0,
    }
}

fn names() -> Vec<&'static str> {
    CHANNELS.iter().map(|channel| channel.name).collect()
}
