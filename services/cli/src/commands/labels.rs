//! `--label car=14`.

use std::collections::HashMap;

/// Reads `key=value`.
pub(crate) fn read(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((key, value)) if !key.is_empty() => Ok((key.to_owned(), value.to_owned())),
        _ => Err(format!("{text:?}: expected KEY=VALUE, such as car=14")),
    }
}

/// `car=14, series=club`, in the order of the keys.
pub(crate) fn show(labels: &HashMap<String, String>) -> String {
    let mut pairs: Vec<String> = labels
        .iter()
        .map(|(key, value)| format!("{key}={value}"))
        .collect();
    pairs.sort();
    pairs.join(", ")
}
