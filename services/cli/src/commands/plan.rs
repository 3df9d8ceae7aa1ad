//! `ringland plan`.

use super::{RequestId, Session, calendar_file, notebook};
use crate::{CliError, connect::all_pages, json, names, out::waiting, show, times};
use clap::{Args, Subcommand};
use prost_types::Timestamp;
use ringland_proto::v1::{
    AgeMeasure, FindReplacementAgeRequest, GetCalendarRequest, GivenLives, LifeQuery,
    ListCalendarsRequest, MakePlanRequest, PutCalendarRequest, Substitution, WeibullLaw,
    find_replacement_age_request::Source,
};
use std::path::PathBuf;

/// `ringland plan`
#[derive(Debug, Subcommand)]
pub enum PlanCommand {
    /// Say what to replace at which teardown, the risk at every event, and what to look at first
    Make(MakeArgs),
    /// Events, teardowns, prices and limits of a season
    #[command(subcommand)]
    Calendar(CalendarCommand),
    /// Find the age at which replacing a part before it fails costs least
    Age(AgeArgs),
}

/// `ringland plan make`
#[derive(Debug, Args)]
pub struct MakeArgs {
    /// Which unit
    unit: String,
    /// By which calendar
    #[arg(long, value_name = "CALENDAR")]
    calendar: String,
    /// Plan events that begin after this time [default: the end of the unit's last duty]
    #[arg(long, value_name = "TIME", value_parser = times::read)]
    from: Option<Timestamp>,
    /// What if this part goes in: springs-a=springs-spare; may be given several times
    #[arg(long = "swap", value_name = "INSTALLED=COMPONENT", value_parser = swap)]
    swaps: Vec<Substitution>,
    /// Replace nothing: the risk of running on
    #[arg(long)]
    replace_nothing: bool,
    /// Lives drawn for each part, 64 to 4096 [default: the ledger's]
    #[arg(
        long,
        default_value_t = 0,
        hide_default_value = true,
        value_name = "COUNT"
    )]
    samples: i32,
    /// Besides the usual: every part in every event
    #[arg(long)]
    full: bool,
}

/// `ringland plan calendar`
#[derive(Debug, Subcommand)]
pub enum CalendarCommand {
    /// Put a calendar, or a new revision of one
    Put {
        /// Name for it: season-26
        calendar: String,
        /// TOML; `ringland plan calendar template` prints one to start from
        file: PathBuf,
        /// Only if this is still the present revision's etag
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "ETAG"
        )]
        etag: String,
        #[command(flatten)]
        request: RequestId,
    },
    /// Show a calendar
    Show {
        /// Which
        calendar: String,
        /// As this revision was
        #[arg(long, default_value_t = 0, hide_default_value = true, value_name = "N")]
        revision: u32,
    },
    /// List calendars
    List,
    /// Print a calendar to start from
    Template,
}

/// `ringland plan age`
#[derive(Debug, Args)]
pub struct AgeArgs {
    /// Cost of a replacement before the end
    #[arg(long, value_name = "AMOUNT")]
    planned_cost: f64,
    /// Cost of an end: the part, labour and all that follows
    #[arg(long, value_name = "AMOUNT")]
    failure_cost: f64,
    /// Shape of a Weibull law of lives
    #[arg(long, requires = "scale", conflicts_with_all = ["file", "component_type"], value_name = "NUMBER")]
    shape: Option<f64>,
    /// Its characteristic life
    #[arg(long, requires = "shape", value_name = "AGE")]
    scale: Option<f64>,
    /// Lives of parts of this type in the ledger, by hours of duty
    #[arg(
        long = "type",
        conflicts_with = "file",
        required_unless_present_any = ["shape", "file"],
        value_name = "TYPE"
    )]
    component_type: Option<String>,
    /// Lives of the shop's notebook, as `ringland evidence lives --file` takes them
    #[arg(long, value_name = "FILE")]
    file: Option<PathBuf>,
    /// In what ages of --shape or --file are counted
    #[arg(long, default_value = "h", value_name = "UNIT")]
    age_unit: String,
}

fn swap(text: &str) -> Result<Substitution, String> {
    let (replaces, component) = super::labels::read(text).map_err(|_| {
        format!("{text:?}: expected INSTALLED=COMPONENT, such as springs-a=springs-spare")
    })?;
    if component.is_empty() {
        return Err(format!("{text:?}: expected a component after ="));
    }
    Ok(Substitution {
        replaces: names::component(&replaces),
        component: names::component(&component),
    })
}

