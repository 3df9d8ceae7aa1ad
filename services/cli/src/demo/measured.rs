//! What the demo's shop measured and looked at.

use serde::Deserialize;

/// What was measured and looked at on one part after an event.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Inspection {
    /// Event.
    pub event: String,
    /// Unit.
    pub unit: String,
    /// Component type.
    #[serde(default = "ring_pack")]
    pub part: String,
    /// Hours after the running began.
    #[serde(default = "day_and_a_half")]
    pub hours_after: i64,
    /// For people.
    #[serde(default)]
    pub note: String,
    /// What was read.
    #[serde(default)]
    pub readings: Vec<Reading>,
    /// What was looked for by eye or with a crack check and found.
    #[serde(default)]
    pub found: Vec<Found>,
    /// Why it reads as it does, said by the shop afterwards.
    pub explained: Option<Explained>,
}

/// One measured value.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Name of the reading on the model's card.
    pub name: String,
    /// SI.
    pub value: f64,
    /// Cylinder, side.
    #[serde(default)]
    pub position: String,
    /// What with.
    pub instrument: String,
    /// One standard deviation, SI.
    pub sd: f64,
    /// The same reading at the build, SI, where growth counts.
    pub zero: Option<f64>,
}

/// A crack or pit that was seen.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Found {
    /// Mechanism of the model's card.
    pub mechanism: String,
    /// Length \[m\].
    pub length_m: f64,
    /// Where.
    pub note: String,
}

/// What the shop says of a reading that was no wear: somebody or something abused the part.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Explained {
    /// Name of the reading.
    pub reading: String,
    /// Who says so: a role.
    pub by: String,
    /// On what ground.
    pub reason: String,
}

fn ring_pack() -> String {
    "ring_pack".into()
}

fn day_and_a_half() -> i64 {
    36
}
