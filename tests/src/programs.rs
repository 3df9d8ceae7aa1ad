//! Where the built programs and plugins are.

use std::path::{Path, PathBuf};

/// The folder that cargo builds into: the test itself runs from its `<profile>/deps`.
pub fn target_dir() -> PathBuf {
    let profile = profile_dir();
    profile
        .parent()
        .expect("a profile's folder is in cargo's target folder")
        .to_path_buf()
}

/// The folder of the profile that the test was built with.
fn profile_dir() -> PathBuf {
    let test = std::env::current_exe().expect("a test knows where it runs from");
    let folder = test.parent().expect("a test runs in a folder");
    let profile = if folder.ends_with("deps") {
        folder.parent()
    } else {
        Some(folder)
    };
    profile
        .expect("deps is in a profile's folder")
        .to_path_buf()
}

/// A program of this workspace, from the profile that the test was built with.
pub fn program(name: &str) -> PathBuf {
    existing(
        profile_dir().join(name),
        &format!("cargo build --bin {name}"),
    )
}

/// A plugin of this workspace.
pub fn plugin(crate_name: &str) -> PathBuf {
    let file = format!("{}.wasm", crate_name.replace('-', "_"));
    let path = target_dir().join("wasm32-wasip2/release").join(file);
    existing(path, "deploy/setup")
}

/// Every plugin of this workspace, in the order of names.
pub fn plugins() -> Vec<PathBuf> {
    let folder = target_dir().join("wasm32-wasip2/release");
    let entries = std::fs::read_dir(existing(folder, "deploy/setup"));
    let mut files: Vec<PathBuf> = entries
        .expect("the folder of plugins can be read")
        .map(|entry| entry.expect("an entry of it can be read").path())
        .filter(|path| {
            let name = path.file_name().map(|name| name.to_string_lossy());
            name.is_some_and(|name| name.starts_with("ringland_plugin_") && name.ends_with(".wasm"))
        })
        .collect();
    files.sort();
    files
}

/// The plugin that was written outside this workspace.
pub fn outside_plugin() -> PathBuf {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../sdk/examples/differential-clutch");
    let path = root.join("target/wasm32-wasip2/release/differential_clutch.wasm");
    existing(path, "tests/run (it builds the outside plugin first)")
}

fn existing(path: PathBuf, command: &str) -> PathBuf {
    assert!(
        path.exists(),
        "{} is missing: run {command}",
        path.display()
    );
    path
}
