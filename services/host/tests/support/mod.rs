//! The attack plugin, built on first use, and what a call of it needs.
#![allow(dead_code, reason = "each test file uses a part")]
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a helper of tests fails like a test"
)]

use ringland_host::{
    Limits, WasmModels,
    contract::{
        Digest, Duty, ForecastRequest, ModelError, Models, Prepared, Rate, Specimen,
        default_specimen,
    },
};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
    sync::LazyLock,
};
use tempfile::TempDir;

const MANIFEST: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../tests/attack-plugins/Cargo.toml"
);

/// The attack plugin's bytes.
pub static ATTACK_PLUGIN: LazyLock<Vec<u8>> = LazyLock::new(|| {
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
    fs::read(target.join("wasm32-wasip2/release/attack_plugins.wasm")).unwrap()
});

/// The attack plugin with each occurrence of a text in it changed to another of the same length.
pub fn patched(from: &str, to: &str) -> Vec<u8> {
    assert_eq!(from.len(), to.len());
    let mut bytes = ATTACK_PLUGIN.clone();
    let places: Vec<usize> = (0..bytes.len() - from.len())
        .filter(|&at| bytes[at..].starts_with(from.as_bytes()))
        .collect();
    assert!(!places.is_empty(), "{from:?} does not occur");
    for at in places {
        bytes[at..at + from.len()].copy_from_slice(to.as_bytes());
    }
    bytes
}

/// Limits under which a test does not wait.
pub fn limits() -> Limits {
    Limits {
        instances: 4,
        memory_bytes: 32 << 20,
        call_ms: 3000,
        short_call_ms: 3000,
        prepare_ms: 3000,
        ..Limits::default()
    }
}

static WARM: LazyLock<TempDir> = LazyLock::new(|| {
    let folder = tempfile::tempdir().unwrap();
    let models = WasmModels::new(limits(), folder.path()).unwrap();
    models.load(&ATTACK_PLUGIN).unwrap();
    folder
});

/// A host with the attack plugin.
pub struct Host {
    pub models: WasmModels,
    pub plugin: Digest,
    pub folder: TempDir,
}

impl Host {
    pub fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        // Compiled once for all tests of a file.
        let compiled = folder.path().join("compiled");
        fs::create_dir(&compiled).unwrap();
        for file in fs::read_dir(WARM.path().join("compiled")).unwrap() {
            let file = file.unwrap();
            fs::copy(file.path(), compiled.join(file.file_name())).unwrap();
        }
        let models = WasmModels::new(limits(), folder.path()).unwrap();
        let plugin = models.load(&ATTACK_PLUGIN).unwrap();
        Self {
            models,
            plugin,
            folder,
        }
    }

    /// The default spec with an attack chosen.
    pub fn specimen(&self, attack: &str) -> Specimen {
        let card = self.models.card(self.plugin).unwrap();
        let mut specimen = default_specimen(&card);
        let options = &card.choices[0].options;
        let chosen = options.iter().position(|option| option.name == attack);
        specimen.choices[0] = chosen.unwrap() as u32;
        specimen
    }

    pub fn prepare(&self, specimen: &Specimen) -> Prepared {
        self.models.prepare(self.plugin, specimen).unwrap()
    }

    pub fn advance(&self, attack: &str) -> Result<Vec<Vec<f64>>, ModelError> {
        let specimen = self.specimen(attack);
        let prepared = self.models.prepare(self.plugin, &specimen)?;
        let duties = [duty(), duty()];
        self.models
            .advance(self.plugin, &specimen, &prepared, &[0.0], &duties)
    }

    pub fn forecast(&self, attack: &str) -> Result<ringland_host::contract::Forecast, ModelError> {
        let specimen = self.specimen(attack);
        let prepared = self.prepare(&specimen);
        self.models
            .forecast(self.plugin, &specimen, &prepared, &request())
    }
}

/// 100 minutes at 300 rad/s, and as long at 600.
pub fn duty() -> Duty {
    Duty {
        duration_s: 12_000.0,
        time_s: vec![6000.0, 6000.0],
        points: vec![vec![300.0, 600.0]],
        ..Duty::default()
    }
}

/// A life of 1.85 events at the median, so that about a tenth of the lives end within the next.
pub fn request() -> ForecastRequest {
    ForecastRequest {
        condition: vec![0.0],
        event: duty(),
        rates: vec![Rate {
            ln_mean: 0.0,
            ln_sd: 0.5,
        }],
        samples: 500,
        seed: 1,
        horizon_events: 20.0,
        ahead_events: vec![0.0, 1.0, 2.0],
    }
}

/// The reason why a plugin misbehaved.
pub fn misbehaviour<T: std::fmt::Debug>(answer: Result<T, ModelError>) -> String {
    match answer {
        Err(ModelError::Misbehaved { reason, plugin, .. }) => {
            assert_eq!(plugin, "attack_plugin 1.0.0");
            reason
        }
        other => panic!("expected a misbehaviour, got {other:?}"),
    }
}
