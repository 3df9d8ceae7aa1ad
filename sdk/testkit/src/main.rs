//! `ringland-testkit PLUGIN.wasm`: prints a report; exit code 0 when every check passed, 1 when
//! one failed, 2 when there was nothing to check.

use ringland_testkit::check_plugin;
use std::{
    env, fs,
    io::{self, Write as _},
    process::ExitCode,
};

fn main() -> ExitCode {
    let arguments: Vec<_> = env::args_os().skip(1).collect();
    let [path] = arguments.as_slice() else {
        return fail("usage: ringland-testkit PLUGIN.wasm");
    };
    let bytes = match fs::read(path) {
        Ok(bytes) => bytes,
        Err(error) => return fail(&format!("cannot read {}: {error}", path.display())),
    };
    let report = match check_plugin(&bytes) {
        Ok(report) => report,
        Err(error) => return fail(&error.to_string()),
    };
    if let Err(error) = write!(io::stdout(), "{report}") {
        return fail(&format!("cannot write the report: {error}"));
    }
    ExitCode::from(u8::from(!report.passed()))
}

fn fail(message: &str) -> ExitCode {
    // Where standard error is closed too, the exit code is all that is left to say.
    let _ = writeln!(io::stderr(), "{message}");
    ExitCode::from(2)
}
