//! Treated parts against untreated ones of the same type, by what the ledger says of their lives.

use super::{gather, words};
use crate::{CliError, commands::Session, error};
use ringland_proto::v1::{Component, Finding};
use std::collections::BTreeMap;

/// For each type of these parts that has treated and untreated ones what the ledger says, in its own words; the rest is named.
pub(super) async fn said(
    parts: impl Iterator<Item = &Component>,
    session: &Session,
) -> Result<Vec<String>, CliError> {
    let mut sides: BTreeMap<&str, [usize; 2]> = BTreeMap::new();
    for part in parts {
        let side = usize::from(!part.treatments.is_empty());
        sides.entry(&part.component_type).or_default()[side] += 1;
    }
    let (mut lines, mut alone) = (Vec::new(), Vec::new());
    for (component_type, [untreated, treated]) in sides {
        let name = words::type_words(component_type);
        if untreated == 0 || treated == 0 {
            alone.push(name);
            continue;
        }
        match gather::groups(component_type, session).await? {
            Ok(found) => {
                lines.push(format!("{name}, in hours: {}", found.verdict));
                lines.extend(found.findings.iter().map(|each| finding(&name, each)));
            }
            Err(status) => lines.push(format!(
                "{name}: not compared, nothing is proven: {}",
                error::describe(&status)
            )),
        }
    }
    if !alone.is_empty() {
        lines.push(format!(
            "All treated or all untreated, so nothing is proven of them: {}.",
            alone.join(", ")
        ));
    }
    Ok(lines)
}

fn finding(name: &str, finding: &Finding) -> String {
    format!(
        "{name}: {} {}; expected {}; {}",
        finding.field, finding.value, finding.expected, finding.remedy
    )
}
