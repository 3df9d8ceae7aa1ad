//! Shop processes that change surfaces, as the catalogue has them.

use crate::{ComponentInput, ResidualStressProfile, Revision, SurfaceState};
use jiff::Timestamp;
use ringland_host::contract::Finding;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What an effect rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Grade {
    /// Read in published work, named in the references.
    Published,
    /// Common practice of the trade, no source.
    CommonPractice,
    /// What this shop or its supplier says.
    Shop,
    /// Contradictory or anecdotal; its spread is wide.
    Weak,
}

/// A stage in the order of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Stage {
    /// Turning, milling, welding on.
    Machine,
    /// Stress relief, deep cold.
    StressRelieve,
    /// Hardening, nitriding.
    Harden,
    /// Grinding, honing.
    Grind,
    /// Peening, rolling.
    Peen,
    /// Superfinishing.
    Superfinish,
    /// Coating.
    Coat,
    /// Measured to final size.
    FinalMeasure,
}

/// A shop process: what it does to which surfaces, and what it must not touch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Treatment {
    /// The last part of its name.
    pub id: String,
    /// Name for people.
    pub label: String,
    /// What it is.
    pub description: String,
    /// What its effects rest on.
    pub grade: Grade,
    /// Where its numbers come from.
    pub source: String,
    /// Published work.
    pub references: Vec<String>,
    /// When it is done.
    pub stage: Stage,
    /// What must not have been done before it.
    pub not_after: Vec<OrderConflict>,
    /// How it changes sizes.
    pub stock: Vec<Stock>,
    /// Price of one part or set, in the shop's currency.
    pub price: Option<f64>,
    /// Days that it takes.
    pub lead_days: Option<f64>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// What it must not be done to.
    pub forbidden: Vec<Forbidden>,
    /// What it does to surfaces.
    pub effects: Vec<Effect>,
    /// Types on which nothing is modelled, with the reason.
    pub not_modelled: Vec<NotModelled>,
    /// The id of the built-in treatment in whose place the shop uses this one; empty for none.
    pub supersedes: String,
}

/// What must not have been done before.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OrderConflict {
    /// Anything of this stage.
    pub stage: Option<Stage>,
    /// Or this treatment; empty when a stage is given.
    pub treatment: String,
    /// On these types only; empty for all.
    pub component_types: Vec<String>,
    /// Why.
    pub reason: String,
}

/// A change of size by a treatment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stock {
    /// On these types; empty for all.
    pub component_types: Vec<String>,
    /// On these surfaces; empty for every one that is treated.
    pub surfaces: Vec<String>,
    /// Grown on each surface \[m\]; negative: taken off.
    pub growth_m: f64,
    /// Spread of it: standard deviation of its natural logarithm.
    pub ln_sd: f64,
    /// What to do.
    pub remedy: String,
}

/// What a treatment must not be done to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Forbidden {
    /// These types.
    pub component_types: Vec<String>,
    /// These surfaces of them; empty for the whole part.
    pub surfaces: Vec<String>,
    /// Why.
    pub reason: String,
}

/// Types on which a treatment has no effect that a model could see.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NotModelled {
    /// These types; empty for all that have no effect.
    pub component_types: Vec<String>,
    /// Why.
    pub reason: String,
}

/// What a treatment does to surfaces of a component type.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Effect {
    /// Of these types.
    pub component_types: Vec<String>,
    /// These surfaces.
    pub surfaces: Vec<String>,
    /// By property, in the order of names.
    pub properties: Vec<PropertyChange>,
    /// What it leaves of residual stress.
    pub residual_stress: Option<ResidualStressProfile>,
    /// Anything to say of it.
    pub note: String,
}

/// What a treatment does to one property of a surface.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PropertyChange {
    /// Which.
    pub property: String,
    /// How.
    pub operation: Operation,
    /// The median: a value in SI, or a factor.
    pub value: f64,
    /// Spread of it: standard deviation of its natural logarithm.
    pub ln_sd: f64,
}

/// How a property changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Operation {
    /// The process sets it, whatever it was.
    Set,
    /// The process multiplies it.
    Multiply,
    /// No more than this is left.
    AtMost,
    /// No less than this is left.
    AtLeast,
}

