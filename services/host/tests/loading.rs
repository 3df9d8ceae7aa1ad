//! What is loaded as a plugin, what is not and why, and what the cache keeps.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail like tests"
)]

mod support;

use ringland_host::{
    WasmModels,
    contract::{ModelError, Models},
};
use std::{fs, path::Path};
use support::{ATTACK_PLUGIN, Host, limits, patched};

fn refusal(bytes: &[u8]) -> String {
    let host = Host::new();
    match host.models.load(bytes) {
        Err(error @ ModelError::NotAPlugin { .. }) => error.to_string(),
        other => panic!("expected a refusal, got {other:?}"),
    }
}

#[test]
fn bytes_that_are_no_plugin_are_refused_with_a_remedy() {
    let cut = &ATTACK_PLUGIN[..ATTACK_PLUGIN.len() / 2];
    let cases: [(&[u8], &str); 5] = [
        (b"", "no WebAssembly component"),
        (b"hello", "no WebAssembly component"),
        (b"\0asm\x01\0\0\0", "core WebAssembly module"),
        (b"\0asm\x0d\0\x01\0", "the component exports none"),
        (cut, "does not compile"),
    ];
    for (bytes, expected) in cases {
        let text = refusal(bytes);
        assert!(
            text.contains(expected) && text.contains("wasm32-wasip2"),
            "{text}"
        );
    }
}

#[test]
fn another_version_of_the_contract_is_refused_with_both_versions() {
    let text = refusal(&patched(
        "ringland:plugin/model@1.0.0",
        "ringland:plugin/model@2.0.0",
    ));
    assert!(text.contains("speaks version 1.0.0"), "{text}");
    assert!(text.contains("exports version 2.0.0"), "{text}");
}

#[test]
fn a_bad_card_is_refused_with_every_fault() {
    let text = refusal(&patched("wear_depth_m", "Wear depth m"));
    assert!(text.contains("its card is wrong"), "{text}");
    assert!(
        text.contains("slot = \"Wear depth m\"") && text.contains("reading"),
        "{text}"
    );
    let text = refusal(&patched("engine_speed_rad_s", "engine_speed_rpm_s"));
    assert!(
        text.contains("engine_speed_rpm_s") && text.contains("vocabulary"),
        "{text}"
    );
}

#[test]
fn versions_live_side_by_side_and_loading_twice_is_harmless() {
    let host = Host::new();
    let other = host
        .models
        .load(&patched("For tests only.", "For tests alone"))
        .unwrap();
    assert_ne!(other, host.plugin);
    assert_eq!(host.models.load(&ATTACK_PLUGIN).unwrap(), host.plugin);
    assert_eq!(host.models.loaded().len(), 2);
    assert!(matches!(
        host.models.card(ringland_host::contract::Digest([0; 32])),
        Err(ModelError::Unknown(_))
    ));
}

#[test]
fn too_large_a_plugin_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let small = ringland_host::Limits {
        plugin_bytes: 1000,
        ..limits()
    };
    let models = WasmModels::new(small, folder.path()).unwrap();
    let text = models.load(&ATTACK_PLUGIN).unwrap_err().to_string();
    assert!(text.contains("where 1000 are allowed"), "{text}");
}

fn only_file(folder: &Path) -> std::path::PathBuf {
    let files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|f| f.unwrap().path())
        .collect();
    assert_eq!(files.len(), 1);
    files[0].clone()
}

/// A flipped bit in the compiled code loads without complaint unless its seal is checked.
#[test]
fn a_damaged_compiled_plugin_is_compiled_again() {
    let host = Host::new();
    let honest = host.advance("none").unwrap();
    let file = only_file(&host.folder.path().join("compiled"));
    let whole = fs::read(&file).unwrap();
    for at in [0, whole.len() / 2, whole.len() - 1] {
        let mut damaged = whole.clone();
        damaged[at] ^= 0x10;
        fs::write(&file, &damaged).unwrap();
        let again = restarted(&host);
        assert_eq!(again.advance("none").unwrap(), honest);
        let mended = fs::read(&file).unwrap();
        assert_ne!(mended, damaged, "byte {at}");
    }
}

/// A host over the same folder, as after a restart.
fn restarted(host: &Host) -> Host {
    let models = WasmModels::new(limits(), host.folder.path()).unwrap();
    let plugin = models.load(&ATTACK_PLUGIN).unwrap();
    Host {
        models,
        plugin,
        folder: tempfile::tempdir().unwrap(),
    }
}

#[test]
fn the_same_input_gives_the_same_bits_across_instances_and_restarts() {
    let host = Host::new();
    let bits = |host: &Host| {
        let forecast = host.forecast("none").unwrap();
        let lives = forecast.mechanisms[0].lives_events.iter();
        lives.map(|life| life.to_bits()).collect::<Vec<_>>()
    };
    let first = bits(&host);
    assert_eq!(bits(&host), first);
    assert_eq!(bits(&restarted(&host)), first);
}

#[test]
fn a_damaged_prepared_table_is_computed_again() {
    let host = Host::new();
    let specimen = host.specimen("none");
    let table = host.prepare(&specimen).table;
    let file = only_file(&host.folder.path().join("prepared"));
    let mut bytes = fs::read(&file).unwrap();
    bytes[33] ^= 1;
    fs::write(&file, &bytes).unwrap();
    assert_eq!(restarted(&host).prepare(&specimen).table, table);
}

#[cfg(unix)]
#[test]
fn the_cache_is_private() {
    use std::os::unix::fs::PermissionsExt as _;
    let host = Host::new();
    for folder in ["", "compiled", "prepared"] {
        let folder = host.folder.path().join(folder);
        let mode = fs::metadata(folder).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
    }
}
