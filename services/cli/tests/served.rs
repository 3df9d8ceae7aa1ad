//! Every command against a real server over gRPC, with the hand-computable model of the server's own
//! tests in place of a plugin.

#![allow(clippy::unwrap_used, clippy::panic, missing_docs, dead_code)]

#[path = "../../server/tests/server/fake.rs"]
mod fake;

use ringland_server::{Settings, serve_with};
use ringland_store::MemoryStore;
use serde_json::Value;
use std::{path::PathBuf, process::Command, sync::Arc};
use tempfile::TempDir;
use tokio::sync::oneshot;

struct Shop {
    server: String,
    folder: TempDir,
    /// Dropped with the shop, which stops the server.
    _stop: oneshot::Sender<()>,
}

struct Said {
    code: i32,
    out: String,
    err: String,
}

impl Shop {
    async fn open() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let settings = Settings {
            listen: ([127, 0, 0, 1], 0).into(),
            data_dir: folder.path().join("data"),
            cache_dir: folder.path().join("cache"),
            ..Settings::default()
        };
        let (stop, stopped) = oneshot::channel::<()>();
        let models = Arc::new(fake::FakeModels::default());
        let store = Arc::new(MemoryStore::default());
        let stopped = async move { drop(stopped.await) };
        let running = serve_with(settings, store, models, stopped).await.unwrap();
        Self {
            server: format!("http://{}", running.address()),
            folder,
            _stop: stop,
        }
    }

    fn file(&self, name: &str, text: &str) -> String {
        let path: PathBuf = self.folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    }

    async fn run(&self, arguments: &[&str]) -> Said {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ringland"));
        command
            .args(arguments)
            .env("RINGLAND_SERVER", &self.server)
            .env("COLUMNS", "120");
        let output = tokio::task::spawn_blocking(move || command.output())
            .await
            .unwrap()
            .unwrap();
        Said {
            code: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// What a command says that must succeed.
    async fn say(&self, line: &str) -> String {
        let arguments: Vec<&str> = line.split_whitespace().collect();
        let said = self.run(&arguments).await;
        assert_eq!(said.code, 0, "{line}\n{}\n{}", said.out, said.err);
        said.out
    }

    /// The same in JSON.
    async fn json(&self, line: &str) -> Value {
        let text = self.say(&format!("{line} --json")).await;
        serde_json::from_str(&text).unwrap_or_else(|error| panic!("{line}: {error}\n{text}"))
    }

    /// A shop with an engine, a plate in it and an hour of duty a day.
    async fn at_work() -> Self {
        let shop = Self::open().await;
        let plugin = shop.file(
            "plate.wasm",
            &String::from_utf8(fake::plugin("1.0.0")).unwrap(),
        );
        shop.say(&format!("model install {plugin} --activate"))
            .await;
        shop.say("unit create engine-a --over-rev 8700rpm --label car=14")
            .await;
        shop.say("build create engine-a/b-1 --assembled 2026-01-01")
            .await;
        let plate = shop.file(
            "plate.toml",
            "component_type = \"test_plate\"\n[spec.numbers]\nthickness_m = 4e-3\n",
        );
        shop.say(&format!(
            "component create plate-1 --file {plate} --serial P1"
        ))
        .await;
        shop.say("component install plate-1 --in engine-a/b-1 --at 2026-01-01 --position left")
            .await;
        let log = shop.file("log.csv", &log());
        let map = shop.file("map.toml", MAP);
        shop.say(&format!(
            "duty record engine-a {log} --map {map} --start 2026-01-02T09:00:00Z --session race"
        ))
        .await;
        shop
    }
}

const MAP: &str = "name = \"test\"\ntime_column = \"t\"\ntime_unit = \"s\"\n\
                   [[columns]]\nchannel = \"engine_speed_rad_s\"\ncolumn = \"rpm\"\nunit = \"rpm\"\n";

/// Ten minutes at 6000 rpm, 1 Hz, with one cell that is no number.
fn log() -> String {
    let row = |second: i32| match second {
        300 => "300,garbage,1\n".to_owned(),
        _ => format!("{second},6000,1\n"),
    };
    (0..=600)
        .map(row)
        .fold("t,rpm,unknown\n".to_owned(), |log, row| log + &row)
}

#[tokio::test(flavor = "multi_thread")]
async fn a_log_is_recorded_once_and_its_flaws_are_told_with_their_rows() {
    let shop = Shop::at_work().await;
    let (log, map) = (shop.file("log.csv", &log()), shop.file("map.toml", MAP));
    let line = format!(
        "duty record engine-a {log} --map {map} --start 2026-01-02T09:00:00Z --session race"
    );
    let again = shop.say(&line).await;
    assert!(
        again.contains("was recorded before; nothing changed"),
        "{again}"
    );
    for part in ["not a number", "302", "columns not used", "unknown"] {
        assert!(again.contains(part), "{part} is missing from\n{again}");
    }
    let records = shop.json("duty list engine-a").await;
    assert_eq!(records["duty_records"].as_array().unwrap().len(), 1);
    let record = shop.json("duty list engine-a").await["duty_records"][0]["name"].clone();
    let shown = shop
        .say(&format!("duty show {}", record.as_str().unwrap()))
        .await;
    assert!(
        shown.contains("Operating points") && shown.contains("6,000"),
        "{shown}"
    );
}

/// The fake wears 1e-8 m a second down to 1 mm: 1e5 s of life, less what the log has used; an event of
/// the profile is as long as the log.
#[tokio::test(flavor = "multi_thread")]
async fn a_prediction_is_told_in_text_and_json_with_its_cautions() {
    let shop = Shop::at_work().await;
    let records = shop.json("duty list engine-a").await;
    let record = records["duty_records"][0]["name"]
        .as_str()
        .unwrap()
        .to_owned();
    let profile = shop
        .json(&format!("profile create race --from {record} --events 1"))
        .await;
    let event_s = profile["duration_s"].as_f64().unwrap();
    assert!((590.0..=600.5).contains(&event_s), "{event_s}");
    shop.say("unit update engine-a --event-profile race").await;

    let json = shop.json("predict plate-1").await;
    let horizon = json["life"]["horizon_events"].as_f64().unwrap();
    let expected = ((1e5 - event_s) / event_s).min(horizon);
    let p50 = json["life"]["events"]["p50"].as_f64().unwrap();
    assert!(
        (p50 / expected - 1.0).abs() < 0.2,
        "{p50} beside {expected}"
    );
    let text = shop.say("predict plate-1 --full").await;
    for part in [
        "life left",
        "P50 (P05 to P95)",
        "Cautions",
        "How sure",
        "mm",
        "Provenance",
    ] {
        assert!(text.contains(part), "{part} is missing from\n{text}");
    }
    let several = shop.say("predict --unit engine-a").await;
    assert!(
        several.contains("plate-1") && several.contains("Cautions"),
        "{several}"
    );
    let stored = shop.json("prediction list plate-1").await;
    let name = stored["predictions"][0]["name"]
        .as_str()
        .unwrap()
        .to_owned();
    assert_eq!(
        shop.json(&format!("prediction show {name}")).await["name"],
        name.as_str()
    );
    let watched = shop.say("watch engine-a --once").await;
    assert!(watched.contains("plate-1"), "{watched}");
    let lines = shop.say("watch --once --json").await;
    assert!(
        lines
            .lines()
            .all(|line| serde_json::from_str::<Value>(line).is_ok()),
        "{lines}"
    );
}

#[tokio::test(flavor = "multi_thread")]
async fn parts_move_and_their_history_moves_with_them() {
    let shop = Shop::at_work().await;
    shop.say("unit create engine-b").await;
    shop.say("build create engine-b/b-1 --assembled 2026-01-01")
        .await;
    shop.say("component move plate-1 --to engine-b/b-1 --at 2026-02-01")
        .await;
    let moved = shop.json("component get plate-1").await;
    assert_eq!(moved["installed_build"], "units/engine-b/builds/b-1");
    shop.say("component remove plate-1 --at 2026-03-01").await;
    let history = shop.json("component history plate-1").await;
    assert_eq!(history["installations"].as_array().unwrap().len(), 2);
    assert!(!history["revisions"].as_array().unwrap().is_empty());
    let thinner = shop.file("thin.toml", "[spec.numbers]\nthickness_m = 3.5e-3\n");
    shop.say(&format!(
        "component update plate-1 --file {thinner} --from 2026-03-02 --reason lapped"
    ))
    .await;
    let told = shop.say("component history plate-1").await;
    assert!(
        told.contains("engine-a/b-1") && told.contains("lapped"),
        "{told}"
    );
    assert!(
        shop.say("build contents engine-b/b-1")
            .await
            .contains("plate-1")
    );
    shop.say("build close engine-b/b-1 --torn-down 2026-04-01")
        .await;
    assert!(shop.say("build list").await.contains("in use"));
}

#[tokio::test(flavor = "multi_thread")]
async fn every_reading_command_answers_in_text_and_in_json() {
    let shop = Shop::at_work().await;
    let lines = [
        "unit list",
        "unit get engine-a",
        "build list engine-a",
        "build get engine-a/b-1",
        "build contents engine-a/b-1",
        "component list",
        "component list --in engine-a",
        "component get plate-1",
        "component history plate-1",
        "duty list engine-a",
        "profile list",
        "prediction list plate-1",
        "model list",
        "model show test_plate",
        "model template test_plate",
        "ledger status",
        "channels",
    ];
    for line in lines {
        assert!(shop.json(line).await.is_object(), "{line}");
        for units in ["shop", "si"] {
            let text = shop.say(&format!("{line} --units {units}")).await;
            assert!(!text.trim().is_empty(), "{line}");
            assert!(!text.contains('\u{1b}'), "{line} is coloured in a pipe");
        }
    }
    assert!(
        shop.say("ledger rebuild")
            .await
            .contains("1 components folded, 0")
    );
    let template = shop.say("model template test_plate").await;
    let file = shop.file("template.toml", &template);
    assert!(
        shop.say(&format!("component check --file {file}"))
            .await
            .contains("nothing found")
    );
}

#[tokio::test(flavor = "multi_thread")]
async fn refusals_name_every_field_and_exit_as_the_help_says() {
    let shop = Shop::at_work().await;
    let file = shop.file(
        "thick.toml",
        "component_type = \"test_plate\"\n[spec.numbers]\nthickness_m = 1.0\n",
    );
    let said = shop
        .run(&["component", "create", "plate-2", "--file", &file])
        .await;
    assert_eq!(said.code, 3, "{}", said.err);
    assert!(
        said.err.contains("spec.numbers.thickness_m") && said.err.contains("measure it again"),
        "{}",
        said.err
    );
    let said = shop
        .run(&["component", "create", "plate-2", "--file", &file, "--json"])
        .await;
    let status: Value = serde_json::from_str(said.err.trim()).unwrap();
    assert_eq!(status["status"], "INVALID_ARGUMENT");
    let details = status["details"].as_array().unwrap();
    assert!(
        details
            .iter()
            .any(|detail| detail["field_violations"][0]["field"] == "spec.numbers.thickness_m")
    );
    let said = shop.run(&["unit", "get", "engine-x"]).await;
    assert_eq!(said.code, 4, "{}", said.err);
    assert!(said.err.contains("engine-x"), "{}", said.err);
    let said = shop.run(&["predict", "plate-1"]).await;
    assert_eq!(said.code, 3, "{}", said.err);
    assert!(said.err.contains("PROFILE_MISSING"), "{}", said.err);
    let wrong = shop.file("wrong.toml", "serail = \"x\"\n");
    let said = shop
        .run(&["component", "create", "plate-3", "--file", &wrong])
        .await;
    assert_eq!(said.code, 2);
    assert!(
        said.err.contains("serail") && said.err.contains("wrong.toml"),
        "{}",
        said.err
    );
}
