//! Where the built programs and plugins are.

use std::path::{Path, PathBuf};

/// The folder that cargo builds into: the test itself runs from its `<profile>/deps`.
pub fn target_dir() -> PathBuf {
    let test = std::env::current_exe().expect("a test knows where it runs from");
    let deps = test.ancestors().find(|folder| {
        folder.join("CACHEDIR.TAG").exists() // cargo marks the top of its target folder
    });
    deps.expect("a test runs below cargo's target folder")
        .to_path_buf()
}

/// A program of this workspace, from the profile that the test was built with.
pub fn program(name: &str) -> PathBuf {
    let test = std::env::current_exe().expect("a test knows where it runs from");
    let deps = test.parent().expect("a test runs in a folder");
    let profile = if deps.ends_with("deps") {
        deps.parent().unwrap_or(deps)
    } else {
        deps
    };
    existing(profile.join(name), &format!("cargo build --bin {name}"))
}

/// A plugin of this workspace.
pub fn plugin(crate_name: &str) -> PathBuf {
    let file = format!("{}.wasm", crate_name.replace('-', "_"));
    let path = target_dir().join("wasm32-wasip2/release").join(file);
    existing(path, "deploy/setup")
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
