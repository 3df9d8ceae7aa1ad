//! Questions of the week: run one more event, what a shock cost, more speed, a move, a spare.

use crate::{
    Advice, Basis, BoundedQuantiles, Bounds, BuildName, ComponentName, DutyRecordName,
    EarliestLimit, EventCost, LedgerError, Odds, OverrulingFinding, ProfileName, RemainingLife,
    UnitName,
};
use jiff::Timestamp;
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

/// Can this part go in that unit?
#[derive(Clone, Debug, PartialEq)]
pub struct AskPartMove {
    /// The part.
    pub component: ComponentName,
    /// Where it would go.
    pub unit: UnitName,
    /// At which position; empty: the place of the one of its type that is there.
    pub position: String,
    /// The events to come.
    pub event: AskedEvent,
}

/// Kinds of what stands against a move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ObstacleKind {
    /// It came to its end.
    Retired,
    /// The unit has nothing of its type there.
    WrongType,
    /// Another is at the position; it comes out first.
    PositionTaken,
    /// Its use is not known: a fatigue part counts as at the end of its life.
    HistoryUnknown,
    /// A finding at it stands.
    Finding,
    /// A limit is passed by prediction.
    PastLimit,
    /// What it is matched with stays behind.
    MatchedSet,
    /// From one hand to the other.
    Hand,
}

/// What stands against a move.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// Its kind.
    pub kind: ObstacleKind,
    /// Whether it says no; else it is to be known.
    pub refuses: bool,
    /// In words, with what to do.
    pub text: String,
}

/// A unit with and without a move.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitOutlook {
    /// Which unit.
    pub unit: UnitName,
    /// The build.
    pub build: BuildName,
    /// Probability that any part comes to a limit in the next event.
    pub risk: f64,
    /// The same with the move.
    pub risk_after: f64,
    /// Earliest limit now; none when the unit holds nothing that has a life.
    pub earliest: EarliestLimit,
    /// The same with the move.
    pub earliest_after: EarliestLimit,
    /// How much later it is with the move, draw by draw.
    pub later_events: BoundedQuantiles,
}

/// The answer to [`AskPartMove`].
#[derive(Clone, Debug)]
pub struct PartMove {
    /// The part.
    pub component: ComponentName,
    /// Its type.
    pub component_type: String,
    /// The duty of an event.
    pub profile: ProfileName,
    /// The position that it would have.
    pub position: String,
    /// What comes out for it.
    pub replaces: Option<ComponentName>,
    /// Whether anything says no.
    pub refused: bool,
    /// In words.
    pub verdict: String,
    /// What stands against it.
    pub obstacles: Vec<Obstacle>,
    /// The part where it would be.
    pub outlook: PartOutlook,
    /// Risk of the parts of its type in the new unit together, in the next event: now.
    pub set_risk: f64,
    /// The same with the move.
    pub set_risk_after: f64,
    /// The unit that it would go into.
    pub to: UnitOutlook,
    /// The unit that it would leave, if it is in one.
    pub from: Option<UnitOutlook>,
    /// What it leaves behind, a sentence each.
    pub leaves_behind: Vec<String>,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}

/// Buy the spare now?
#[derive(Clone, Debug, PartialEq)]
pub struct AskSpare {
    /// The units that it would serve, 1 to 20.
    pub units: Vec<UnitName>,
    /// The component type; empty: a whole unit.
    pub component_type: String,
    /// The events to come; `None`: each unit's own profile.
    pub event: AskedEvent,
    /// How many events are to come, 1 to 60; left out when their times are given.
    pub events: u32,
    /// When they are, rising.
    pub event_times: Vec<Timestamp>,
    /// Price of the spare.
    pub spare_price: f64,
    /// From order to fitted.
    pub lead_time_days: f64,
    /// Days from one event to the next where no times are given.
    pub days_between_events: f64,
    /// An event that a unit misses.
    pub missed_event_cost: f64,
}

/// One of the events to come.
#[derive(Clone, Debug, PartialEq)]
pub struct SpareEvent {
    /// Its number, from 1.
    pub event: u32,
    /// When it is, where times were given.
    pub time: Option<Timestamp>,
    /// Probability that some unit has come to a limit by its end: one less the product of what each survives.
    pub down_probability: f64,
    /// The same of each unit, in the order of the call.
    pub by_unit: Vec<f64>,
    /// Expected loss that a spare avoids when it is there from this event on.
    pub avoided_from_here: f64,
}

/// The answer to [`AskSpare`].
#[derive(Clone, Debug, PartialEq)]
pub struct SpareAnswer {
    /// The units.
    pub units: Vec<UnitName>,
    /// The component type; empty: a whole unit.
    pub component_type: String,
    /// Whether the loss avoided is more than the price.
    pub pays: bool,
    /// In words.
    pub verdict: String,
    /// Why, a sentence each.
    pub why: Vec<String>,
    /// The events.
    pub events: Vec<SpareEvent>,
    /// Expected loss without a spare.
    pub loss_without: f64,
    /// Expected loss with one from the first event on, without its price.
    pub loss_with: f64,
    /// Loss avoided, draw by draw: 5, 50 and 95 %.
    pub avoided: crate::Quantiles,
    /// The price at which both are alike: the expected loss that it avoids.
    pub break_even_price: f64,
    /// Standard error of it by the number of draws.
    pub break_even_error: f64,
    /// The last event from which on it still pays, if it does at all.
    pub latest_arrival_event: Option<u32>,
    /// When it must be ordered for that, where times were given.
    pub latest_order_time: Option<Timestamp>,
    /// How many lives were drawn.
    pub samples: u32,
    /// What the reader should know.
    pub notes: Vec<Finding>,
    /// To show with every answer.
    pub cautions: Vec<String>,
}
