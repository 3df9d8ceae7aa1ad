//! What the demo puts into its engines and drivelines: one component for each plugin that it finds.

use super::failed;
use crate::{
    CliError,
    commands::{Session, model},
    demo::UnitKind,
    json,
};
use ringland_proto::v1::{Card, Component};
use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// How the build names a plugin.
const PREFIX: &str = "ringland_plugin_";

/// A component type that the demo has a plugin for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::commands) struct Part {
    /// `ring_pack`
    pub component_type: String,
    /// What it goes into.
    pub kind: UnitKind,
    /// The folder with `untreated.toml` and `treated.toml`; where a file is missing the card's defaults serve.
    folder: PathBuf,
}

/// Installs and activates every plugin of a folder, in the order of names. `sources` holds a folder for each component type, its
/// demo files in `demo`.
pub(in crate::commands) async fn install_all(
    plugins: &Path,
    sources: &Path,
    session: &Session,
) -> Result<Vec<Part>, CliError> {
    let files = plugin_files(plugins)?;
    let bar = crate::out::progress(files.len() as u64, "installing plugins");
    let mut parts = Vec::with_capacity(files.len());
    for file in files {
        let installed = model::install(&file, session).await?;
        model::make_active(&installed.name, String::new(), session).await?;
        let folder = installed.component_type.replace('_', "-");
        parts.push(Part {
            component_type: installed.component_type,
            kind: kind_of(&installed.card.unwrap_or_default()),
            folder: sources.join(folder).join("demo"),
        });
        bar.inc(1);
    }
    bar.finish_and_clear();
    Ok(parts)
}

/// What a component goes into, by what its card reads of duty.
fn kind_of(card: &Card) -> UnitKind {
    let channels = card.channels.iter().map(|need| need.name.as_str());
    let shocks = card.shocks.iter().map(|need| need.kind.as_str());
    if channels
        .chain(shocks)
        .any(|name| BEHIND_THE_ENGINE.contains(&name))
    {
        UnitKind::Driveline
    } else {
        UnitKind::Engine
    }
}

/// Channels and shocks of what is behind the engine.
const BEHIND_THE_ENGINE: [&str; 10] = [
    "gear",
    "gearbox_oil_temp_k",
    "axle_oil_temp_k",
    "axle_torque_n_m",
    "differential_slip_speed_rad_s",
    "joint_angle_rad",
    "launch",
    "clutch_engagement",
    "shift",
    "impact",
];

fn plugin_files(folder: &Path) -> Result<Vec<PathBuf>, CliError> {
    let missing = || {
        let text = format!(
            "{}: no plugins ({PREFIX}*.wasm) are there; build them with deploy/setup or name their folder with --plugins",
            folder.display()
        );
        CliError::Usage(text)
    };
    let entries = fs::read_dir(folder).map_err(|_| missing())?;
    let mut files = Vec::new();
    for entry in entries {
        let path = entry.map_err(failed)?.path();
        let stem = path.file_stem().and_then(|stem| stem.to_str());
        let plugin = stem.is_some_and(|stem| stem.starts_with(PREFIX));
        if plugin
            && path
                .extension()
                .is_some_and(|extension| extension == "wasm")
        {
            files.push(path);
        }
    }
    files.sort();
    if files.is_empty() {
        return Err(missing());
    }
    Ok(files)
}

impl Part {
    /// Its name in the place that a unit gives it: `ring-pack-a-1` for the first in `engine-a`.
    pub(super) fn id(&self, unit: &str, number: usize) -> String {
        let unit = unit.rsplit('-').next().unwrap_or(unit);
        format!("{}-{unit}-{number}", self.component_type.replace('_', "-"))
    }

    /// The component with the surfaces that a unit's parts have.
    pub(super) fn component(&self, treated: bool, id: &str) -> Result<Component, CliError> {
        let name = if treated {
            "treated.toml"
        } else {
            "untreated.toml"
        };
        let path = self.folder.join(name);
        let mut component = match fs::read_to_string(&path) {
            Ok(text) => json::from_toml("Component", &text)?,
            Err(error) if error.kind() == io::ErrorKind::NotFound => Component {
                component_type: self.component_type.clone(),
                ..Default::default()
            },
            Err(source) => return Err(CliError::File { path, source }),
        };
        component.serial = id.to_uppercase();
        Ok(component)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(folder: &Path) -> Part {
        Part {
            component_type: "ring_pack".into(),
            kind: UnitKind::Engine,
            folder: folder.to_path_buf(),
        }
    }

    #[test]
    fn a_part_without_a_file_is_as_the_card_has_it() {
        let folder = tempfile::tempdir().unwrap();
        let part = part(folder.path());
        assert_eq!(part.id("engine-a", 2), "ring-pack-a-2");
        let plain = part.component(false, "ring-pack-a-2").unwrap();
        assert_eq!(plain.component_type, "ring_pack");
        assert!(plain.spec.is_none() && plain.serial == "RING-PACK-A-2");
        let text = "component_type = \"ring_pack\"\ndisplay_name = \"honed\"\n";
        fs::write(folder.path().join("treated.toml"), text).unwrap();
        assert_eq!(part.component(true, "x").unwrap().display_name, "honed");
    }

    #[test]
    fn a_part_goes_where_its_duty_is() {
        let need = |name: &str| ringland_proto::v1::ChannelNeed {
            name: name.into(),
            ..Default::default()
        };
        let mut card = Card {
            channels: vec![need("engine_speed_rad_s")],
            ..Default::default()
        };
        assert_eq!(kind_of(&card), UnitKind::Engine);
        card.channels.push(need("axle_torque_n_m"));
        assert_eq!(kind_of(&card), UnitKind::Driveline);
    }

    #[test]
    fn a_folder_without_plugins_says_what_to_do() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("other.wasm"), "").unwrap();
        for folder in [folder.path().to_path_buf(), folder.path().join("nowhere")] {
            let error = plugin_files(&folder).unwrap_err();
            assert!(error.to_string().contains("deploy/setup"), "{error}");
        }
        fs::write(folder.path().join("ringland_plugin_b.wasm"), "").unwrap();
        fs::write(folder.path().join("ringland_plugin_a.wasm"), "").unwrap();
        let found = plugin_files(folder.path()).unwrap();
        assert!(found[0].ends_with("ringland_plugin_a.wasm") && found.len() == 2);
    }
}
