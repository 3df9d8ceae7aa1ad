//! Alternatives of a component side by side, and what moves the earliest limit of a unit.

use crate::{
    ComponentName, Grade, LedgerError, MechanismPrediction, ProfileName, ReadingPrediction,
    RemainingLife, Spec, SurfaceState, UnitName,
};
use ringland_host::contract::{Digest, Finding};
use std::collections::BTreeMap;

/// What a comparison starts from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Basis {
    /// A new part, its mates as the card assumes them.
    #[default]
    New,
    /// The part and its mates as they are now.
    Present,
}

/// How a comparison is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Draws {
    /// What it starts from.
    pub basis: Basis,
    /// 1 to 10000; `None`: the ledger's.
    pub horizon_events: Option<f64>,
    /// 64 to 4096; `None`: the ledger's.
    pub samples: Option<u32>,
}

/// What a comparison of a component is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareRequest {
    /// Which component.
    pub component: ComponentName,
    /// `None`: the event profile of the unit that it is installed in.
    pub profile: Option<ProfileName>,
    /// Two to eight; the first is what the others are held against.
    pub alternatives: Vec<Alternative>,
    /// How it is drawn.
    pub draws: Draws,
    /// As in a prediction.
    pub ahead_events: Vec<f64>,
    /// Of one renewal.
    pub price: Option<RenewalPrice>,
}

/// What putting in one more of a part costs, in the shop's currency.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct RenewalPrice {
    /// The part, untreated.
    pub part: f64,
    /// Labour of changing it.
    pub labour: f64,
}

/// One way of having a component. What is empty is as the component is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Alternative {
    /// Name in the answer; empty: made from what differs.
    pub label: String,
    /// Fields that differ.
    pub spec: Spec,
    /// Properties that differ; a residual-stress profile replaces the one that is there.
    pub surfaces: BTreeMap<String, SurfaceState>,
    /// In the order in which they are done, after the above.
    pub treatments: Vec<ComparedTreatment>,
    /// Of a renewal where it differs from the call's.
    pub price: Option<RenewalPrice>,
}

/// A treatment in a comparison.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ComparedTreatment {
    /// Id in the catalogue.
    pub treatment: String,
    /// Working surfaces; empty: every one that the catalogue means it for.
    pub surfaces: Vec<String>,
    /// `None`: the catalogue's.
    pub price: Option<f64>,
}

/// What is known of a number that lives beyond the horizon leave open.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bounds {
    /// `None`: open.
    pub at_least: Option<f64>,
    /// `None`: open.
    pub at_most: Option<f64>,
}

/// 5 %, 50 % and 95 % quantiles, as far as they are known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BoundedQuantiles {
    /// 5 %.
    pub p05: Bounds,
    /// Median.
    pub p50: Bounds,
    /// 95 %.
    pub p95: Bounds,
}

/// Alternatives of a component.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Which component.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// The duty assumed for each event.
    pub profile: ProfileName,
    /// What it starts from.
    pub basis: Basis,
    /// Longest life of interest.
    pub horizon_events: f64,
    /// Lives drawn for each alternative.
    pub samples: u32,
    /// SHA-256 of the plugin.
    pub model_digest: Digest,
    /// Version of the model.
    pub model_version: String,
    /// In the order of the call.
    pub alternatives: Vec<AlternativeForecast>,
    /// Each further alternative against the first.
    pub differences: Vec<Difference>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub leaves_out: Vec<String>,
}

/// What is expected of one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct AlternativeForecast {
    /// Name.
    pub label: String,
    /// Whichever mechanism comes first.
    pub life: RemainingLife,
    /// Mean of the drawn lives.
    pub mean_life_events: Bounds,
    /// The mechanism most likely to come first; empty when none does.
    pub limiting_mechanism: String,
    /// How likely that is.
    pub limiting_probability: f64,
    /// Probability that none comes within the horizon.
    pub beyond_horizon_probability: f64,
    /// Probability that any mechanism ends the life within the first event.
    pub risk_next_event: f64,
    /// In card order.
    pub mechanisms: Vec<MechanismPrediction>,
    /// In card order.
    pub readings: Vec<ReadingPrediction>,
    /// `None` when the model has no such reading.
    pub seating: Option<SeatingTime>,
    /// `None` without prices.
    pub cost: Option<EventCost>,
    /// No inspection of this shop has moved any rate.
    pub model_prior_only: bool,
    /// What the treatments' figures rest on.
    pub evidence: Vec<TreatmentEvidence>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
}

/// Events until the surfaces are seated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeatingTime {
    /// Seated share now.
    pub fraction_now: f64,
    /// Until it reaches 0.95.
    pub events: BoundedQuantiles,
}

/// Cost of an event by a part that is renewed whenever its life ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EventCost {
    /// Part, treatments and labour.
    pub renewal_price: f64,
    /// The treatments in it.
    pub treatments_price: f64,
    /// Price over mean life.
    pub mean: Bounds,
    /// Price over the life of one drawn part.
    pub drawn: BoundedQuantiles,
}

/// What the figures of a treatment rest on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TreatmentEvidence {
    /// Id in the catalogue.
    pub treatment: String,
    /// How good it is.
    pub grade: Grade,
    /// Where its numbers come from.
    pub source: String,
}

