//! What the plugin says of itself.

mod outputs;
mod spec_fields;
mod statement;

use ringland_plugin::ModelCard;

pub use outputs::{NEW_DAMPER, REGRIND, condition, duty, mechanism, mechanisms, reading, slot};

/// Default effective strength of the fillets \[Pa\], calibrated.
pub const STRENGTH_PA: f64 = 3.24e8;

/// The card.
pub fn card() -> ModelCard {
    ModelCard {
        component_type: "crankshaft".into(),
        label: "crankshaft".into(),
        version: env!("CARGO_PKG_VERSION").into(),
        description: statement::DESCRIPTION.into(),
        numbers: spec_fields::numbers(),
        choices: Vec::new(),
        tables: spec_fields::tables(),
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
