//! From a sheet to a file.

use super::SheetTo;
use crate::{CliError, commands::Session};
use ringland_sheets::{Sheet, SheetError, html, pdf};
use std::fs;

/// A date to write in: the same ledger gives the same sheet on any day.
const BLANK_DATE: &str = "____-__-__";

/// Writes a sheet and says where.
pub(super) fn to_file(mut sheet: Sheet, to: &SheetTo, session: &Session) -> Result<(), CliError> {
    sheet.shop.clone_from(&to.shop);
    sheet.made = if to.date.is_empty() {
        BLANK_DATE.to_owned()
    } else {
        to.date.clone()
    };
    let ending = to.out.extension().and_then(|ending| ending.to_str());
    let bytes = match ending {
        Some("html") => html(&sheet).map_err(|e| failed(&e))?.into_bytes(),
        Some("pdf") => pdf(&sheet, to.paper.into()).map_err(|e| failed(&e))?,
        _ => {
            return Err(CliError::Usage(format!(
                "--out {}: a sheet is a file ending in .html or .pdf",
                to.out.display()
            )));
        }
    };
    fs::write(&to.out, &bytes).map_err(|source| CliError::File {
        path: to.out.clone(),
        source,
    })?;
    if session.out.json {
        let written = serde_json::json!({ "file": to.out, "bytes": bytes.len() });
        return session.out.json(&written);
    }
    session
        .out
        .text(&format!("{}: {}", sheet.title, to.out.display()))
}

fn failed(error: &SheetError) -> CliError {
    CliError::Failed(error.to_string())
}
