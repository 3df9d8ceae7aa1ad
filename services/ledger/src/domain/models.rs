//! Installed plugins.

use crate::{FieldViolation, ModelName};
use jiff::Timestamp;
use ringland_host::contract::Card;
use std::sync::Arc;

/// An installed plugin.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// `models/{sha256 of the plugin}`
    pub name: ModelName,
    /// What it models.
    pub component_type: String,
    /// Semantic version.
    pub version: String,
    /// Whether it is the active one of its type.
    pub active: bool,
    /// Left out in lists.
    pub card: Option<Arc<Card>>,
    /// When it was installed.
    pub install_time: Timestamp,
    /// Size of the plugin.
    pub size_bytes: i64,
    /// Name for people.
    pub label: String,
}

/// The answer to an activation.
#[derive(Clone, Debug, PartialEq)]
pub struct ActivateModelResponse {
    /// The model, active now.
    pub model: Model,
    /// Components of the type that the new model refuses (`field` is the component's name): at
    /// most 20. Each has its own error until its spec is mended; the others are not held up.
    pub warnings: Vec<FieldViolation>,
}