/// One alternative against the first, draw by draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// The alternative.
    pub label: String,
    /// The first.
    pub against: String,
    /// Life over life of the first.
    pub life_ratio: BoundedQuantiles,
    /// Mean life over mean life of the first.
    pub mean_life_ratio: Bounds,
    /// How often it lives longer.
    pub longer: Odds,
    /// `None` without prices.
    pub payback: Option<Payback>,
    /// Of every reading of friction power.
    pub power_changes: Vec<PowerChange>,
    /// In words.
    pub verdict: String,
}

/// Which of two draws is larger, how often.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Odds {
    /// Larger than the first.
    pub more: f64,
    /// The same number.
    pub equal: f64,
    /// Smaller.
    pub less: f64,
    /// The horizon hides which.
    pub open: f64,
}

/// Whether the dearer alternative pays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Payback {
    /// Cost of an event less that of the first, by their means.
    pub cost_change: Bounds,
    /// Probability that the cost of an event is lower for a drawn part.
    pub probability_pays: f64,
    /// Probability that the horizon hides it.
    pub probability_open: f64,
    /// Most that its treatments may cost, by the means.
    pub break_even_price: Bounds,
    /// The same for drawn parts.
    pub break_even_drawn: BoundedQuantiles,
}

/// Change of a friction power.
#[derive(Clone, Debug, PartialEq)]
pub struct PowerChange {
    /// As on the card.
    pub reading: String,
    /// Name for people.
    pub label: String,
    /// After so many events.
    pub events: f64,
    /// Median of the first \[W\].
    pub first_w: f64,
    /// Median of the alternative \[W\].
    pub alternative_w: f64,
}

/// What a comparison of a unit is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareUnitRequest {
    /// Which unit.
    pub unit: UnitName,
    /// `None`: its event profile.
    pub profile: Option<ProfileName>,
    /// At most 64; empty: all of the catalogue.
    pub candidates: Vec<UnitCandidate>,
    /// How it is drawn.
    pub draws: Draws,
    /// Changes chosen one after another, 1 to 5; `None`: 3.
    pub steps: Option<u32>,
}

/// Something that can be done to a unit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct UnitCandidate {
    /// Name in the answer; empty: made from what changes.
    pub label: String,
    /// One to sixteen.
    pub changes: Vec<UnitChange>,
}

/// A change to components of a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitChange {
    /// What changes.
    pub target: ChangeTarget,
    /// What it becomes.
    pub alternative: Alternative,
}

/// Which components change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChangeTarget {
    /// One.
    Component(ComponentName),
    /// Every one of a type.
    Type(String),
}

/// What limits a unit, and what moves it.
#[derive(Clone, Debug)]
pub struct UnitComparison {
    /// Which unit.
    pub unit: UnitName,
    /// The duty assumed for each event.
    pub profile: ProfileName,
    /// What it starts from.
    pub basis: Basis,
    /// Longest life of interest.
    pub horizon_events: f64,
    /// Lives drawn for each component.
    pub samples: u32,
    /// In the order of names.
    pub components: Vec<UnitComponentLife>,
    /// Of the components that have a life.
    pub earliest: EarliestLimit,
    /// Best first, failed last.
    pub candidates: Vec<CandidateEffect>,
    /// The best change, then the best after that.
    pub steps: Vec<UnitStep>,
    /// In words.
    pub verdict: String,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}

/// Life of one component of a unit.
#[derive(Clone, Debug)]
pub struct UnitComponentLife {
    /// Which.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// Where in the unit.
    pub position: String,
    /// Its life, or why it has none.
    pub life: Result<ComponentLimit, LedgerError>,
}

/// What limits one component of a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct ComponentLimit {
    /// Whichever mechanism comes first.
    pub life: RemainingLife,
    /// The mechanism most likely to come first; empty when none does.
    pub limiting_mechanism: String,
    /// How likely that is.
    pub limiting_probability: f64,
    /// Probability that this component is the first of the unit.
    pub first_probability: f64,
}

/// Draw by draw whichever component comes first to any of its limits.
#[derive(Clone, Debug, PartialEq)]
pub struct EarliestLimit {
    /// Events until then.
    pub life: RemainingLife,
    /// Most often first; at most ten.
    pub limits: Vec<UnitLimit>,
    /// Probability that nothing comes within the horizon.
    pub beyond_horizon_probability: f64,
}

/// A mechanism of a component as the limit of a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitLimit {
    /// Which component.
    pub component: ComponentName,
    /// As on its card.
    pub mechanism: String,
    /// Name for people.
    pub label: String,
    /// Probability that it comes first.
    pub probability: f64,
}

/// A candidate and what it does.
#[derive(Clone, Debug)]
pub struct CandidateEffect {
    /// Name.
    pub label: String,
    /// What it does, or why that is not known.
    pub effect: Result<UnitEffect, LedgerError>,
}

/// What a candidate does to the earliest limit of a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitEffect {
    /// The components that it changes.
    pub components: Vec<ComponentName>,
    /// The earliest limit with it.
    pub earliest: EarliestLimit,
    /// Change of the median.
    pub median_change_events: Bounds,
    /// Change for drawn units.
    pub change_events: BoundedQuantiles,
    /// How often the limit comes later.
    pub later: Odds,
    /// Median life over life without, of each component by itself.
    pub own_life_ratios: Vec<Bounds>,
    /// Of its treatments for all components.
    pub price: Option<f64>,
    /// What the figures rest on.
    pub evidence: Vec<TreatmentEvidence>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
}

/// One change after another.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitStep {
    /// The candidate that is added.
    pub label: String,
    /// The earliest limit with all so far.
    pub earliest: EarliestLimit,
    /// Change of its median by this one.
    pub median_change_events: Bounds,
    /// In words.
    pub text: String,
}
