//! Installed plugins.

use super::{card, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// To a message.
pub fn to_message(model: domain::Model) -> api::Model {
    api::Model {
        name: model.name.to_string(),
        component_type: model.component_type,
        version: model.version,
        active: model.active,
        card: model.card.as_deref().map(card::card),
        install_time: Some(time::to_message(model.install_time)),
        size_bytes: model.size_bytes,
        label: model.label,
    }
}
