//! The command `evidence`.

use super::{REMISSIONS, rows};
use ringland_tests::{Server, ringland};

#[tokio::test(flavor = "multi_thread")]
async fn the_command_reads_a_notebook_and_draws() {
    let server = Server::start(&[]).await;
    let run = |arguments: &[&str]| ringland(&server, arguments).told();
    let folder = server.folder().to_owned();
    let path = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let notebook = rows(REMISSIONS)
        .into_iter()
        .map(|row| format!("{},{},{}\n", row[2], row[3], row[4]))
        .collect::<String>();
    std::fs::write(path("lives.csv"), format!("age,ended,group\n{notebook}")).expect("written");
    let (done, text) = run(&[
        "evidence",
        "groups",
        "--file",
        &path("lives.csv"),
        "--age-unit",
        "weeks",
        "--base",
        "control",
        "--plot",
        &path("groups.png"),
    ]);
    assert!(
        done && text.contains("3.551 (1.932 to 6.529)") && text.contains("16.79"),
        "{text}"
    );
    let png = std::fs::read(path("groups.png")).expect("drawn");
    assert_eq!(&png[..8], b"\x89PNG\r\n\x1a\n");
    let (done, text) = run(&[
        "evidence",
        "lives",
        "--file",
        &path("lives.csv"),
        "--plot",
        &path("lives.svg"),
    ]);
    assert!(
        done && text.contains("Kaplan-Meier") && text.contains("sanctioning body"),
        "{text}"
    );
    let svg = std::fs::read_to_string(path("lives.svg")).expect("drawn");
    assert!(
        svg.contains("Share of parts alive") && svg.contains("age, h"),
        "{svg}"
    );
    let (done, text) = run(&[
        "evidence",
        "lives",
        "--file",
        &path("lives.csv"),
        "--plot",
        &path("lives.gif"),
    ]);
    assert!(!done && text.contains(".svg or .png"), "{text}");
}
