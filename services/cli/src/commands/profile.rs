//! `ringland profile`.

use super::{RequestId, Session};
use crate::{
    CliError,
    connect::all_pages,
    json, names, numbers,
    show::duty_table,
    table::{pairs, table},
};
use clap::Subcommand;
use ringland_proto::v1::{CreateProfileRequest, GetProfileRequest, ListProfilesRequest, Profile};
use std::path::PathBuf;

/// `ringland profile`
#[derive(Debug, Subcommand)]
pub enum ProfileCommand {
    /// Define the duty of one event, from records or from a table
    Create {
        /// Its id: lower-case letters, digits and hyphens
        id: String,
        /// Name for people
        #[arg(
            long,
            default_value = "",
            hide_default_value = true,
            value_name = "TEXT"
        )]
        display_name: String,
        /// Duty records: UNIT/RECORD
        #[arg(long, num_args = 1.., value_name = "RECORD", required_unless_present = "duty")]
        from: Vec<String>,
        /// How many events these records make together
        #[arg(
            long,
            value_name = "NUMBER",
            requires = "from",
            required_unless_present = "duty"
        )]
        events: Option<f64>,
        /// Duty of one event: TOML with the fields of the API's DutyTable
        #[arg(long, value_name = "FILE", conflicts_with_all = ["from", "events"])]
        duty: Option<PathBuf>,
        #[command(flatten)]
        request: RequestId,
    },
    /// List profiles
    List,
    /// Show a profile: its use and operating points
    Show {
        /// Which
        profile: String,
    },
}

pub(super) async fn run(command: ProfileCommand, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.duty();
    match command {
        ProfileCommand::Create {
            id,
            display_name,
            from,
            events,
            duty,
            request,
        } => {
            let duty = match duty {
                Some(file) => Some(json::from_toml_file("DutyTable", &file)?),
                None => None,
            };
            let profile = Profile {
                display_name,
                duty,
                duty_records: from
                    .iter()
                    .map(|record| names::duty_record(record))
                    .collect(),
                events: events.unwrap_or_default(),
                ..Default::default()
            };
            let RequestId { request_id } = request;
            let request = CreateProfileRequest {
                profile_id: id,
                profile: Some(profile),
                request_id,
            };
            show(&client.create_profile(request).await?.into_inner(), session)
        }
        ProfileCommand::List => list(session).await,
        ProfileCommand::Show { profile } => {
            let request = GetProfileRequest {
                name: names::profile(&profile),
            };
            show(&client.get_profile(request).await?.into_inner(), session)
        }
    }
}

async fn list(session: &Session) -> Result<(), CliError> {
    let mut client = session.api.duty();
    let profiles = all_pages(async |page_token| {
        let request = ListProfilesRequest {
            page_token,
            ..Default::default()
        };
        let page = client.list_profiles(request).await?.into_inner();
        Ok((page.profiles, page.next_page_token))
    })
    .await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("profiles", "Profile", &profiles)?);
    }
    let rows = profiles.iter().map(|profile| {
        vec![
            names::id(&profile.name).to_owned(),
            profile.display_name.clone(),
            numbers::duration(profile.duration_s),
            format!("{:.3}", profile.crank_revolutions / 1e6),
            profile.duty_records.len().to_string(),
        ]
    });
    let header = [
        "profile",
        "name",
        ">one event lasts",
        ">M rev",
        ">made from records",
    ];
    out.text(&table(&out.look, &header, rows.collect()))
}

fn show(profile: &Profile, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Profile", profile)?);
    }
    let made_from: Vec<String> = profile
        .duty_records
        .iter()
        .map(|name| names::short(name))
        .collect();
    let lines = [
        ("profile", profile.name.clone()),
        ("name", profile.display_name.clone()),
        ("one event", numbers::duration(profile.duration_s)),
        (
            "crank",
            format!("{:.3} M rev", profile.crank_revolutions / 1e6),
        ),
        (
            "made from",
            if made_from.is_empty() {
                "a table".into()
            } else {
                made_from.join(", ")
            },
        ),
    ];
    out.text(&pairs(&out.look, &lines))?;
    let duty = profile.duty.clone().unwrap_or_default();
    out.text(&duty_table(&duty, &out.look))
}
