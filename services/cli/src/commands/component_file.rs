//! A component from its file and flags.

use super::labels;
use crate::{CliError, json};
use clap::Args;
use ringland_proto::v1::Component;
use std::path::PathBuf;

/// What a component is, as given on the command line.
#[derive(Debug, Args)]
pub struct ComponentFields {
    /// TOML with component_type, [spec.numbers], [spec.choices], [surfaces.NAME.properties] in SI;
    /// `ringland model template TYPE` prints one
    #[arg(long, value_name = "FILE")]
    file: Option<PathBuf>,
    /// What models it: ring_pack
    #[arg(long = "type", value_name = "TYPE")]
    component_type: Option<String>,
    /// Name for people
    #[arg(long, value_name = "TEXT")]
    display_name: Option<String>,
    /// As stamped or tagged
    #[arg(long, value_name = "TEXT")]
    serial: Option<String>,
    /// Batch
    #[arg(long, value_name = "TEXT")]
    batch: Option<String>,
    /// Label, such as shelf=3; may be given several times
    #[arg(long = "label", value_name = "KEY=VALUE", value_parser = labels::read)]
    labels: Vec<(String, String)>,
    /// Known slot of the condition of a used component, SI: top_face_wear_m=8e-6
    #[arg(long = "opening", value_name = "SLOT=VALUE", value_parser = slot)]
    opening: Vec<(String, f64)>,
    /// Treatment that was done, by its id in the catalogue; may be given several times, in their order
    #[arg(long = "treatment", value_name = "ID")]
    treatments: Vec<String>,
}

fn slot(text: &str) -> Result<(String, f64), String> {
    let (name, value) = labels::read(text)?;
    let value = value
        .parse()
        .map_err(|_| format!("{value:?} is not a number"))?;
    Ok((name, value))
}

impl ComponentFields {
    /// Puts file and flags together; flags win.
    ///
    /// # Errors
    /// When the file cannot be used.
    pub(super) fn read(self) -> Result<Component, CliError> {
        Ok(self.read_with_paths()?.0)
    }

    /// The same, with the names of the fields that were given.
    ///
    /// # Errors
    /// When the file cannot be used.
    pub(super) fn read_with_paths(self) -> Result<(Component, Vec<String>), CliError> {
        let mut component: Component = match &self.file {
            Some(file) => json::from_toml_file("Component", file)?,
            None => Component::default(),
        };
        let texts = [
            (&mut component.component_type, self.component_type),
            (&mut component.display_name, self.display_name),
            (&mut component.serial, self.serial),
            (&mut component.batch, self.batch),
        ];
        for (field, given) in texts {
            if let Some(given) = given {
                *field = given;
            }
        }
        component.labels.extend(self.labels);
        component.opening_condition.extend(self.opening);
        component.treatments.extend(self.treatments);
        let paths = given(&component);
        Ok((component, paths))
    }
}

/// The fields of an update that a file or flag has set.
fn given(component: &Component) -> Vec<String> {
    let set = [
        ("display_name", !component.display_name.is_empty()),
        ("serial", !component.serial.is_empty()),
        ("batch", !component.batch.is_empty()),
        ("labels", !component.labels.is_empty()),
        ("spec", component.spec.is_some()),
        ("surfaces", !component.surfaces.is_empty()),
        ("treatments", !component.treatments.is_empty()),
    ];
    set.into_iter()
        .filter(|(_, set)| *set)
        .map(|(name, _)| name.to_owned())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flags_win_over_the_file_and_what_is_given_is_known() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("rings.toml");
        let text = "component_type = \"ring_pack\"\nserial = \"RP-1\"\ntreatments = [\"nitride\"]\n\
                    [spec.numbers]\nbore_m = 0.086\n";
        std::fs::write(&file, text).unwrap();
        let fields = ComponentFields {
            file: Some(file),
            component_type: None,
            display_name: None,
            serial: Some("RP-2".into()),
            batch: None,
            labels: Vec::new(),
            opening: vec![("top_face_wear_m".into(), 8e-6)],
            treatments: vec!["plateau-hone".into()],
        };
        let (component, paths) = fields.read_with_paths().unwrap();
        assert_eq!(
            (component.component_type.as_str(), component.serial.as_str()),
            ("ring_pack", "RP-2")
        );
        assert_eq!(paths, ["serial", "spec", "treatments"]);
        assert_eq!(component.treatments, ["nitride", "plateau-hone"]);
        assert_eq!(component.opening_condition.len(), 1);
    }
}
