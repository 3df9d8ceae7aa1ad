//! `ringland component`.

use super::{RequestId, Session, component_file::ComponentFields, history};
use crate::{CliError, connect::all_pages, json, names, table::table, times};
use clap::{Args, Subcommand, ValueEnum};
use prost_types::{FieldMask, Timestamp};
use ringland_proto::v1::{
    CheckComponentRequest, Component, CreateComponentRequest, EndCause, GetComponentRequest,
    InstallComponentRequest, Installation, ListComponentsRequest, MoveComponentRequest,
    RecordReworkRequest, RemoveComponentRequest, RetireComponentRequest, UpdateComponentRequest,
};

/// `ringland component`
#[derive(Debug, Subcommand)]
pub enum ComponentCommand {
    /// Create a component
    Create {
        /// Its id: lower-case letters, digits and hyphens
        id: String,
        #[command(flatten)]
        fields: Box<ComponentFields>,
        #[command(flatten)]
        request: RequestId,
    },
    /// Check a spec without creating anything
    Check {
        #[command(flatten)]
        fields: Box<ComponentFields>,
    },
    /// Show a component
    Get {
        /// Which
        component: String,
    },
    /// List components
    List {
        /// Only of this type
        #[arg(
            long = "type",
            default_value = "",
            hide_default_value = true,
            value_name = "TYPE"
        )]
        component_type: String,
        /// Only what is installed now in this UNIT or UNIT/BUILD
        #[arg(
            long = "in",
            default_value = "",
            hide_default_value = true,
            value_name = "PLACE"
        )]
        installed_in: String,
    },
    /// Change what is given of a component; a new spec or surface holds from --from on
    Update {
        /// Which
        component: String,
        #[command(flatten)]
        fields: Box<ComponentFields>,
        /// From when a change of spec or surfaces holds
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        from: Option<Timestamp>,
        /// Why the spec or the surfaces changed: the process and its sheet
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        reason: String,
    },
    /// Install a component in a build
    Install {
        /// Which
        component: String,
        /// UNIT/BUILD
        #[arg(long = "in", value_name = "BUILD")]
        build: String,
        /// Cylinder, side, gear
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        position: String,
        /// When
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        at: Timestamp,
        #[command(flatten)]
        request: RequestId,
    },
    /// Take a component out of its build
    Remove {
        /// Which
        component: String,
        /// When
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        at: Timestamp,
        #[command(flatten)]
        request: RequestId,
    },
    /// Take a component out of its build and install it in another
    Move {
        /// Which
        component: String,
        /// UNIT/BUILD that it goes to
        #[arg(long = "to", value_name = "BUILD")]
        build: String,
        /// Cylinder, side, gear
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        position: String,
        /// When
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        at: Timestamp,
        #[command(flatten)]
        request: RequestId,
    },
    /// End the life of a component: it leaves its build and is not installed again
    Retire(Box<RetireArgs>),
    /// Show where a component has been, its revisions and what the shop did to it
    History {
        /// Which
        component: String,
    },
    /// Record a shop operation that resets part of the condition
    Rework {
        /// Which
        component: String,
        /// Name of an operation of the model's card
        operation: String,
        /// When
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        at: Timestamp,
        /// Anything to remember
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        note: String,
        #[command(flatten)]
        request: RequestId,
    },
}

/// `ringland component retire`
#[derive(Debug, Args)]
pub struct RetireArgs {
    /// Which
    component: String,
    /// How its life ended
    #[arg(long, value_name = "CAUSE")]
    cause: Cause,
    /// The mechanism of the model's card that ended it, where it is known
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "MECHANISM"
    )]
    mechanism: String,
    /// When
    #[arg(long, value_name = "TIME", value_parser = times::read)]
    at: Timestamp,
    /// Who says so: a role or initials
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "WHO"
    )]
    by: String,
    /// What was found
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "TEXT"
    )]
    note: String,
    #[command(flatten)]
    request: RequestId,
}

async fn retired(retire: Box<RetireArgs>, session: &Session) -> Result<(), CliError> {
    let request = RetireComponentRequest {
        component: names::component(&retire.component),
        retire_time: Some(retire.at),
        cause: retire.cause.to_message().into(),
        mechanism: retire.mechanism,
        note: retire.note,
        retired_by: retire.by,
        request_id: retire.request.request_id,
    };
    let mut client = session.api.evidence();
    let retired = client.retire_component(request).await?.into_inner();
    show(&retired, session)
}

/// How a life ended.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Cause {
    /// It broke or seized
    Failed,
    /// It was measured past a limit
    ReachedLimit,
    /// Replaced in good order: its life is known as longer than this
    ReplacedBefore,
    /// Something else broke it: likewise
    DamagedByOther,
    /// Lost, sold or given up for another reason: likewise
    Lost,
}

impl Cause {
    fn to_message(self) -> EndCause {
        match self {
            Self::Failed => EndCause::Failed,
            Self::ReachedLimit => EndCause::ReachedLimit,
            Self::ReplacedBefore => EndCause::ReplacedBefore,
            Self::DamagedByOther => EndCause::DamagedByOther,
            Self::Lost => EndCause::Lost,
        }
    }
}

