//! `ringland build`.

use super::{RequestId, Session};
use crate::{
    CliError,
    connect::all_pages,
    json, measures, names, numbers,
    table::{pairs, table},
    times,
};
use clap::Subcommand;
use prost_types::{FieldMask, Timestamp};
use ringland_proto::v1::{
    Build, BuildSheetLine, CloseBuildRequest, CreateBuildRequest, GetBuildRequest,
    ListBuildsRequest, ListInstallationsRequest, UpdateBuildRequest,
};
use std::path::PathBuf;

/// `ringland build`
#[derive(Debug, Subcommand)]
pub enum BuildCommand {
    /// Open a build
    Create {
        /// UNIT/BUILD
        build: String,
        /// When it was assembled
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        assembled: Timestamp,
        /// Name for people
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        display_name: String,
        /// Build sheet: TOML with [[build_sheet]] item, value, unit (SI), instrument, instrument_sd
        #[arg(long, value_name = "FILE")]
        sheet: Option<PathBuf>,
        #[command(flatten)]
        request: RequestId,
    },
    /// Show a build and its build sheet
    Get {
        /// UNIT/BUILD
        build: String,
    },
    /// List builds of a unit, or of all
    List {
        /// Which unit
        unit: Option<String>,
    },
    /// List what is and was installed in a build
    Contents {
        /// UNIT/BUILD
        build: String,
    },
    /// Change a build's name or build sheet
    Update {
        /// UNIT/BUILD
        build: String,
        /// Name for people
        #[arg(long, value_name = "TEXT")]
        display_name: Option<String>,
        /// Build sheet, in place of the present one
        #[arg(long, value_name = "FILE")]
        sheet: Option<PathBuf>,
    },
    /// Close a build at its teardown; what is still installed is taken out then
    Close {
        /// UNIT/BUILD
        build: String,
        /// When it was torn down
        #[arg(long, value_name = "TIME", value_parser = times::read)]
        torn_down: Timestamp,
        #[command(flatten)]
        request: RequestId,
    },
}

pub(super) async fn run(command: BuildCommand, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.builds();
    match command {
        BuildCommand::Create {
            build,
            assembled,
            display_name,
            sheet,
            request,
        } => {
            let (parent, build_id) = parent_and_id(&build)?;
            let build = Build {
                display_name,
                assembly_time: Some(assembled),
                build_sheet: read_sheet(sheet)?,
                ..Default::default()
            };
            let RequestId { request_id } = request;
            let request = CreateBuildRequest {
                parent,
                build_id,
                build: Some(build),
                request_id,
            };
            show(&client.create_build(request).await?.into_inner(), session)
        }
        BuildCommand::Get { build } => {
            let request = GetBuildRequest {
                name: names::build(&build),
            };
            show(&client.get_build(request).await?.into_inner(), session)
        }
        BuildCommand::List { unit } => list(unit.as_deref().unwrap_or("-"), session).await,
        BuildCommand::Contents { build } => contents(&names::build(&build), session).await,
        BuildCommand::Update {
            build,
            display_name,
            sheet,
        } => {
            let mut paths = Vec::new();
            let mut changed = Build {
                name: names::build(&build),
                ..Default::default()
            };
            if let Some(name) = display_name {
                changed.display_name = name;
                paths.push("display_name".to_owned());
            }
            if sheet.is_some() {
                changed.build_sheet = read_sheet(sheet)?;
                paths.push("build_sheet".to_owned());
            }
            if paths.is_empty() {
                return Err(CliError::Usage(
                    "nothing to change was given; see --help".into(),
                ));
            }
            let update_mask = Some(FieldMask { paths });
            let request = UpdateBuildRequest {
                build: Some(changed),
                update_mask,
            };
            show(&client.update_build(request).await?.into_inner(), session)
        }
        BuildCommand::Close {
            build,
            torn_down,
            request,
        } => {
            let request = CloseBuildRequest {
                name: names::build(&build),
                teardown_time: Some(torn_down),
                request_id: request.request_id,
            };
            show(&client.close_build(request).await?.into_inner(), session)
        }
    }
}

