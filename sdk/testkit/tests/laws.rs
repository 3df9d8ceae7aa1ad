//! Each law fails for a plugin that breaks it. The attack plugin breaks them on demand: its card's
//! default attack stands in its bytes.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail like tests")]

use ringland_testkit::{Report, check_plugin};
use std::{
    path::{Path, PathBuf},
    process::Command,
    sync::LazyLock,
};

const MANIFEST: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../tests/attack-plugins/Cargo.toml"
);

static ATTACK_PLUGIN: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let target = match std::env::var_os("CARGO_TARGET_DIR") {
        Some(folder) => PathBuf::from(folder),
        None => Path::new(MANIFEST).with_file_name("target"),
    };
    let build = Command::new(env!("CARGO"))
        .args([
            "build",
            "--release",
            "--locked",
            "--target",
            "wasm32-wasip2",
        ])
        .args(["--manifest-path", MANIFEST, "--target-dir"])
        .arg(&target)
        .output()
        .unwrap();
    let errors = String::from_utf8_lossy(&build.stderr);
    assert!(
        build.status.success(),
        "the attack plugin does not build: {errors}"
    );
    std::fs::read(target.join("wasm32-wasip2/release/attack_plugins.wasm")).unwrap()
});

fn report(attack: u8) -> Report {
    let marker = b"default attack: 00";
    let mut bytes = ATTACK_PLUGIN.clone();
    let at = bytes
        .windows(marker.len())
        .position(|window| window == marker)
        .unwrap();
    let digits = format!("{attack:02}");
    bytes[at + marker.len() - 2..at + marker.len()].copy_from_slice(digits.as_bytes());
    check_plugin(&bytes).unwrap()
}

/// The attack's place among the options, and the law that must fail.
const BROKEN: [(u8, &str); 6] = [
    (11, "a known slot of a used component"),
    (24, "no duty changes nothing"),
    (25, "a batch of records"),
    (26, "a nearer horizon"),
    (27, "more use never lengthens"),
    (28, "a life ends where its reading"),
];

#[test]
fn each_law_fails_for_a_plugin_that_breaks_it() {
    for (attack, law) in BROKEN {
        let report = report(attack);
        assert!(
            report.failures().any(|(failed, _)| failed.starts_with(law)),
            "{attack}: {report}"
        );
    }
}

/// Its options are attacks, so the law that tries every option fails, and no other.
#[test]
fn an_honest_plugin_keeps_every_law() {
    let report = report(0);
    let failed: Vec<&str> = report.failures().map(|(law, _)| law).collect();
    assert_eq!(
        failed,
        ["a spec at the edge of a range is refused by findings or answered"],
        "{report}"
    );
    assert!(report.to_string().contains("does not conform: 1 of"));
}

#[test]
fn what_is_no_plugin_is_a_report_and_not_a_crash() {
    let report = check_plugin(b"\0asm\x01\0\0\0").unwrap();
    assert!(!report.passed() && report.to_string().contains("core WebAssembly module"));
}
