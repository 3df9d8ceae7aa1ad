//! What the demo's shop did to its units between events, and what that costs. Prices are invented.

use serde::Deserialize;

/// What one kind of work costs, parts and labour.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Price {
    /// Short name.
    pub code: String,
    /// For people.
    pub label: String,
    /// Dollars.
    pub usd: f64,
}

/// Work at a unit after an event.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// Event.
    pub event: String,
    /// Unit.
    pub unit: String,
    /// Its price.
    pub price: String,
    /// Component types that are replaced by new ones while the build goes on. What a new build begins with is said there.
    #[serde(default)]
    pub replaced: Vec<String>,
    /// Shop operations on parts that stay.
    #[serde(default)]
    pub operations: Vec<Operation>,
}

/// A shop operation on a part.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Operation {
    /// Component type.
    pub part: String,
    /// Name on the model's card.
    pub operation: String,
}

/// Treatments of the catalogue that a unit's parts of a type have had; their surfaces are in the demo files of the type.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Treated {
    /// Unit.
    pub unit: String,
    /// Component type.
    pub part: String,
    /// Ids, in their order.
    pub treatments: Vec<String>,
}