pub(super) async fn run(command: PlanCommand, session: &Session) -> Result<(), CliError> {
    match command {
        PlanCommand::Make(arguments) => make(arguments, session).await,
        PlanCommand::Age(arguments) => age(arguments, session).await,
        PlanCommand::Calendar(CalendarCommand::Put {
            calendar,
            file,
            etag,
            request,
        }) => put(&calendar, file, etag, request.request_id, session).await,
        PlanCommand::Calendar(CalendarCommand::Show { calendar, revision }) => {
            get(&calendar, revision, session).await
        }
        PlanCommand::Calendar(CalendarCommand::List) => list(session).await,
        PlanCommand::Calendar(CalendarCommand::Template) => {
            session.out.text(calendar_file::TEMPLATE)
        }
    }
}

async fn make(arguments: MakeArgs, session: &Session) -> Result<(), CliError> {
    let request = MakePlanRequest {
        unit: names::unit(&arguments.unit),
        calendar: names::calendar(&arguments.calendar),
        as_of_time: arguments.from,
        substitutions: arguments.swaps,
        samples: arguments.samples,
        replace_nothing: arguments.replace_nothing,
    };
    let spinner = waiting("drawing every part over every event");
    let answer = session.api.plans().make_plan(request).await;
    spinner.finish_and_clear();
    let plan = answer?.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Plan", &plan)?);
    }
    out.text(&show::plan(&plan, &out.look, arguments.full))
}

async fn put(
    calendar: &str,
    file: PathBuf,
    etag: String,
    request_id: String,
    session: &Session,
) -> Result<(), CliError> {
    let request = PutCalendarRequest {
        calendar_id: names::id(calendar).to_owned(),
        calendar: Some(calendar_file::read(&file)?),
        etag,
        request_id,
    };
    let answer = session.api.plans().put_calendar(request).await?;
    let calendar = answer.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Calendar", &calendar)?);
    }
    out.text(&format!(
        "{}, revision {}",
        calendar.name, calendar.revision
    ))
}

async fn get(calendar: &str, revision: u32, session: &Session) -> Result<(), CliError> {
    let request = GetCalendarRequest {
        name: names::calendar(calendar),
        revision,
    };
    let answer = session.api.plans().get_calendar(request).await?;
    let calendar = answer.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Calendar", &calendar)?);
    }
    out.text(&show::calendar(&calendar, &out.look))
}

async fn list(session: &Session) -> Result<(), CliError> {
    let mut client = session.api.plans();
    let calendars = all_pages(async |page_token| {
        let request = ListCalendarsRequest {
            page_token,
            ..Default::default()
        };
        let page = client.list_calendars(request).await?.into_inner();
        Ok((page.calendars, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("calendars", "Calendar", &calendars)?);
    }
    out.text(&show::calendars(&calendars, &out.look))
}

async fn age(arguments: AgeArgs, session: &Session) -> Result<(), CliError> {
    let source = if let Some((shape, scale)) = arguments.shape.zip(arguments.scale) {
        Source::Weibull(WeibullLaw {
            shape,
            scale,
            age_unit: arguments.age_unit,
        })
    } else if let Some(file) = &arguments.file {
        Source::Given(GivenLives {
            lives: notebook::lives(file)?,
            age_unit: arguments.age_unit,
        })
    } else {
        Source::Query(LifeQuery {
            component_type: arguments.component_type.unwrap_or_default(),
            measure: AgeMeasure::Hours.into(),
            ..Default::default()
        })
    };
    let request = FindReplacementAgeRequest {
        planned_cost: arguments.planned_cost,
        failure_cost: arguments.failure_cost,
        source: Some(source),
    };
    let answer = session.api.plans().find_replacement_age(request).await?;
    let found = answer.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("ReplacementAge", &found)?);
    }
    out.text(&show::replacement_age(&found, &out.look))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_swap_names_what_comes_out_and_what_goes_in() {
        let swap_of = swap("springs-a=springs-spare").unwrap();
        assert_eq!(swap_of.replaces, "components/springs-a");
        assert_eq!(swap_of.component, "components/springs-spare");
        for text in ["springs-a", "=springs-spare", "springs-a="] {
            assert!(swap(text).is_err(), "{text}");
        }
    }
}
