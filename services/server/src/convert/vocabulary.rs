//! The shared vocabulary as messages.

use ringland_host::contract::vocabulary as host;
use ringland_intake::units;
use ringland_proto::v1 as api;

/// Every channel with the units that a log may have it in, and every kind of shock.
pub fn channels() -> api::ListChannelsResponse {
    api::ListChannelsResponse {
        channels: host::CHANNELS.iter().map(channel).collect(),
        shock_kinds: host::SHOCKS.iter().map(shock_kind).collect(),
    }
}

fn channel(channel: &host::Channel) -> api::Channel {
    api::Channel {
        name: channel.name.into(),
        unit: channel.unit.into(),
        label: channel.label.into(),
        minimum: channel.minimum,
        maximum: channel.maximum,
        cell: channel.cell,
        counted: channel.counted,
        accepted_units: units::accepted(channel.unit)
            .into_iter()
            .map(Into::into)
            .collect(),
    }
}

fn shock_kind(shock: &host::Shock) -> api::ShockKind {
    api::ShockKind {
        kind: shock.kind.into(),
        label: shock.label.into(),
        fields: shock.fields.iter().map(|&field| field.into()).collect(),
    }
}
