//! The ringland command.

use std::process::ExitCode;

fn main() -> ExitCode {
    ringland_cli::run()
}
