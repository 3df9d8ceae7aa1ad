//! Plans, ages of replacement, overrides. Amounts are in the shop's currency.

use crate::{CalendarName, ComponentName, LifeSource, OverrideName, PredictionName, UnitName};
use jiff::Timestamp;
use ringland_host::contract::Finding;
use serde::{Deserialize, Serialize};

/// A part in the place of another.
#[derive(Clone, Debug, PartialEq)]
pub struct Substitution {
    /// What is installed now.
    pub replaces: ComponentName,
    /// What goes in before the first event.
    pub component: ComponentName,
}

/// What a plan is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct MakePlan {
    /// Which unit.
    pub unit: UnitName,
    /// By which calendar.
    pub calendar: CalendarName,
    /// Events that begin later are planned; `None`: after the unit's last duty.
    pub as_of_time: Option<Timestamp>,
    /// What if these go in?
    pub substitutions: Vec<Substitution>,
    /// Lives drawn for each part; `None`: the ledger's.
    pub samples: Option<u32>,
    /// The risk of running on.
    pub replace_nothing: bool,
}

/// What to do between the events to come.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Which unit.
    pub unit: UnitName,
    /// By which calendar.
    pub calendar: CalendarName,
    /// As it was then.
    pub calendar_revision: u32,
    /// Events that begin later are planned.
    pub as_of_time: Option<Timestamp>,
    /// Lives drawn for each part.
    pub samples: u32,
    /// In the order of time.
    pub events: Vec<PlannedEvent>,
    /// In the order of time.
    pub teardowns: Vec<PlannedTeardown>,
    /// What the plan costs.
    pub cost: PlanCost,
    /// What it would cost to replace nothing.
    pub cost_of_nothing: PlanCost,
    /// What to look at before the next event, by value for each minute.
    pub checks: Vec<PlannedCheck>,
    /// Limits and findings for which parts may not run.
    pub standing_limits: Vec<StandingLimit>,
    /// Whether every event is within the caps.
    pub caps_met: bool,
    /// In sentences.
    pub verdict: String,
    /// What would bring events under their caps, or the unit to the start.
    pub remedies: Vec<String>,
    /// What the owner decided other than advised.
    pub overrides: Vec<Override>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}

/// An event under the plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlannedEvent {
    /// As in the calendar.
    pub code: String,
    /// As in the calendar.
    pub title: String,
    /// When it begins.
    pub start_time: Timestamp,
    /// Probability that a part ends in it with loss of the unit or worse, when none has before.
    pub risk: f64,
    /// Of that, an end that can hurt people.
    pub hazard_risk: f64,
    /// Of any end.
    pub any_end_risk: f64,
    /// Most that `risk` may be.
    pub risk_cap: f64,
    /// Most that `hazard_risk` may be.
    pub hazard_risk_cap: f64,
    /// `risk` when nothing is replaced.
    pub risk_of_nothing: f64,
    /// Expected cost of ends in it.
    pub failure_cost: f64,
    /// By risk, the largest first.
    pub parts: Vec<PlannedPart>,
}

/// A part in an event under the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedPart {
    /// The part that is there now.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// Where in the unit.
    pub position: String,
    /// Whether a new part has taken its place by then.
    pub renewed: bool,
    /// Probability that it ends in the event with loss of the unit or worse, when it has not before.
    pub risk: f64,
    /// Probability of any end.
    pub any_end_risk: f64,
    /// Of its life used at the end of the event: 10 %, 50 % and 90 % quantile.
    pub used: [f64; 3],
}

/// A teardown of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedTeardown {
    /// The event that it follows; empty: before the first.
    pub after_event: String,
    /// When the parts must be there.
    pub time: Option<Timestamp>,
    /// Levels.
    pub levels: Vec<String>,
    /// Parts that are replaced.
    pub replacements: Vec<PlannedReplacement>,
    /// Of teardown and fitting.
    pub labour_min: f64,
    /// Labour, and what levels cost.
    pub labour_cost: f64,
    /// Of parts.
    pub parts_cost: f64,
}

