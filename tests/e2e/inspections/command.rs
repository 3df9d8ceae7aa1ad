//! The command line.

use super::raced;
use ringland_tests::{Server, plugin, program};
use std::process::Command;

#[test]
fn the_command_records_lists_explains_and_shows_the_correction() {
    let runtime = tokio::runtime::Runtime::new().expect("a runtime");
    let (server, component) = runtime.block_on(async {
        let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
        let mut clients = server.clients().await;
        let shop = raced(&mut clients).await;
        (server, shop.component)
    });
    let id = component.trim_start_matches("components/");
    let run = |arguments: &[&str]| {
        let output = Command::new(program("ringland"))
            .arg(format!("--server={}", server.url))
            .args(arguments)
            .env("COLUMNS", "120")
            .output()
            .expect("the command runs");
        let text =
            String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
        (output.status.success(), text.into_owned())
    };
    let (done, text) = run(&["inspection", "correction", id]);
    assert!(done && text.contains("prior"), "{text}");
    let arguments = ["--at", "2026-03-02T16:00:00Z", "--by", "builder"];
    let gauge = [
        "--instrument",
        "feeler gauge",
        "--instrument-id",
        "feeler 2",
        "--sd",
        "10um",
    ];
    let record = ["inspection", "record", id, "--reading", "end_gap_m=20thou"];
    let (done, text) = run(&[&record[..], &arguments[..], &gauge[..]].concat());
    assert!(done && text.contains("end gap"), "{text}");
    let (done, text) = run(&["inspection", "list", id]);
    assert!(done && text.contains("builder"), "{text}");
    let (done, text) = run(&["inspection", "correction", id]);
    assert!(done && text.contains("shop"), "{text}");
    let unknown = ["inspection", "record", id, "--reading", "end_gab_m=20thou"];
    let later = ["--at", "2026-03-02T17:00:00Z", "--by", "builder"];
    let (done, text) = run(&[&unknown[..], &later[..]].concat());
    assert!(
        !done && text.contains("end_gab_m") && text.contains("end_gap_m"),
        "{text}"
    );
    runtime.block_on(async move { drop(server) });
}
