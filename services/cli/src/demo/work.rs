//! What the demo's shop did to its units between events, and what that costs. Prices are invented.

use std::collections::BTreeMap;

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

/// What is known of a used part when it enters the ledger.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// Unit.
    pub unit: String,
    /// Component type.
    pub part: String,
    /// Slots of its condition, SI.
    pub condition: BTreeMap<String, f64>,
}

/// How the life of a part ended, where it was not just replaced in good order.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ending {
    /// The part: `axle-shaft-b-1`.
    pub part: String,
    /// Whether it failed; else it was measured past a limit.
    #[serde(default)]
    pub failed: bool,
    /// Mechanism of the model's card.
    pub mechanism: String,
    /// For people.
    pub note: String,
}

/// What an owner decides against the advice, before anything is measured.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Decision {
    /// Event after which it is decided.
    pub event: String,
    /// The event that it is about.
    pub about: String,
    /// Unit.
    pub unit: String,
    /// Component type.
    pub part: String,
    /// What is done instead.
    pub decision: String,
    /// Who decides: a role.
    pub by: String,
    /// Why.
    pub reason: String,
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