pub(super) async fn run(command: ComponentCommand, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.components();
    match command {
        ComponentCommand::Create {
            id,
            fields,
            request,
        } => {
            let request = CreateComponentRequest {
                component_id: id,
                component: Some(fields.read()?),
                request_id: request.request_id,
            };
            create(request, session).await
        }
        ComponentCommand::Check { fields } => check(fields.read()?, session).await,
        ComponentCommand::Get { component } => get(names::component(&component), session).await,
        ComponentCommand::List {
            component_type,
            installed_in,
        } => list(component_type, names::place(&installed_in), session).await,
        ComponentCommand::Update {
            component,
            fields,
            from,
            reason,
        } => update(&component, *fields, from, reason, session).await,
        ComponentCommand::Install {
            component,
            build,
            position,
            at,
            request,
        } => {
            let request = InstallComponentRequest {
                component: names::component(&component),
                build: names::build(&build),
                position,
                install_time: Some(at),
                request_id: request.request_id,
            };
            installed(
                &client.install_component(request).await?.into_inner(),
                session,
            )
        }
        ComponentCommand::Remove {
            component,
            at,
            request,
        } => {
            let request = RemoveComponentRequest {
                component: names::component(&component),
                remove_time: Some(at),
                request_id: request.request_id,
            };
            installed(
                &client.remove_component(request).await?.into_inner(),
                session,
            )
        }
        ComponentCommand::Move {
            component,
            build,
            position,
            at,
            request,
        } => {
            let request = MoveComponentRequest {
                component: names::component(&component),
                build: names::build(&build),
                position,
                move_time: Some(at),
                request_id: request.request_id,
            };
            installed(&client.move_component(request).await?.into_inner(), session)
        }
        ComponentCommand::Retire(retire) => retired(retire, session).await,
        ComponentCommand::History { component } => {
            history::show(&names::component(&component), session).await
        }
        ComponentCommand::Rework {
            component,
            operation,
            at,
            note,
            request,
        } => {
            let request = RecordReworkRequest {
                component: names::component(&component),
                operation,
                rework_time: Some(at),
                note,
                request_id: request.request_id,
            };
            rework(request, session).await
        }
    }
}

async fn create(request: CreateComponentRequest, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.components();
    let created = client.create_component(request).await?.into_inner();
    show(&created, session)
}

async fn get(name: String, session: &Session) -> Result<(), CliError> {
    let request = GetComponentRequest { name };
    let mut client = session.api.components();
    show(&client.get_component(request).await?.into_inner(), session)
}

async fn rework(request: RecordReworkRequest, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.components();
    let rework = client.record_rework(request).await?.into_inner();
    if session.out.json {
        return session.out.json(&json::to_json("Rework", &rework)?);
    }
    let time = times::show(rework.rework_time.as_ref());
    session.out.text(&format!(
        "{}: {} at {time}",
        rework.component, rework.operation
    ))
}

async fn update(
    component: &str,
    fields: ComponentFields,
    from: Option<Timestamp>,
    reason: String,
    session: &Session,
) -> Result<(), CliError> {
    let (mut changed, paths) = fields.read_with_paths()?;
    if paths.is_empty() {
        return Err(CliError::Usage(
            "nothing to change was given; see --help".into(),
        ));
    }
    changed.name = names::component(component);
    let request = UpdateComponentRequest {
        component: Some(changed),
        update_mask: Some(FieldMask { paths }),
        effective_time: from,
        reason,
    };
    let updated = session.api.components().update_component(request).await?;
    show(&updated.into_inner(), session)
}

async fn check(component: Component, session: &Session) -> Result<(), CliError> {
    let request = CheckComponentRequest {
        component: Some(component),
    };
    let answer = session
        .api
        .components()
        .check_component(request)
        .await?
        .into_inner();
    let out = session.out;
    if out.json {
        out.json(&json::to_json("CheckComponentResponse", &answer)?)?;
    } else if answer.findings.is_empty() {
        out.text("nothing found")?;
    } else {
        out.text(&crate::show::findings(&answer.findings, &out.look))?;
    }
    let refused = answer
        .findings
        .iter()
        .filter(|finding| crate::show::is_error(finding))
        .count();
    if refused == 0 {
        return Ok(());
    }
    let text = format!("the component would be refused: {refused} of the findings are errors");
    Err(tonic::Status::invalid_argument(text).into())
}

async fn list(component_type: String, place: String, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.components();
    let components = all_pages(async |page_token| {
        let request = ListComponentsRequest {
            component_type: component_type.clone(),
            installed_in: place.clone(),
            page_token,
            ..Default::default()
        };
        let page = client.list_components(request).await?.into_inner();
        Ok((page.components, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("components", "Component", &components)?);
    }
    let rows = components.iter().map(|component| {
        vec![
            names::id(&component.name).to_owned(),
            component.component_type.clone(),
            component.serial.clone(),
            component.display_name.clone(),
            place_of(component),
        ]
    });
    let header = ["component", "type", "serial", "name", "installed in"];
    out.text(&table(&out.look, &header, rows.collect()))
}

fn place_of(component: &Component) -> String {
    if component.installed_build.is_empty() {
        "-".into()
    } else {
        names::short(&component.installed_build)
    }
}

fn show(component: &Component, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Component", component)?);
    }
    out.text(&crate::show::component(component, &out.look))
}

fn installed(installation: &Installation, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Installation", installation)?);
    }
    let build = names::short(&installation.build);
    let text = match &installation.remove_time {
        None => format!(
            "{} installed in {build} at {}",
            installation.component,
            times::show(installation.install_time.as_ref())
        ),
        Some(time) => {
            format!(
                "{} taken out of {build} at {}",
                installation.component,
                times::show(Some(time))
            )
        }
    };
    out.text(&text)
}
