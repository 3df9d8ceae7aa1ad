//! Questions about one unit: run one more event, what a shock cost, more speed.

use crate::{
    Advice, Basis, BoundedQuantiles, Bounds, ComponentName, DutyRecordName, EarliestLimit,
    EventCost, LedgerError, Odds, OverrulingFinding, ProfileName, RemainingLife, UnitName,
};
use ringland_host::contract::Finding;
use std::collections::BTreeMap;

/// The event that a question is about.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AskedEvent {
    /// `None`: the event profile of the unit.
    pub profile: Option<ProfileName>,
    /// So many times the use of the profile, 0.05 to 20; `None`: once.
    pub severity: Option<f64>,
}

/// What is asked about.
#[derive(Clone, Debug, PartialEq)]
pub enum AskedOf {
    /// Everything in a unit.
    Unit(UnitName),
    /// One component.
    Component(ComponentName),
}

/// What things cost, in the shop's currency.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stakes {
    /// A failure that costs the unit.
    pub failure_cost: f64,
    /// An event not finished.
    pub unfinished_event_cost: f64,
    /// An event not run because the unit is apart; 0 where there is time to do it between events.
    pub missed_event_cost: f64,
    /// Replacing a part now: part and labour, by component name or component type.
    pub replace_costs: BTreeMap<String, f64>,
}

/// Run one more event, or pull it?
#[derive(Clone, Debug, PartialEq)]
pub struct AskOneMoreEvent {
    /// Of what.
    pub of: AskedOf,
    /// The event to come.
    pub event: AskedEvent,
    /// `None`: the answer goes by risk and findings alone.
    pub stakes: Option<Stakes>,
}

/// What to do before an event, from mild to strict. There is no word for "safe".
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Decision {
    /// Nothing known speaks against running; the risk stays.
    Run,
    /// Look at something before running.
    LookFirst,
    /// Pull it.
    Pull,
}

/// A part over the event to come.
#[derive(Clone, Debug)]
pub struct PartOutlook {
    /// Which component.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// Where it is in the build.
    pub position: String,
    /// Or why it has none.
    pub figures: Result<OutlookFigures, LedgerError>,
}

/// Figures of a part over the event to come.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlookFigures {
    /// Remaining life.
    pub life: RemainingLife,
    /// The mechanism most likely to come first, by its label; empty when none does within the horizon.
    pub limiting_label: String,
    /// How likely that is.
    pub limiting_probability: f64,
    /// Probability that any mechanism ends its life in the event.
    pub risk: f64,
    /// The same of mechanisms that cost the unit or can hurt people.
    pub failure_risk: f64,
    /// What the model advises.
    pub advice: Advice,
    /// Findings at the part that overrule what was computed.
    pub overruled_by: Vec<OverrulingFinding>,
}

/// What says "pull" whatever the money says.
#[derive(Clone, Debug, PartialEq)]
pub struct Overriding {
    /// Of which part; `None`: the unit.
    pub component: Option<ComponentName>,
    /// What it is, in words.
    pub text: String,
    /// What ends it, in words.
    pub closes: String,
}

/// The expected loss of running against that of pulling now, in the shop's currency.
#[derive(Clone, Debug, PartialEq)]
pub struct RunOrPull {
    /// Of running as it is.
    pub run: f64,
    /// Of pulling now: life thrown away, an event missed, and the risk of what stays and of the new parts.
    pub pull: Bounds,
    /// What of it is life thrown away.
    pub thrown_away: Bounds,
    /// The parts that would be replaced.
    pub replaced: Vec<ComponentName>,
}

/// A part in the answer to [`AskOneMoreEvent`].
#[derive(Clone, Debug)]
pub struct PartInEvent {
    /// Its figures.
    pub outlook: PartOutlook,
    /// Its life left over that of a new one like it; `None` for a part without figures.
    pub unused_share: Option<BoundedQuantiles>,
}

/// The answer to [`AskOneMoreEvent`].
#[derive(Clone, Debug)]
pub struct OneMoreEvent {
    /// The unit, if it is in one.
    pub unit: Option<UnitName>,
    /// The duty of the event.
    pub profile: ProfileName,
    /// Times the profile.
    pub severity: f64,
    /// What to do.
    pub decision: Decision,
    /// In words, the decision first.
    pub verdict: String,
    /// Why, a sentence each.
    pub why: Vec<String>,
    /// Probability that any part comes to a limit in the event.
    pub risk: f64,
    /// Probability of an end that costs the unit or can hurt people.
    pub failure_risk: f64,
    /// Riskiest first.
    pub parts: Vec<PartInEvent>,
    /// The earliest limit of what was asked about.
    pub earliest: EarliestLimit,
    /// `None` without stakes.
    pub cost: Option<RunOrPull>,
    /// What says "pull" whatever the money says.
    pub overriding: Vec<Overriding>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}

/// What did that shock cost?
#[derive(Clone, Debug, PartialEq)]
pub struct AskShockCost {
    /// The record that it is in.
    pub duty_record: DutyRecordName,
    /// Its kind; empty: `over_rev`.
    pub kind: String,
    /// Which of that kind in the record, from 1; `None`: all of them.
    pub number: Option<u32>,
    /// The events to come, in which life is told.
    pub event: AskedEvent,
    /// Replacing a part: part and labour, by component name or component type.
    pub replace_costs: BTreeMap<String, f64>,
}

