//! The commands `seating` and `power`.

use super::Cell;
use ringland_tests::{plugin, ringland};

/// The same on the command line, in shop units.
#[tokio::test(flavor = "multi_thread")]
async fn the_command_line_says_the_same() {
    let mut cell = Cell::open(&[&plugin("ringland-plugin-ring-pack")]).await;
    for number in 1..=3 {
        cell.pull(number).await;
    }
    let run = |arguments: &[&str]| {
        let said = ringland(&cell.server, arguments);
        (said.code, said.out, said.err)
    };
    let (code, out, err) = run(&[
        "seating",
        "--component",
        "new-rings",
        "--pulls",
        "170,105,90,86",
        "--unit",
        "l/min",
    ]);
    println!("{out}");
    assert_eq!(code, Some(0), "{err}");
    for part in [
        "STOP:",
        "105",
        "predicted",
        "L/min",
        "Taken for granted",
        "Cautions",
    ] {
        assert!(out.contains(part), "{part} is missing from\n{out}");
    }
    let (code, out, _) = run(&[
        "seating",
        "--pulls",
        "6.0,3.7,3.2",
        "--unit",
        "cfm",
        "--json",
    ]);
    assert_eq!(code, Some(0));
    assert!(out.contains("SEATING_DECISION_ONE_MORE_PULL"), "{out}");
    let (code, _, err) = run(&["seating", "--pulls", "170,105", "--leak-down", "8"]);
    assert_eq!(
        (
            code,
            err.contains("--leak-down has 1 entries for 2 readings")
        ),
        (Some(2), true),
        "{err}"
    );
    let profile = cell.shop.profile.clone();
    let unit = cell.shop.unit.clone();
    let pulls = [
        "power",
        &unit,
        "--profile",
        &profile,
        "--pull",
        "446hp@0",
        "444hp@0.2",
        "--baseline",
        "446hp",
    ];
    let (code, out, err) = run(&pulls);
    println!("{out}");
    assert_eq!(code, Some(0), "{err}");
    for part in [
        "measured",
        "predicted",
        "446.0",
        "hp",
        "Predicted by part",
        "end-gap growth",
    ] {
        assert!(out.contains(part), "{part} is missing from\n{out}");
    }
    let (code, _, err) = run(&["power", &unit, "--pull", "446hp"]);
    assert_eq!(code, Some(2), "{err}");
}
