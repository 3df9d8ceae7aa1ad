//! The commands `plan` and `override`.

use super::open;
use ringland_tests::ringland;

/// The command with these arguments.
const CALENDAR: &str = r#"
display_name = "Short season"
labour_rate_per_h = 75
[failure_costs]
power_loss = 1500
unit_loss = 22000
did_not_finish = 4500
[[events]]
code = "R1"
title = "medium"
start_time = "2026-04-04T08:00:00Z"
profile = "event-a"
severity = 3
oil_temp_k = 383
race = true
[[events]]
code = "R2"
title = "fast, hot"
start_time = "2026-04-18T08:00:00Z"
profile = "event-a"
severity = 4
oil_temp_k = 394
race = true
[[opportunities]]
after_event = ""
[[opportunities]]
after_event = "R1"
time = "2026-04-10T08:00:00Z"
[[levels]]
name = "top_end"
labour_min = 240
[[parts]]
component_type = "piston_pin"
price = 720
fitting_min = 90
level = "top_end"
lead_days = 2
"#;

#[tokio::test(flavor = "multi_thread")]
async fn the_command_puts_a_calendar_plans_by_it_and_records_an_override() {
    let (server, _clients, shop) = open().await;
    let say = |arguments: &[&str]| ringland(&server, arguments).or_fail();
    let file = server.folder().join("season.toml");
    std::fs::write(&file, CALENDAR).expect("the calendar can be written");
    let file = file.to_string_lossy();
    let said = say(&["plan", "calendar", "put", "short", &file]);
    assert_eq!(said.trim(), "calendars/short, revision 1");
    let shown = say(&["plan", "calendar", "show", "short"]);
    for word in ["R2", "fast, hot", "piston_pin", "230 degF", "110 degC"] {
        assert!(shown.contains(word), "{word} is missing from\n{shown}");
    }
    assert!(say(&["plan", "calendar", "list"]).contains("Short season"));

    let plan = say(&["plan", "make", "engine-a", "--calendar", "short"]);
    for word in [
        "Verdict",
        "Risk by event",
        "R1",
        "R2",
        "Expected cost",
        "replace nothing",
        "P10 to P90",
        "come first",
    ] {
        assert!(plan.contains(word), "{word} is missing from\n{plan}");
    }
    let run_on = [
        "--json",
        "plan",
        "make",
        "engine-a",
        "--calendar",
        "short",
        "--replace-nothing",
    ];
    let json = say(&run_on);
    assert!(
        json.contains("\"teardowns\": []") && json.contains("\"risk_of_nothing\""),
        "{json}"
    );

    let id = shop.component.trim_start_matches("components/");
    let decided = [
        "override",
        "record",
        id,
        "--advice",
        "replace it",
        "--decision",
        "run R1",
        "--by",
        "owner",
        "--reason",
        "no spare",
        "--at",
        "2026-04-02",
        "--calendar",
        "short",
        "--event",
        "R1",
    ];
    assert!(say(&decided).contains("by owner: no spare"));
    assert!(say(&["override", "list", id]).contains("done: run R1"));
    let plan = say(&["plan", "make", "engine-a", "--calendar", "short"]);
    assert!(plan.contains("Decided other than advised"), "{plan}");

    let age = [
        "plan",
        "age",
        "--shape",
        "2.5",
        "--scale",
        "1000",
        "--planned-cost",
        "1",
        "--failure-cost",
        "5",
    ];
    assert!(say(&age).contains("493.05 h"), "{}", say(&age));
}
