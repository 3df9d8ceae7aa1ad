//! The command `treatment`.

use ringland_tests::{Server, plugin, ringland};

#[tokio::test(flavor = "multi_thread")]
async fn the_command_lists_shows_checks_applies_and_puts() {
    let server = Server::start(&[&plugin("ringland-plugin-gear-set")]).await;
    let run = |arguments: &[&str]| ringland(&server, arguments).told();
    let (done, text) = run(&["treatment", "list", "--type", "gear_set"]);
    assert!(
        done && text.contains("superfinish") && !text.contains("plateau-hone"),
        "{text}"
    );
    let (done, text) = run(&["treatment", "show", "shot-peen"]);
    assert!(
        done && text.contains("-435 MPa, -609 at 50 um") && text.contains("common practice"),
        "{text}"
    );
    let (done, text) = run(&[
        "component",
        "create",
        "gears",
        "--type",
        "gear_set",
        "--treatment",
        "nitride",
    ]);
    assert!(done && text.contains("nitride"), "{text}");
    let (done, text) = run(&[
        "treatment",
        "check",
        "--component",
        "gears",
        "--do",
        "shot-peen",
        "superfinish:flank",
    ]);
    assert!(
        done && text.contains("4.000e-7") && text.contains("8.000e-8") && text.contains("root"),
        "{text}"
    );
    let (done, text) = run(&[
        "treatment",
        "check",
        "--type",
        "gear_set",
        "--do",
        "shot-peen:flank",
    ]);
    assert!(!done && text.contains("roughens ground flanks"), "{text}");
    let from = ["--from", "2026-03-01T00:00:00Z", "--note", "sheet 3"];
    let arguments = [
        "treatment",
        "apply",
        "gears",
        "--do",
        "shot-peen",
        "superfinish",
    ];
    let (done, text) = run(&[&arguments[..], &from[..]].concat());
    assert!(
        done && text.contains("sheet 3") && text.contains("sanctioning body"),
        "{text}"
    );
    let (done, text) = run(&["component", "history", "gears"]);
    assert!(done && text.contains("superfinish"), "{text}");
    let (_, own) = run(&["treatment", "show", "superfinish", "--toml"]);
    let file = server.folder().join("own.toml");
    let own = own.replacen(
        "id = \"superfinish\"",
        "id = \"our-finish\"\nprice = 95.5",
        1,
    );
    std::fs::write(&file, own).expect("the file is written");
    let file = file.to_string_lossy().into_owned();
    let (done, text) = run(&["treatment", "put", &file]);
    assert!(
        done && text.contains("treatments/our-finish, revision 1"),
        "{text}"
    );
    let (done, text) = run(&["--json", "treatment", "show", "our-finish"]);
    assert!(done && text.contains("\"price\": 95.5"), "{text}");
}
