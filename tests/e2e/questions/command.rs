//! The command `ask`.

use super::engine;
use ringland_tests::{Shop, ringland};

#[tokio::test(flavor = "multi_thread")]
async fn the_command_line_asks_every_question() {
    let mut engine = engine().await;
    let other = Shop::open(&mut engine.clients, "b").await.expect("a shop");
    let profile = format!("--profile={}", engine.profile);
    let cases: [(&[&str], &[&str]); 5] = [
        (
            &[
                "one-more-event",
                "engine-a",
                "--severity=1.1",
                "--failure=22000",
                "--unfinished=4500",
                "--replace=valve_spring=970",
            ],
            &[
                "risk",
                "unused",
                "expected loss of running",
                "Why",
                "Cautions",
            ],
        ),
        (
            &["over-rev", &engine.missed, "--replace=connecting_rod=900"],
            &[
                "The over-rev (9420 rpm",
                "without it",
                "What it left in the conditions",
                "Check",
                "Cautions",
            ],
        ),
        (
            &[
                "speed",
                "engine-a",
                "--change=200rpm",
                "--change=-200rpm",
                "--new",
                &profile,
            ],
            &[
                "+200 rpm",
                "-200 rpm",
                "life x",
                "Taken for granted",
                "Cautions",
            ],
        ),
        (
            &["move", "rings-a", "engine-b", &profile],
            &[
                "rings-b is there and comes out for it",
                "with the move",
                "Left behind",
                "Cautions",
            ],
        ),
        (
            &[
                "spare",
                "engine-a",
                "engine-b",
                "--type=ring_pack",
                "--at=2026-04-18,2026-05-02,2026-05-16",
                "--price=1200",
                "--lead=14",
                "--missed=4500",
                &profile,
            ],
            &["any down", "break-even price", "2026-05-02", "Cautions"],
        ),
    ];
    for (arguments, expected) in cases {
        let arguments: Vec<&str> = ["ask"].iter().chain(arguments).copied().collect();
        let said = ringland(&engine.server, &arguments).or_fail();
        println!("$ ringland {}\n{said}", arguments.join(" "));
        let one_line = said.split_whitespace().collect::<Vec<_>>().join(" ");
        for text in expected {
            assert!(one_line.contains(text), "{text} is missing from\n{said}");
        }
        let as_json: Vec<&str> = arguments.iter().copied().chain(["--json"]).collect();
        let said = ringland(&engine.server, &as_json).or_fail();
        assert!(said.contains("\"verdict\""), "{said}");
    }
    assert!(!other.unit.is_empty());
}
