//! What the plugin says of itself.

mod outputs;
mod spec_fields;
mod statement;

use ringland_plugin::ModelCard;

pub use outputs::{BORE_SEEN, channel, condition, duty, mechanism, mechanisms, reading, slot};
pub use spec_fields::option;

/// The card.
pub fn card() -> ModelCard {
    ModelCard {
        component_type: "valve_guide".into(),
        label: "valve guide".into(),
        version: env!("CARGO_PKG_VERSION").into(),
        description: statement::DESCRIPTION.into(),
        numbers: spec_fields::numbers(),
        choices: spec_fields::choices(),
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
