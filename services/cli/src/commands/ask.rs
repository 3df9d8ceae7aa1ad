//! `ringland ask`.

use super::{Session, labels};
use crate::{
    CliError, json,
    measures::{self, Quantity},
    names,
    out::waiting,
    show::{questions as show, questions_shop},
    times,
};
use clap::{Args, Subcommand};
use ringland_proto::v1::{
    AskOneMoreEventRequest, AskOverRevCostRequest, AskPartMoveRequest, AskSpareRequest,
    AskSpeedChangeRequest, AskedEvent, ComparisonBasis, Stakes,
};
use std::collections::HashMap;

/// `ringland ask ...`
#[derive(Debug, Subcommand)]
pub enum AskCommand {
    /// Run one more event, or pull it?
    OneMoreEvent(OneMoreEventArgs),
    /// What did that over-rev, or any other shock, cost?
    OverRev(OverRevArgs),
    /// What do more revolutions cost?
    Speed(SpeedArgs),
    /// Can this part go in that unit?
    Move(MoveArgs),
    /// Buy the spare now?
    Spare(SpareArgs),
}

/// The event to come.
#[derive(Debug, Args)]
struct EventArgs {
    /// Profile of the event [default: the unit's]
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "PROFILE"
    )]
    profile: String,
    /// So many times the use of the profile [default: 1]
    #[arg(long, value_name = "TIMES")]
    severity: Option<f64>,
}

impl EventArgs {
    fn event(&self) -> AskedEvent {
        AskedEvent {
            profile: names::profile(&self.profile),
            severity: self.severity,
        }
    }
}

/// Prices of replacing parts.
#[derive(Debug, Args)]
struct PriceArgs {
    /// Price of replacing a part, part and labour, by type or component: valve_spring=970; may be given several times
    #[arg(long = "replace", value_name = "WHAT=AMOUNT", value_parser = price)]
    replace: Vec<(String, f64)>,
}

impl PriceArgs {
    fn prices(&self) -> HashMap<String, f64> {
        self.replace.iter().cloned().collect()
    }
}

/// `ringland ask one-more-event`
#[derive(Debug, Args)]
pub struct OneMoreEventArgs {
    /// Unit, or component as components/ID
    target: String,
    #[command(flatten)]
    event: EventArgs,
    /// Price of a failure that costs the unit, in the shop's currency
    #[arg(long, value_name = "AMOUNT")]
    failure: Option<f64>,
    /// Price of an event that is not finished
    #[arg(long, value_name = "AMOUNT")]
    unfinished: Option<f64>,
    /// Price of the event that is missed if it is pulled now; leave it out if there is time between events
    #[arg(long, value_name = "AMOUNT")]
    missed: Option<f64>,
    #[command(flatten)]
    prices: PriceArgs,
}

/// `ringland ask over-rev`
#[derive(Debug, Args)]
pub struct OverRevArgs {
    /// The duty record: UNIT/RECORD, as `ringland duty list` shows it
    record: String,
    /// Kind of shock, as `ringland channels` lists them
    #[arg(long, default_value = "over_rev")]
    kind: String,
    /// Which of that kind in the record, from 1 [default: all]
    #[arg(
        long,
        default_value_t = 0,
        hide_default_value = true,
        value_name = "NUMBER"
    )]
    number: i32,
    #[command(flatten)]
    event: EventArgs,
    #[command(flatten)]
    prices: PriceArgs,
}

/// `ringland ask speed`
#[derive(Debug, Args)]
pub struct SpeedArgs {
    /// Which unit
    unit: String,
    /// Change of engine speed with its unit: 200rpm, -200rpm; up to eight
    #[arg(long, required = true, num_args = 1.., allow_hyphen_values = true, value_parser = speed, value_name = "SPEED")]
    change: Vec<f64>,
    /// With new parts instead of those that are there
    #[arg(long)]
    new: bool,
    #[command(flatten)]
    event: EventArgs,
    #[command(flatten)]
    prices: PriceArgs,
}

/// `ringland ask move`
#[derive(Debug, Args)]
pub struct MoveArgs {
    /// Which component
    component: String,
    /// Into which unit
    unit: String,
    /// At which position [default: the place of the one of its type]
    #[arg(long, default_value = "", hide_default_value = true)]
    position: String,
    #[command(flatten)]
    event: EventArgs,
}

/// `ringland ask spare`
#[derive(Debug, Args)]
pub struct SpareArgs {
    /// The units that it would serve
    // `units` is the measures of every command.
    #[arg(id = "served", required = true, value_name = "UNIT")]
    units: Vec<String>,
    /// Component type [default: a whole unit]
    #[arg(
        long = "type",
        default_value = "",
        hide_default_value = true,
        value_name = "TYPE"
    )]
    component_type: String,
    /// Events to come, where no times are given
    #[arg(
        long,
        default_value_t = 0,
        hide_default_value = true,
        value_name = "COUNT"
    )]
    events: i32,
    /// Days from one event to the next, where no times are given
    #[arg(long, default_value_t = 14.0, value_name = "DAYS")]
    every: f64,
    /// Times of the events to come, in order: 2026-04-18,2026-05-02
    #[arg(long, value_delimiter = ',', value_parser = times::read, value_name = "TIMES")]
    at: Vec<prost_types::Timestamp>,
    /// Price of the spare, in the shop's currency
    #[arg(long, value_name = "AMOUNT")]
    price: f64,
    /// Days from order to fitted
    #[arg(long, value_name = "DAYS")]
    lead: f64,
    /// Price of an event that a unit misses
    #[arg(long, value_name = "AMOUNT")]
    missed: f64,
    #[command(flatten)]
    event: EventArgs,
}

