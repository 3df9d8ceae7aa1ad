//! An alternative as it is given on the command line.

use crate::{CliError, json};
use ringland_proto::v1::{Alternative, ComparedTreatment, Component};
use std::{
    convert::Infallible,
    path::{Path, PathBuf},
    str::FromStr,
};

/// Treatments of the catalogue, or a file that says what differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Given {
    /// Ids in their order.
    Treatments(Vec<String>),
    /// An alternative or a component.
    File(PathBuf),
}

impl FromStr for Given {
    type Err = Infallible;

    fn from_str(text: &str) -> Result<Self, Infallible> {
        let ending = Path::new(text).extension();
        if ending.is_some_and(|ending| ending.eq_ignore_ascii_case("toml")) {
            return Ok(Self::File(text.into()));
        }
        let ids = text.split('+').map(|id| id.trim().to_owned());
        Ok(Self::Treatments(ids.collect()))
    }
}

impl Given {
    /// The alternative.
    ///
    /// # Errors
    /// When the file cannot be used.
    pub(super) fn read(self) -> Result<Alternative, CliError> {
        let file = match self {
            Self::Treatments(ids) => {
                let treatments = ids.into_iter().map(|treatment| ComparedTreatment {
                    treatment,
                    ..Default::default()
                });
                return Ok(Alternative {
                    treatments: treatments.collect(),
                    ..Default::default()
                });
            }
            Self::File(file) => file,
        };
        json::from_toml_file("Alternative", &file).or_else(|as_alternative| {
            // A component's file names its type; anything else was meant as an alternative.
            match json::from_toml_file::<Component>("Component", &file) {
                Ok(component) if !component.component_type.is_empty() => Ok(Alternative {
                    label: component.display_name,
                    spec: component.spec,
                    surfaces: component.surfaces,
                    ..Default::default()
                }),
                _ => Err(as_alternative),
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn treatments_keep_their_order_and_a_file_may_be_of_either_kind() {
        let Ok(given) = "shot-peen + superfinish".parse::<Given>();
        let alternative = given.read().unwrap();
        let ids: Vec<&str> = alternative
            .treatments
            .iter()
            .map(|t| t.treatment.as_str())
            .collect();
        assert_eq!(ids, ["shot-peen", "superfinish"]);

        let folder = tempfile::tempdir().unwrap();
        let read = |name: &str, text: &str| {
            let file = folder.path().join(name);
            std::fs::write(&file, text).unwrap();
            let Ok(given) = file.to_str().unwrap().parse::<Given>();
            given.read()
        };
        let surface = "[surfaces.bore.properties]\nrq_m = 1e-7\n";
        let one = read("a.toml", &format!("label = \"B\"\n{surface}")).unwrap();
        let two = read(
            "b.toml",
            &format!("component_type = \"ring_pack\"\ndisplay_name = \"B\"\n{surface}"),
        );
        assert_eq!(one, two.unwrap());
        let error = read("c.toml", "lable = \"B\"\n").unwrap_err();
        assert!(error.to_string().contains("lable"), "{error}");
    }
}
