//! The file of prices of the season review.

use crate::CliError;
use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::Path,
};

/// Prices by component type. `known` are the types that there are.
///
/// # Errors
/// When the file cannot be read, a type is not known, or a price is no number of 0 or more.
pub(super) fn read(
    file: &Path,
    known: &BTreeSet<String>,
) -> Result<BTreeMap<String, f64>, CliError> {
    let text = fs::read_to_string(file).map_err(|source| CliError::File {
        path: file.into(),
        source,
    })?;
    let prices: BTreeMap<String, f64> = toml::from_str(&text).map_err(|error| {
        CliError::Usage(format!(
            "{}: {error}; expected a line for each component type, such as ring_pack = 320.0",
            file.display()
        ))
    })?;
    for (name, price) in &prices {
        if !known.contains(name) {
            return Err(CliError::Usage(format!(
                "{}: field {name:?} = {price}: expected a component type, one of {} (nearest first); correct the name, or \
                 install its model with ringland model install",
                file.display(),
                nearest_first(name, known).join(", ")
            )));
        }
        if !(price.is_finite() && *price >= 0.0) {
            return Err(CliError::Usage(format!(
                "{}: field {name} = {price}: expected a price of 0 or more; correct it, or leave the line out",
                file.display()
            )));
        }
    }
    Ok(prices)
}

fn nearest_first<'a>(name: &str, known: &'a BTreeSet<String>) -> Vec<&'a str> {
    let mut all: Vec<&str> = known.iter().map(String::as_str).collect();
    all.sort_by_key(|other| strsim::damerau_levenshtein(name, other));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_text(text: &str) -> Result<BTreeMap<String, f64>, String> {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("prices.toml");
        fs::write(&file, text).expect("written");
        let known = ["piston", "ring_pack", "valve"].map(str::to_owned).into();
        read(&file, &known).map_err(|error| error.to_string())
    }

    #[test]
    fn a_mistyped_type_is_told_with_the_nearest_first() {
        let said = read_text("rign_pack = 320.0\n").unwrap_err();
        for part in [
            "prices.toml",
            "\"rign_pack\" = 320",
            "one of ring_pack, ",
            "correct the name",
        ] {
            assert!(said.contains(part), "{part}: {said}");
        }
    }

    #[test]
    fn what_is_no_price_is_told() {
        assert!(
            read_text("valve = -1\n")
                .unwrap_err()
                .contains("valve = -1")
        );
        assert!(
            read_text("valve = nan\n")
                .unwrap_err()
                .contains("0 or more")
        );
        assert!(
            read_text("valve = \"cheap\"\n")
                .unwrap_err()
                .contains("valve")
        );
        let prices = read_text("valve = 12\nring_pack = 320.5\n").unwrap();
        assert_eq!(prices["ring_pack"].to_bits(), 320.5_f64.to_bits());
    }
}
