//! The binary as an operator runs it: settings, start, signal, restart. With the store on disk and the real
//! sandbox.

use crate::setup::unit;
use ringland_proto::v1::{self as api, unit_service_client::UnitServiceClient};
use std::{
    path::Path,
    process::{Child, Command, Output, Stdio},
    time::Duration,
};
use tonic::transport::Channel;

fn server(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringland-server"));
    command
        .env_clear()
        .current_dir(folder)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

#[test]
fn settings_are_checked_and_printed_without_touching_anything() {
    let folder = tempfile::tempdir().unwrap();
    let run =
        |arguments: &[&str]| -> Output { server(folder.path()).args(arguments).output().unwrap() };
    assert!(run(&["--check-config"]).status.success());
    let printed = run(&["--print-config", "--set", "limits.calls=9"]);
    assert!(printed.status.success());
    assert!(text(&printed.stdout).contains("calls = 9"));
    let open = run(&["--check-config", "--listen", "0.0.0.0:7420"]);
    assert_eq!(open.status.code(), Some(1));
    assert!(
        text(&open.stderr).contains("allow_open"),
        "{}",
        text(&open.stderr)
    );
    let unknown = run(&["--set", "limits.cals=9"]);
    assert_eq!(unknown.status.code(), Some(1));
    assert!(text(&unknown.stderr).contains("cals"));
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        0,
        "nothing was made"
    );
}

/// Starts a server and waits for its address.
async fn start(folder: &Path) -> (Child, Channel) {
    let flags = [
        "--listen",
        "127.0.0.1:0",
        "--address-file",
        "address",
        "--log-format",
        "json",
    ];
    let child = server(folder).args(flags).spawn().unwrap();
    let file = folder.join("address");
    let address = loop {
        match std::fs::read_to_string(&file) {
            Ok(address) => break address,
            Err(_) => tokio::time::sleep(Duration::from_millis(20)).await,
        }
    };
    let channel = Channel::from_shared(format!("http://{}", address.trim())).unwrap();
    (child, channel.connect().await.unwrap())
}

fn terminate(child: Child) -> Output {
    let id = child.id().to_string();
    assert!(
        Command::new("kill")
            .args(["-TERM", &id])
            .status()
            .unwrap()
            .success()
    );
    child.wait_with_output().unwrap()
}

// Several threads: the client hangs up while this one waits for the server's end.
#[tokio::test(flavor = "multi_thread")]
async fn what_was_acknowledged_is_there_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let (child, channel) = start(folder.path()).await;
    let mut request = unit("engine-a");
    request.unit.as_mut().unwrap().event_profile.clear();
    let created = UnitServiceClient::new(channel)
        .create_unit(request)
        .await
        .unwrap()
        .into_inner();
    let ended = terminate(child);
    assert_eq!(ended.status.code(), Some(0), "{}", text(&ended.stderr));
    let log = text(&ended.stderr);
    for line in log.lines() {
        serde_json::from_str::<serde_json::Value>(line).expect("every line is JSON");
    }
    assert!(
        log.contains("listening") && log.contains("UnitService/CreateUnit"),
        "{log}"
    );

    let (child, channel) = start(folder.path()).await;
    let get = api::GetUnitRequest {
        name: created.name.clone(),
    };
    let found = UnitServiceClient::new(channel)
        .get_unit(get)
        .await
        .unwrap()
        .into_inner();
    assert_eq!(found, created);
    assert_eq!(terminate(child).status.code(), Some(0));
}

/// Two servers on one ledger would each believe that they are alone.
#[tokio::test(flavor = "multi_thread")]
async fn a_folder_that_is_served_is_refused_to_a_second_server() {
    let folder = tempfile::tempdir().unwrap();
    let (child, _channel) = start(folder.path()).await;
    let second = server(folder.path())
        .args(["--listen", "127.0.0.1:0"])
        .output()
        .unwrap();
    assert_eq!(second.status.code(), Some(1));
    assert!(
        text(&second.stderr).contains("another process"),
        "{}",
        text(&second.stderr)
    );
    assert_eq!(terminate(child).status.code(), Some(0));
}
