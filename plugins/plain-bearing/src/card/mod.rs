//! What the plugin says of itself.

mod outputs;
mod spec_fields;
mod statement;

use ringland_plugin::ModelCard;

pub use outputs::{CAP_PULLED, condition, duty, mechanism, mechanisms, reading, shock, slot};

/// Default wear coefficient of a bare overlay \[m²/N\], calibrated.
pub const WEAR_COEFFICIENT_M2_N: f64 = 6.8e-16;

/// The card.
pub fn card() -> ModelCard {
    ModelCard {
        component_type: "plain_bearing".into(),
        label: "plain bearing, rod or main".into(),
        version: env!("CARGO_PKG_VERSION").into(),
        description: statement::DESCRIPTION.into(),
        numbers: spec_fields::numbers(),
        choices: spec_fields::choices(),
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