fn parent_and_id(build: &str) -> Result<(String, String), CliError> {
    let full = names::build(build);
    match full.split_once("/builds/") {
        Some((parent, id)) => Ok((parent.to_owned(), id.to_owned())),
        None => Err(CliError::Usage(format!(
            "{build:?}: expected UNIT/BUILD, such as engine-a/b-1"
        ))),
    }
}

fn read_sheet(file: Option<PathBuf>) -> Result<Vec<BuildSheetLine>, CliError> {
    let Some(file) = file else {
        return Ok(Vec::new());
    };
    Ok(json::from_toml_file::<Build>("Build", &file)?.build_sheet)
}

async fn list(unit: &str, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.builds();
    let parent = names::unit(unit);
    let builds = all_pages(async |page_token| {
        let request = ListBuildsRequest {
            parent: parent.clone(),
            page_token,
            ..Default::default()
        };
        let page = client.list_builds(request).await?.into_inner();
        Ok((page.builds, page.next_page_token))
    })
    .await?;
    if session.out.json {
        return session.out.json(&json::list("builds", "Build", &builds)?);
    }
    let rows = builds.iter().map(|build| {
        vec![
            names::short(&build.name),
            build.display_name.clone(),
            times::show(build.assembly_time.as_ref()),
            teardown(build),
        ]
    });
    let header = ["build", "name", "assembled", "torn down"];
    session
        .out
        .text(&table(&session.out.look, &header, rows.collect()))
}

async fn contents(build: &str, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.components();
    let installations = all_pages(async |page_token| {
        let request = ListInstallationsRequest {
            parent: "components/-".into(),
            build: build.to_owned(),
            page_token,
            ..Default::default()
        };
        let page = client.list_installations(request).await?.into_inner();
        Ok((page.installations, page.next_page_token))
    })
    .await?;
    if session.out.json {
        return session.out.json(&json::list(
            "installations",
            "Installation",
            &installations,
        )?);
    }
    let rows = installations.iter().map(|installation| {
        vec![
            names::id(&installation.component).to_owned(),
            installation.position.clone(),
            times::show(installation.install_time.as_ref()),
            times::show(installation.remove_time.as_ref()),
        ]
    });
    let header = ["component", "position", "installed", "taken out"];
    session
        .out
        .text(&table(&session.out.look, &header, rows.collect()))
}

fn teardown(build: &Build) -> String {
    match &build.teardown_time {
        Some(time) => times::show(Some(time)),
        None => "in use".into(),
    }
}

fn show(build: &Build, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Build", build)?);
    }
    let lines = [
        ("build", build.name.clone()),
        ("name", build.display_name.clone()),
        ("assembled", times::show(build.assembly_time.as_ref())),
        ("torn down", teardown(build)),
    ];
    out.text(&pairs(&out.look, &lines))?;
    if build.build_sheet.is_empty() {
        return Ok(());
    }
    let rows = build
        .build_sheet
        .iter()
        .map(|line| sheet_row(line, session));
    let header = ["item", ">measured", ">one sd", "instrument", "by"];
    out.text(&table(&out.look, &header, rows.collect()))
}

fn sheet_row(line: &BuildSheetLine, session: &Session) -> Vec<String> {
    let shown = measures::shown_in(&line.unit, line.value.abs(), session.out.look.system);
    let symbol = shown.map_or(line.unit.as_str(), |measure| measure.symbol);
    let value = shown.map_or(line.value, |measure| measure.shown(line.value));
    let sd = shown.map_or(line.instrument_sd, |m| {
        m.shown_difference(line.instrument_sd)
    });
    vec![
        line.item.clone(),
        format!("{} {symbol}", numbers::to_resolution(value, sd)),
        format!("{} {symbol}", numbers::significant(sd, 2)),
        line.instrument.clone(),
        line.measured_by.clone(),
    ]
}
