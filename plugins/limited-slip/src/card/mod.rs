//! What the plugin says of itself.

mod outputs;
mod spec_fields;
mod statement;

use ringland_plugin::ModelCard;

pub use outputs::{CHANGE_OIL, RESTACK, condition, duty, mechanism, mechanisms, reading, slot};

/// The card.
pub fn card() -> ModelCard {
    ModelCard {
        component_type: "limited_slip".into(),
        label: "limited-slip clutch pack".into(),
        version: env!("CARGO_PKG_VERSION").into(),
        description: statement::DESCRIPTION.into(),
        numbers: spec_fields::numbers(),
        choices: Vec::new(),
        tables: Vec::new(),
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
