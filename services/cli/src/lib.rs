//! The ringland command: everything the API does, for people and scripts.
//!
//! This crate knows the contract (`ringland-proto`) and how people read it: short names, shop units,
//! tables, JSON. It has no rules of the shop and no physics. Only `demo` and `season` start a server, in this process.

mod arguments;
mod commands;
mod connect;
pub mod demo;
mod error;
mod json;
mod measures;
mod names;
mod numbers;
mod out;
mod plot;
mod show;
mod table;
mod times;

use arguments::{Arguments, Command};
use clap::Parser;
use error::CliError;
use out::{Look, Out};
use std::{io::Write, process::ExitCode};

/// Reads the command line, does what it says, tells what went wrong.
pub fn run() -> ExitCode {
    let arguments = Arguments::parse();
    let out = Out {
        json: arguments.json,
        look: Look::of_terminal(arguments.units),
    };
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build();
    let done = match runtime {
        Ok(runtime) => runtime.block_on(commands::run(arguments, out)),
        Err(error) => Err(CliError::Failed(format!("cannot start threads: {error}"))),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.is_closed_pipe() => ExitCode::SUCCESS,
        Err(error) => {
            tell(&error, out.json);
            ExitCode::from(error.exit_code())
        }
    }
}

/// Writes an error to standard error. When that cannot be written, the exit code has to do.
fn tell(error: &CliError, as_json: bool) {
    let text = match error {
        CliError::Refused(status) if as_json => json::status(status).to_string(),
        other => format!("{} {other}", out::alarm("error:")),
    };
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}
