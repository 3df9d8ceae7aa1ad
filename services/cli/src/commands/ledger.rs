//! `ringland ledger`.

use super::Session;
use crate::{CliError, json, names, numbers, out::progress, table::pairs};
use clap::Subcommand;
use ringland_proto::v1::{GetLedgerStatusRequest, RebuildConditionsRequest};

/// `ringland ledger`
#[derive(Debug, Subcommand)]
pub enum LedgerCommand {
    /// Counts and sizes
    Status,
    /// Fold all duty again with the active models
    Rebuild {
        /// Only this component
        component: Option<String>,
    },
}

pub(super) async fn run(command: LedgerCommand, session: &Session) -> Result<(), CliError> {
    match command {
        LedgerCommand::Status => status(session).await,
        LedgerCommand::Rebuild { component } => {
            let component = component
                .map(|name| names::component(&name))
                .unwrap_or_default();
            rebuild(component, session).await
        }
    }
}

async fn status(session: &Session) -> Result<(), CliError> {
    let request = GetLedgerStatusRequest {};
    let status = session
        .api
        .ledger()
        .get_ledger_status(request)
        .await?
        .into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("LedgerStatus", &status)?);
    }
    let lines = [
        (
            "server",
            format!(
                "version {}, up {}",
                status.server_version,
                numbers::duration(status.uptime_s)
            ),
        ),
        ("units", numbers::count(status.units)),
        ("components", numbers::count(status.components)),
        ("duty records", numbers::count(status.duty_records)),
        ("predictions", numbers::count(status.predictions)),
        (
            "on disk",
            indicatif::HumanBytes(status.bytes_on_disk.unsigned_abs()).to_string(),
        ),
    ];
    out.text(&pairs(&out.look, &lines))
}

async fn rebuild(component: String, session: &Session) -> Result<(), CliError> {
    let request = RebuildConditionsRequest { component };
    let mut stream = session
        .api
        .ledger()
        .rebuild_conditions(request)
        .await?
        .into_inner();
    let out = session.out;
    let bar = progress(0, "folding");
    let (mut done, mut failed) = (0_u64, 0_u64);
    while let Some(step) = stream.message().await? {
        bar.set_length(step.total.unsigned_abs());
        bar.set_position(step.done.unsigned_abs());
        done += 1;
        if !step.error.is_empty() {
            failed += 1;
        }
        if out.json {
            out.text(&json::to_json("RebuildConditionsResponse", &step)?.to_string())?;
        } else if !step.error.is_empty() {
            out.text(&format!("{}: {}", step.component, step.error))?;
        }
    }
    bar.finish_and_clear();
    if !out.json {
        out.text(&format!(
            "{} components folded, {failed} of them without success",
            numbers::count(done)
        ))?;
    }
    if failed > 0 {
        return Err(CliError::Failed(format!(
            "{failed} components have no condition now"
        )));
    }
    Ok(())
}