/// A part that is replaced.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedReplacement {
    /// The part that is there now, or the one that took its place.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// Where in the unit.
    pub position: String,
    /// Of the new part.
    pub price: f64,
    /// Fitting.
    pub fitting_min: f64,
    /// Last time to order it; `None` when it comes from the shelf.
    pub order_by_time: Option<Timestamp>,
    /// Why.
    pub reason: String,
}

/// Expected cost, and how near it is to the least.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlanCost {
    /// Parts.
    pub parts: f64,
    /// Labour, and what levels cost.
    pub labour: f64,
    /// Ends of parts, each at its probability.
    pub failures: f64,
    /// Together.
    pub total: f64,
    /// No plan that keeps the caps, or takes no more risk than this one in events where it passes
    /// them, costs less.
    pub at_least: f64,
    /// Share of the total that is not proved.
    pub gap: f64,
}

/// A look or a measurement before the next event.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedCheck {
    /// Which part.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// What to look at.
    pub check: String,
    /// With what.
    pub instrument: String,
    /// What it takes.
    pub minutes: f64,
    /// What it saves on average.
    pub value: f64,
    /// For each minute.
    pub value_per_min: f64,
    /// Probability that it changes what is done.
    pub changes_action: f64,
    /// In a sentence.
    pub text: String,
}

/// A limit or a finding for which a part may not run an event.
#[derive(Clone, Debug, PartialEq)]
pub struct StandingLimit {
    /// Which part.
    pub component: ComponentName,
    /// The first event that it may not run; empty: none, the plan replaces it in time.
    pub event: String,
    /// Which limit, whose, and what to do.
    pub text: String,
}

/// Where the law of lives comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum ReplacementLives {
    /// Lives of the shop.
    Lives(LifeSource),
    /// A Weibull law.
    Weibull {
        /// Shape.
        shape: f64,
        /// Characteristic life.
        scale: f64,
        /// In what ages are counted.
        age_unit: String,
    },
}

/// What an age of replacement is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct FindReplacementAge {
    /// Where the law comes from.
    pub lives: ReplacementLives,
    /// Of a replacement before the end.
    pub planned_cost: f64,
    /// Of an end.
    pub failure_cost: f64,
}

/// The age at which replacing costs least.
#[derive(Clone, Debug, PartialEq)]
pub struct ReplacementAge {
    /// In what ages are counted.
    pub age_unit: String,
    /// Shape of the law.
    pub shape: f64,
    /// Characteristic life.
    pub scale: f64,
    /// `None`: no age is better than running to the end.
    pub age: Option<f64>,
    /// By the ends of the shape's interval.
    pub age_range: Option<[f64; 2]>,
    /// Cost for each unit of age.
    pub cost_rate: f64,
    /// Cost for each unit of age when run to the end.
    pub run_to_failure_cost_rate: f64,
    /// In a sentence.
    pub verdict: String,
    /// What the reader should know.
    pub notes: Vec<Finding>,
}

/// What an override is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum OverrideSubject {
    /// A unit.
    Unit(UnitName),
    /// A component.
    Component(ComponentName),
}

/// A decision other than advised, as it is recorded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OverrideInput {
    /// Of what.
    pub subject: OverrideSubject,
    /// The prediction whose advice it is about.
    pub prediction: Option<PredictionName>,
    /// The calendar of the plan that it is about.
    pub calendar: Option<CalendarName>,
    /// The event that it is about; may be empty.
    pub event: String,
    /// What was advised.
    pub advice: String,
    /// What is done instead.
    pub decision: String,
    /// Who decided.
    pub decided_by: String,
    /// Why.
    pub reason: String,
    /// When it was decided.
    pub decision_time: Timestamp,
}

/// A decision other than advised.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Override {
    /// `overrides/{override}`
    pub name: OverrideName,
    /// As it was recorded.
    pub content: OverrideInput,
    /// When it was recorded.
    pub create_time: Timestamp,
}
