//! Questions about several units: a move, a spare.

use super::questions::{AskedEvent, PartOutlook};
use crate::{
    BoundedQuantiles, BuildName, ComponentName, EarliestLimit, ProfileName, Quantiles, UnitName,
};
use jiff::Timestamp;
use ringland_host::contract::Finding;

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
    pub avoided: Quantiles,
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