/// A shock as it was recorded.
#[derive(Clone, Debug, PartialEq)]
pub struct SeenShock {
    /// Which of its kind in the record, from 1.
    pub number: u32,
    /// Fields by name, SI.
    pub fields: BTreeMap<String, f64>,
}

/// A slot of a condition with a shock and without it.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotChange {
    /// As on the model's card.
    pub slot: String,
    /// Name for people.
    pub label: String,
    /// SI unit.
    pub unit: String,
    /// As it is.
    pub with: f64,
    /// As it would be.
    pub without: f64,
}

/// What a shock cost a part.
#[derive(Clone, Debug, PartialEq)]
pub struct ShockCostFigures {
    /// Life left as it is.
    pub life: RemainingLife,
    /// Life left had it not been.
    pub life_without: RemainingLife,
    /// Life lost, draw by draw.
    pub lost_events: BoundedQuantiles,
    /// How often the part without it lives longer, as long, shorter.
    pub longer_without: Odds,
    /// Risk of the next event.
    pub risk: f64,
    /// The same had it not been.
    pub risk_without: f64,
    /// What of the condition differs.
    pub condition: Vec<SlotChange>,
    /// What the model advises now.
    pub advice: Advice,
    /// Price of the share of a new part's life that is lost; `None` without a price.
    pub price: Option<BoundedQuantiles>,
}

/// A part in the answer to [`AskShockCost`].
#[derive(Clone, Debug)]
pub struct PartShockCost {
    /// Which component.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// Where it was then.
    pub position: String,
    /// Whether it is in that unit still.
    pub still_installed: bool,
    /// Or why there are none.
    pub figures: Result<ShockCostFigures, LedgerError>,
}

/// The answer to [`AskShockCost`].
#[derive(Clone, Debug)]
pub struct ShockCost {
    /// The unit that ran.
    pub unit: UnitName,
    /// The record.
    pub duty_record: DutyRecordName,
    /// The kind of shock.
    pub kind: String,
    /// What was taken out.
    pub shocks: Vec<SeenShock>,
    /// Time taken out of the operating points with them.
    pub removed_time_s: f64,
    /// The duty of an event.
    pub profile: ProfileName,
    /// In words.
    pub verdict: String,
    /// Why, a sentence each.
    pub why: Vec<String>,
    /// What to check, a sentence each.
    pub check: Vec<String>,
    /// Dearest first.
    pub parts: Vec<PartShockCost>,
    /// Earliest limit of the parts that are still in the unit.
    pub earliest: EarliestLimit,
    /// The same had it not been.
    pub earliest_without: EarliestLimit,
    /// How much later it would be, draw by draw.
    pub lost_events: BoundedQuantiles,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}

/// What do more revolutions cost?
#[derive(Clone, Debug, PartialEq)]
pub struct AskSpeedChange {
    /// Which unit.
    pub unit: UnitName,
    /// The events to come.
    pub event: AskedEvent,
    /// Changes of engine speed, 1 to 8, each at most 300 rad/s either way.
    pub changes_rad_s: Vec<f64>,
    /// New parts, or those that are there.
    pub basis: Basis,
    /// Replacing a part: part and labour, by component name or component type.
    pub replace_costs: BTreeMap<String, f64>,
}

/// What a change of speed does to a part.
#[derive(Clone, Debug, PartialEq)]
pub struct SpeedFigures {
    /// Its life at that speed.
    pub life: RemainingLife,
    /// Life over that at the present speed, draw by draw.
    pub life_ratio: BoundedQuantiles,
    /// How often it is longer, as long, shorter.
    pub longer: Odds,
    /// Risk of the first event.
    pub risk: f64,
    /// The same at the present speed.
    pub risk_before: f64,
    /// Limits of readings that are passed by the end of the first event, in words.
    pub limits_passed: Vec<String>,
    /// Cost of an event; `None` without a price.
    pub cost: Option<EventCost>,
    /// The same at the present speed.
    pub cost_before: Option<EventCost>,
}

/// A part in the answer to [`AskSpeedChange`].
#[derive(Clone, Debug)]
pub struct PartAtSpeed {
    /// Which component.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// Or why there are none.
    pub figures: Result<SpeedFigures, LedgerError>,
}

/// One change of speed.
#[derive(Clone, Debug)]
pub struct SpeedAlternative {
    /// By how much.
    pub change_rad_s: f64,
    /// In words.
    pub verdict: String,
    /// Most shortened first.
    pub parts: Vec<PartAtSpeed>,
    /// Earliest limit of the unit.
    pub earliest: EarliestLimit,
    /// How much later it is, draw by draw.
    pub later_events: BoundedQuantiles,
    /// Sum over priced parts of the change of the long-run cost of an event; `None` without prices.
    pub cost_change: Option<Bounds>,
}

/// The answer to [`AskSpeedChange`].
#[derive(Clone, Debug)]
pub struct SpeedChange {
    /// Which unit.
    pub unit: UnitName,
    /// The duty of an event.
    pub profile: ProfileName,
    /// New parts, or those that are there.
    pub basis: Basis,
    /// Earliest limit as it is.
    pub earliest: EarliestLimit,
    /// In the order of the call.
    pub alternatives: Vec<SpeedAlternative>,
    /// What was shifted and what was kept, a sentence each.
    pub assumptions: Vec<String>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}
