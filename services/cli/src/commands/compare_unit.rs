//! `ringland compare-unit`.

use super::{Session, alternative::Given, compare::DrawnAs};
use crate::{CliError, json, names, out::waiting, show::unit_comparison};
use clap::Args;
use ringland_proto::v1::{CompareUnitRequest, UnitCandidate, UnitChange};
use std::path::PathBuf;

/// `ringland compare-unit`
#[derive(Debug, Args)]
pub struct CompareUnitArgs {
    /// Which unit
    unit: String,
    /// Something to try: ring_pack=plateau-hone (every one of a type) or ring-pack-a-1=FILE.toml (one component; a name
    /// without a hyphen in full: components/rings); may be given several times [default: all of the catalogue]
    #[arg(long = "try", value_name = "WHAT=TREATMENTS|FILE.toml", value_parser = change)]
    tries: Vec<(String, Given)>,
    /// TOML file of a candidate that changes several parts at once: label, [[changes]] with component or component_type
    /// and [changes.alternative]; may be given several times
    #[arg(long = "candidate", value_name = "FILE")]
    candidates: Vec<PathBuf>,
    /// How many changes are chosen one after another, 1 to 5 [default: 3]
    #[arg(
        long,
        default_value_t = 0,
        hide_default_value = true,
        value_name = "COUNT"
    )]
    steps: i32,
    #[command(flatten)]
    drawn: DrawnAs,
}

fn change(text: &str) -> Result<(String, Given), String> {
    let (what, given) = super::labels::read(text).map_err(|_| {
        format!("{text:?}: expected WHAT=TREATMENTS, such as ring_pack=plateau-hone")
    })?;
    let Ok(given) = given.parse();
    Ok((what, given))
}

pub(super) async fn run(arguments: CompareUnitArgs, session: &Session) -> Result<(), CliError> {
    let mut candidates = Vec::new();
    for (what, given) in arguments.tries {
        candidates.push(UnitCandidate {
            label: String::new(),
            changes: vec![change_of(&what, given)?],
        });
    }
    for file in &arguments.candidates {
        candidates.push(json::from_toml_file("UnitCandidate", file)?);
    }
    let request = CompareUnitRequest {
        unit: names::unit(&arguments.unit),
        profile: names::profile(&arguments.drawn.profile),
        candidates,
        basis: arguments.drawn.basis().into(),
        horizon_events: arguments.drawn.horizon,
        samples: arguments.drawn.samples,
        steps: arguments.steps,
    };
    let spinner = waiting("solving each alternative");
    let answer = session.api.comparisons().compare_unit(request).await;
    spinner.finish_and_clear();
    let answer = answer?.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("UnitComparison", &answer)?);
    }
    out.text(&unit_comparison(&answer, &out.look))
}

/// Ids of components may have a hyphen, types never.
fn change_of(what: &str, given: Given) -> Result<UnitChange, CliError> {
    let mut change = UnitChange {
        alternative: Some(given.read()?),
        ..Default::default()
    };
    if what.contains(['-', '/']) {
        change.component = names::component(what);
    } else {
        what.clone_into(&mut change.component_type);
    }
    Ok(change)
}
