//! Calendars of events. Amounts are in the shop's currency.

use crate::{CalendarName, ProfileName, UnitName};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A calendar as it is put.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CalendarInput {
    /// Name for people.
    pub display_name: String,
    /// In the order of time.
    pub events: Vec<CalendarEvent>,
    /// Times at which units may be torn down.
    pub opportunities: Vec<Opportunity>,
    /// How deep a unit may be torn down.
    pub levels: Vec<TeardownLevel>,
    /// What parts cost.
    pub parts: Vec<PartPrice>,
    /// Looks and measurements between events.
    pub checks: Vec<CalendarCheck>,
    /// Limits of makers and sanctioning bodies.
    pub limits: Vec<PartLimit>,
    /// Of an hour of labour.
    pub labour_rate_per_h: f64,
    /// What the end of a part costs.
    pub failure_costs: FailureCosts,
    /// Most risk that an event may have.
    pub risk_caps: EventRiskCaps,
}

/// A calendar in a revision.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Calendar {
    /// `calendars/{calendar}`
    pub name: CalendarName,
    /// As it was put.
    pub content: CalendarInput,
    /// Counts from 1.
    pub revision: u32,
    /// When this revision was put.
    pub update_time: Timestamp,
    /// Changes with every revision.
    pub etag: String,
}

/// A meeting.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CalendarEvent {
    /// Short and unique.
    pub code: String,
    /// Name for people.
    pub title: String,
    /// When it begins.
    pub start_time: Timestamp,
    /// `None`: the event profile of the unit.
    pub profile: Option<ProfileName>,
    /// How many events of that profile it is worth.
    pub severity: f64,
    /// For some component types, in place of `severity`.
    pub severity_by_type: BTreeMap<String, f64>,
    /// Mean oil temperature in place of the profile's.
    pub oil_temp_k: Option<f64>,
    /// Units that run; empty: all.
    pub units: Vec<UnitName>,
    /// Whether not finishing costs extra.
    pub race: bool,
}

/// A time at which a unit may be torn down.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Opportunity {
    /// The event that it follows; empty: before the first.
    pub after_event: String,
    /// When the parts must be there.
    pub time: Option<Timestamp>,
    /// Levels that are possible; empty: all.
    pub levels: Vec<String>,
    /// Labour that there is time for.
    pub available_min: Option<f64>,
}

/// How deep a unit is torn down.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct TeardownLevel {
    /// Short and unique.
    pub name: String,
    /// Taking down and building up.
    pub labour_min: f64,
    /// Gaskets, fluids.
    pub cost: f64,
    /// Levels whose parts it serves too.
    pub includes: Vec<String>,
}

/// What a new part of a type costs and takes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct PartPrice {
    /// Which type.
    pub component_type: String,
    /// Of one part or set.
    pub price: f64,
    /// Labour besides the teardown.
    pub fitting_min: f64,
    /// Teardown level that it needs; empty: none.
    pub level: String,
    /// From order to shelf.
    pub lead_days: f64,
    /// On the shelf.
    pub stock: u32,
}

/// A look or a measurement between events.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CalendarCheck {
    /// Of which type.
    pub component_type: String,
    /// A reading of the model's card, or in words.
    pub check: String,
    /// What it takes.
    pub minutes: f64,
    /// With what.
    pub instrument: String,
    /// Share of what is open of the part's life that it tells.
    pub tells: Option<f64>,
}

/// Whose limit it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum LimitOwner {
    /// The part's maker.
    Maker,
    /// The sanctioning body.
    SanctioningBody,
}

/// A limit that no plan passes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PartLimit {
    /// Parts of this type.
    pub component_type: String,
    /// Most hours of duty since new.
    pub most_hours: Option<f64>,
    /// Most events since new.
    pub most_events: Option<f64>,
    /// Whose.
    pub owner: LimitOwner,
    /// Where it is written.
    pub source: String,
}

/// What the end of a part costs, by its consequence.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FailureCosts {
    /// A nuisance.
    pub nuisance: f64,
    /// Loss of power.
    pub power_loss: f64,
    /// Loss of the unit.
    pub unit_loss: f64,
    /// People can be hurt.
    pub hazard: f64,
    /// Not finishing a race: added to the last two.
    pub did_not_finish: f64,
}

/// Most risk of an event; `None`: the ledger's.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct EventRiskCaps {
    /// Of losing the unit or worse.
    pub unit_loss: Option<f64>,
    /// Of an end that can hurt people.
    pub hazard: Option<f64>,
}
