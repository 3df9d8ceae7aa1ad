//! The command as people and scripts meet it before any server answers: help, usage errors, exit codes.

#![allow(clippy::unwrap_used, missing_docs)]

use std::process::{Command, Output};

fn ringland(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringland"));
    command.args(arguments).env("COLUMNS", "100");
    for variable in [
        "RINGLAND_SERVER",
        "RINGLAND_TOKEN_FILE",
        "RINGLAND_CA_FILE",
        "RINGLAND_UNITS",
    ] {
        command.env_remove(variable);
    }
    command.output().unwrap()
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// Names listed under "Commands:" of a help text.
fn commands(help: &str) -> Vec<String> {
    let Some((_, list)) = help.split_once("Commands:\n") else {
        return Vec::new();
    };
    let (list, _) = list.split_once("\n\n").unwrap_or((list, ""));
    let lines = list
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = lines
        .filter_map(|line| line.split_whitespace().next())
        .map(str::to_owned);
    names.filter(|name| name != "help").collect()
}

#[test]
fn every_command_at_every_level_has_help() {
    let top = stdout(&ringland(&["--help"]));
    let nouns = commands(&top);
    for noun in [
        "unit",
        "build",
        "component",
        "duty",
        "profile",
        "predict",
        "watch",
        "model",
        "ledger",
        "demo",
    ] {
        assert!(
            nouns.iter().any(|name| name == noun),
            "{noun} is missing from\n{top}"
        );
    }
    for noun in &nouns {
        let help = ringland(&[noun, "--help"]);
        assert!(help.status.success(), "{noun}: {}", stderr(&help));
        for verb in commands(&stdout(&help)) {
            let help = ringland(&[noun, &verb, "--help"]);
            let text = stdout(&help);
            assert!(
                help.status.success() && text.contains("Usage: ringland"),
                "{noun} {verb}"
            );
        }
    }
}

#[test]
fn help_states_exit_codes_json_and_short_names() {
    let help = stdout(&ringland(&["--help"]));
    for part in [
        "Exit codes: 0 done",
        "--json",
        "field names of the proto files",
        "RINGLAND_SERVER",
    ] {
        assert!(help.contains(part), "{part} is missing from\n{help}");
    }
    let help = stdout(&ringland(&["duty", "record", "--help"]));
    assert!(
        help.contains("time_column") && help.contains("[[columns]]"),
        "{help}"
    );
}

#[test]
fn text_is_plain_when_it_does_not_go_to_a_terminal() {
    let refused = ringland(&["unit", "get", "a", "--server", "127.0.0.1:9"]);
    assert!(!stdout(&ringland(&["--help"])).contains('\u{1b}'));
    assert!(!stderr(&refused).contains('\u{1b}'), "{}", stderr(&refused));
}

#[test]
fn usage_errors_exit_with_2_and_say_what_was_expected() {
    let cases: [(&[&str], &str); 6] = [
        (&["unit", "create"], "<ID>"),
        (
            &["build", "create", "a/b", "--assembled", "yesterday"],
            "2026-04-18",
        ),
        (&["unit", "create", "a", "--over-rev", "8700"], "rpm"),
        (&["profile", "create", "p"], "--from"),
        (&["predict"], "<COMPONENTS>"),
        (&["demo", "--plugins", "no-such-folder"], "no-such-folder"),
    ];
    for (arguments, part) in cases {
        let output = ringland(arguments);
        assert_eq!(
            output.status.code(),
            Some(2),
            "{arguments:?}: {}",
            stderr(&output)
        );
        assert!(
            stderr(&output).contains(part),
            "{arguments:?}: {}",
            stderr(&output)
        );
    }
}

#[test]
fn a_server_that_is_not_there_exits_with_5() {
    let output = ringland(&["ledger", "status", "--server", "127.0.0.1:9"]);
    assert_eq!(output.status.code(), Some(5));
    let text = stderr(&output);
    assert!(
        text.contains("http://127.0.0.1:9") && text.contains("--server"),
        "{text}"
    );
}

#[test]
fn completions_and_the_manual_page_are_printed() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let output = ringland(&["completions", shell]);
        assert!(output.status.success());
        assert!(stdout(&output).contains("ringland"), "{shell}");
    }
    let manual = stdout(&ringland(&["man"]));
    assert!(
        manual.contains(".TH") && manual.contains("ringland"),
        "{manual}"
    );
}