pub(super) async fn run(command: AskCommand, session: &Session) -> Result<(), CliError> {
    match command {
        AskCommand::OneMoreEvent(arguments) => one_more_event(&arguments, session).await,
        AskCommand::OverRev(arguments) => over_rev(&arguments, session).await,
        AskCommand::Speed(arguments) => speed_change(&arguments, session).await,
        AskCommand::Move(arguments) => part_move(&arguments, session).await,
        AskCommand::Spare(arguments) => spare(&arguments, session).await,
    }
}

async fn one_more_event(arguments: &OneMoreEventArgs, session: &Session) -> Result<(), CliError> {
    let OneMoreEventArgs {
        failure,
        unfinished,
        missed,
        ..
    } = *arguments;
    let replace_costs = arguments.prices.prices();
    let priced = failure.or(unfinished).or(missed).is_some() || !replace_costs.is_empty();
    let request = AskOneMoreEventRequest {
        target: names::unit(&arguments.target),
        event: Some(arguments.event.event()),
        stakes: priced.then(|| Stakes {
            failure_cost: failure.unwrap_or_default(),
            unfinished_event_cost: unfinished.unwrap_or_default(),
            missed_event_cost: missed.unwrap_or_default(),
            replace_costs,
        }),
    };
    let spinner = waiting("weighing the event");
    let answer = session.api.questions().ask_one_more_event(request).await;
    spinner.finish_and_clear();
    let (answer, out) = (answer?.into_inner(), session.out);
    if out.json {
        return out.json(&json::to_json("OneMoreEvent", &answer)?);
    }
    out.text(&show::one_more_event(&answer, &out.look))
}

async fn over_rev(arguments: &OverRevArgs, session: &Session) -> Result<(), CliError> {
    let request = AskOverRevCostRequest {
        duty_record: names::duty_record(&arguments.record),
        kind: arguments.kind.clone(),
        number: arguments.number,
        event: Some(arguments.event.event()),
        replace_costs: arguments.prices.prices(),
    };
    let spinner = waiting("folding the history without it");
    let answer = session.api.questions().ask_over_rev_cost(request).await;
    spinner.finish_and_clear();
    let (answer, out) = (answer?.into_inner(), session.out);
    if out.json {
        return out.json(&json::to_json("OverRevCost", &answer)?);
    }
    out.text(&show::over_rev_cost(&answer, &out.look))
}

async fn speed_change(arguments: &SpeedArgs, session: &Session) -> Result<(), CliError> {
    let basis = if arguments.new {
        ComparisonBasis::New
    } else {
        ComparisonBasis::Present
    };
    let request = AskSpeedChangeRequest {
        unit: names::unit(&arguments.unit),
        event: Some(arguments.event.event()),
        changes_rad_s: arguments.change.clone(),
        basis: basis.into(),
        replace_costs: arguments.prices.prices(),
    };
    let spinner = waiting("driving the event at each speed");
    let answer = session.api.questions().ask_speed_change(request).await;
    spinner.finish_and_clear();
    let (answer, out) = (answer?.into_inner(), session.out);
    if out.json {
        return out.json(&json::to_json("SpeedChange", &answer)?);
    }
    out.text(&show::speed_change(&answer, &out.look))
}

async fn part_move(arguments: &MoveArgs, session: &Session) -> Result<(), CliError> {
    let request = AskPartMoveRequest {
        component: names::component(&arguments.component),
        unit: names::unit(&arguments.unit),
        position: arguments.position.clone(),
        event: Some(arguments.event.event()),
    };
    let spinner = waiting("trying it there");
    let answer = session.api.questions().ask_part_move(request).await;
    spinner.finish_and_clear();
    let (answer, out) = (answer?.into_inner(), session.out);
    if out.json {
        return out.json(&json::to_json("PartMove", &answer)?);
    }
    out.text(&questions_shop::part_move(&answer, &out.look))
}

async fn spare(arguments: &SpareArgs, session: &Session) -> Result<(), CliError> {
    let request = AskSpareRequest {
        units: arguments
            .units
            .iter()
            .map(|unit| names::unit(unit))
            .collect(),
        component_type: arguments.component_type.clone(),
        event: Some(arguments.event.event()),
        events: arguments.events,
        event_times: arguments.at.clone(),
        spare_price: arguments.price,
        lead_time_days: arguments.lead,
        days_between_events: arguments.every,
        missed_event_cost: arguments.missed,
    };
    let spinner = waiting("running the season");
    let answer = session.api.questions().ask_spare(request).await;
    spinner.finish_and_clear();
    let (answer, out) = (answer?.into_inner(), session.out);
    if out.json {
        return out.json(&json::to_json("SpareAnswer", &answer)?);
    }
    out.text(&questions_shop::spare(&answer, &out.look))
}

fn price(text: &str) -> Result<(String, f64), String> {
    let (what, amount) = labels::read(text)
        .map_err(|_| format!("{text:?}: expected WHAT=AMOUNT, such as valve_spring=970"))?;
    let amount = amount
        .parse()
        .map_err(|_| format!("{amount:?} is not a number"))?;
    Ok((what, amount))
}

fn speed(text: &str) -> Result<f64, String> {
    measures::read(text, Quantity::RotationalSpeed)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 rpm is pi/30 rad/s.
    #[test]
    fn speeds_have_units_and_prices_have_owners() {
        let faster = speed("200rpm").unwrap();
        assert!((faster - 200.0 * std::f64::consts::PI / 30.0).abs() < 1e-9);
        assert!((speed("-200rpm").unwrap() + faster).abs() < 1e-9);
        assert!(speed("200").is_err());
        assert_eq!(
            price("valve_spring=970").unwrap(),
            ("valve_spring".into(), 970.0)
        );
        assert!(price("970").is_err() && price("a=b").is_err());
    }
}
