//! What the plugin says of itself.

mod outputs;
mod spec_fields;
mod statement;

use ringland_plugin::ModelCard;

pub use outputs::{MOST, SHIMMED, condition, duty, mechanism, mechanisms, reading, slot};

/// The card.
pub fn card() -> ModelCard {
    ModelCard {
        component_type: "valve_spring".into(),
        label: "valve springs".into(),
        version: env!("CARGO_PKG_VERSION").into(),
        description: statement::DESCRIPTION.into(),
        numbers: spec_fields::numbers(),
        choices: vec![ringland_engine::valvetrain::follower()],
        tables: vec![ringland_engine::valvetrain::lift()],
        surfaces: spec_fields::surfaces(),
        condition: condition(),
        readings: outputs::readings(),
        mechanisms: mechanisms(),
        duty: duty(),
        operations: outputs::operations(),
        constants: statement::constants(),
        references: statement::references(),
        leaves_out: statement::leaves_out(),
        cautions: statement::cautions(),
    }
}
