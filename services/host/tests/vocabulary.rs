//! The tables of `sdk/wit/README.md` are the vocabulary.
#![allow(clippy::unwrap_used, reason = "helpers of tests fail like tests")]

use ringland_host::contract::vocabulary::{CHANNELS, SHOCKS, SURFACE_PROPERTIES};
use std::fmt::Write as _;

const README: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sdk/wit/README.md");
const START: &str = "<!-- vocabulary starts -->\n";
const END: &str = "<!-- vocabulary ends -->";

fn tables() -> String {
    let mut text = String::from(
        "\n### Channels\n\nA sample outside its range is taken for a broken sensor. *Cell* is the width of an operating-point cell over the \
         channel; a channel\nwithout one is averaged within the cells of the others. Cycles of *counted* channels are rainflow-counted.\n\n\
         | channel | unit | meaning | range | cell | counted |\n| --- | --- | --- | --- | --- | --- |\n",
    );
    for channel in CHANNELS {
        let cell = channel
            .cell
            .map_or(String::new(), |width| format!("{width:.4}"));
        let cell = cell.trim_end_matches('0').trim_end_matches('.');
        let counted = if channel.counted { "yes" } else { "" };
        let (name, unit, label) = (channel.name, channel.unit, channel.label);
        let (minimum, maximum) = (channel.minimum, channel.maximum);
        let row = writeln!(
            text,
            "| `{name}` | {unit} | {label} | {minimum} to {maximum} | {cell} | {counted} |"
        );
        row.unwrap();
    }
    text += "\n### Shocks\n\n`start_s` counts from the start of the record.\n\n| kind | meaning | fields |\n| --- | --- | --- |\n";
    for shock in SHOCKS {
        let fields: Vec<String> = shock.fields.iter().map(|f| format!("`{f}`")).collect();
        writeln!(
            text,
            "| `{}` | {} | {} |",
            shock.kind,
            shock.label,
            fields.join(", ")
        )
        .unwrap();
    }
    text += "\n### Surface properties\n\n| property | unit | meaning |\n| --- | --- | --- |\n";
    for property in SURFACE_PROPERTIES {
        let (name, unit, meaning) = (property.name, property.unit, property.meaning);
        writeln!(text, "| `{name}` | {unit} | {meaning} |").unwrap();
    }
    text + "\n"
}

#[test]
fn the_readme_lists_the_vocabulary() {
    let readme = std::fs::read_to_string(README).unwrap();
    let start = readme.find(START).unwrap() + START.len();
    let end = readme.find(END).unwrap();
    if std::env::var_os("RINGLAND_WRITE_VOCABULARY").is_some() {
        let written = [&readme[..start], &tables(), &readme[end..]].concat();
        std::fs::write(README, written).unwrap();
        return;
    }
    assert_eq!(
        &readme[start..end],
        tables(),
        "sdk/wit/README.md is stale: it says how to write it"
    );
}

#[test]
fn names_are_unique_and_shocks_start_with_their_time() {
    let mut names: Vec<&str> = CHANNELS.iter().map(|c| c.name).collect();
    names.extend(SHOCKS.iter().map(|s| s.kind));
    names.extend(SURFACE_PROPERTIES.iter().map(|p| p.name));
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), count);
    for shock in SHOCKS {
        assert_eq!(
            shock.fields[..2],
            ["start_s", "duration_s"],
            "{}",
            shock.kind
        );
    }
}
