//! What the README shows is what the programs do.

use ringland_tests::{plugin, program};
use std::{path::Path, process::Command};

fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

#[test]
fn the_two_commands_exist_and_are_the_ones_shown() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("a README");
    for command in ["deploy/demo", "tests/run"] {
        assert!(
            readme.contains(&format!("\n    {command}\n")),
            "{command} stands alone on a line"
        );
        assert!(root().join(command).exists(), "{command}");
    }
}

/// Lines of the README's block that starts with this command, without the command.
fn shown_output(command: &str) -> String {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("a README");
    let block = readme
        .split("```")
        .find(|block| block.contains(&format!("$ {command}\n")));
    let block = block.unwrap_or_else(|| panic!("the README shows {command}"));
    let (_, output) = block
        .split_once(&format!("$ {command}\n"))
        .unwrap_or_default();
    output.trim_end().to_owned()
}

#[test]
fn the_demo_prints_what_the_readme_shows() {
    plugin("ringland-plugin-ring-pack");
    let demo = Command::new(program("ringland"))
        .args(["demo", "--quick"])
        .current_dir(root())
        .env("COLUMNS", "100")
        .output()
        .expect("the demo runs");
    let out = String::from_utf8_lossy(&demo.stdout);
    assert!(
        demo.status.success(),
        "{out}\n{}",
        String::from_utf8_lossy(&demo.stderr)
    );
    let shown = shown_output("deploy/demo --quick");
    for line in shown
        .lines()
        .filter(|line| !line.trim().is_empty() && !line.contains("..."))
    {
        assert!(
            out.contains(line.trim_end()),
            "the README shows\n{line}\nthe demo prints\n{out}"
        );
    }
}

#[test]
fn every_command_has_help() {
    let help = |arguments: &[&str]| {
        let output = Command::new(program("ringland"))
            .args(arguments)
            .arg("--help")
            .output();
        let output = output.expect("the command runs");
        assert!(output.status.success(), "{arguments:?}");
        String::from_utf8_lossy(&output.stdout).into_owned()
    };
    let top = help(&[]);
    let (_, commands) = top.split_once("Commands:").expect("a list of commands");
    let (commands, _) = commands.split_once("\n\n").expect("the list ends");
    let names: Vec<&str> = commands
        .lines()
        .filter_map(|line| line.strip_prefix("  ")?.split(' ').next())
        .collect();
    assert!(names.len() >= 8, "{top}");
    for name in names
        .into_iter()
        .filter(|name| !name.is_empty() && *name != "help")
    {
        assert!(help(&[name]).contains("Usage:"), "{name}");
    }
}
