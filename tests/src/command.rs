//! The command `ringland`, asked of a running server.

use crate::{Server, program};
use std::process::Command;

/// What a run of the command came to.
pub struct Said {
    /// Exit code; `None` when a signal ended it.
    pub code: Option<i32>,
    /// What it printed.
    pub out: String,
    /// What it complained of.
    pub err: String,
}

/// Runs the command; its tables are 140 columns wide.
pub fn ringland(server: &Server, arguments: &[&str]) -> Said {
    let output = Command::new(program("ringland"))
        .arg(format!("--server={}", server.url))
        .args(arguments)
        .env("COLUMNS", "140")
        .output()
        .expect("the command runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    Said {
        code: output.status.code(),
        out: text(&output.stdout),
        err: text(&output.stderr),
    }
}

impl Said {
    /// What it printed.
    ///
    /// # Panics
    /// When it failed.
    pub fn or_fail(self) -> String {
        assert_eq!(self.code, Some(0), "{}\n{}", self.out, self.err);
        self.out
    }

    /// Whether it did what it was asked, and all that it said.
    pub fn told(self) -> (bool, String) {
        (self.code == Some(0), self.out + &self.err)
    }
}