/// Where an entry of the catalogue comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Origin {
    /// With the program.
    BuiltIn {
        /// Version of the built-in catalogue.
        catalogue_version: String,
    },
    /// The shop's own.
    Shop {
        /// Counts from 1; every revision stays known.
        revision: u32,
    },
}

/// An entry of the catalogue.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CatalogueEntry {
    /// What it is.
    pub treatment: Treatment,
    /// Where it comes from.
    pub origin: Origin,
    /// As it is written.
    pub text: String,
    /// The shop's own treatments that are used in its place.
    pub superseded_by: Vec<String>,
    /// When the shop wrote it.
    pub update_time: Option<Timestamp>,
    /// Changes with every revision of the shop's; empty when built in.
    pub etag: String,
}

/// A treatment of a component.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct TreatmentUse {
    /// Id of the catalogue.
    pub treatment: String,
    /// Surfaces of the model's card; empty for every surface that the catalogue means it for.
    pub surfaces: Vec<String>,
}

/// A component as treatments leave it.
#[derive(Clone, Debug, PartialEq)]
pub struct Treated {
    /// With changed surfaces and the longer list of treatments.
    pub component: ComponentInput,
    /// What to know and to do; none is an error.
    pub findings: Vec<Finding>,
    /// All treatments together; `None` unless the catalogue has the price of each.
    pub price: Option<f64>,
    /// One after the other; `None` unless the catalogue has the days of each.
    pub lead_days: Option<f64>,
    /// What each treatment's effects rest on, by id.
    pub grades: BTreeMap<String, Grade>,
}

/// A surface before and after treatments, with the card's defaults filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct SurfaceChange {
    /// Surface of the card.
    pub surface: String,
    /// Before.
    pub before: SurfaceState,
    /// After.
    pub after: SurfaceState,
}

/// What treatments would do.
#[derive(Clone, Debug, PartialEq)]
pub struct TreatmentCheck {
    /// Errors and warnings, all at once.
    pub findings: Vec<Finding>,
    /// Surfaces that would change; those of refused treatments are left out.
    pub changes: Vec<SurfaceChange>,
    /// The list of treatments afterwards.
    pub treatments: Vec<String>,
    /// As in [`Treated`].
    pub price: Option<f64>,
    /// As in [`Treated`].
    pub lead_days: Option<f64>,
    /// As in [`Treated`].
    pub grades: BTreeMap<String, Grade>,
}

/// What was recorded of treatments.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct AppliedTreatments {
    /// The component from then on.
    pub revision: Revision,
    /// What to know and to do.
    pub findings: Vec<Finding>,
}

impl Grade {
    /// All, best first.
    pub const ALL: [Self; 4] = [
        Self::Published,
        Self::CommonPractice,
        Self::Shop,
        Self::Weak,
    ];

    /// As the catalogue writes it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::CommonPractice => "common_practice",
            Self::Shop => "shop",
            Self::Weak => "weak",
        }
    }
}

impl Stage {
    /// All, in the order of work.
    pub const ALL: [Self; 8] = [
        Self::Machine,
        Self::StressRelieve,
        Self::Harden,
        Self::Grind,
        Self::Peen,
        Self::Superfinish,
        Self::Coat,
        Self::FinalMeasure,
    ];

    /// As the catalogue writes it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Machine => "machine",
            Self::StressRelieve => "stress_relieve",
            Self::Harden => "harden",
            Self::Grind => "grind",
            Self::Peen => "peen",
            Self::Superfinish => "superfinish",
            Self::Coat => "coat",
            Self::FinalMeasure => "final_measure",
        }
    }
}

impl Treatment {
    /// Effects on a component type.
    pub fn effects_on<'a>(&'a self, component_type: &'a str) -> impl Iterator<Item = &'a Effect> {
        let on = move |effect: &&Effect| effect.component_types.iter().any(|t| t == component_type);
        self.effects.iter().filter(on)
    }

    /// Why a part of this type, as a whole, must not have it.
    pub fn forbids(&self, component_type: &str) -> Option<&Forbidden> {
        self.forbidden.iter().find(|forbidden| {
            forbidden.surfaces.is_empty()
                && forbidden
                    .component_types
                    .iter()
                    .any(|t| t == component_type)
        })
    }
}
