//! Where answers go: text for people or JSON for scripts, on standard output; progress on standard
//! error, and only when that is a terminal.

use crate::{CliError, measures::System};
use anstyle::{AnsiColor, Style};
use indicatif::{ProgressBar, ProgressStyle};
use std::{io::Write, time::Duration};

/// Width of text that does not go to a terminal.
const WIDTH: usize = 100;

/// Between two signs of life.
const TICK: Duration = Duration::from_millis(200);

/// How text is laid out.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Units of measure.
    pub system: System,
    /// Characters in a line.
    pub width: usize,
}

impl Look {
    /// For the terminal that we write to: `COLUMNS`, else its size, else 100.
    pub fn of_terminal(system: System) -> Self {
        let told = std::env::var("COLUMNS")
            .ok()
            .and_then(|text| text.parse().ok());
        let measured = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
        let width = told.or_else(measured).unwrap_or(WIDTH);
        Self {
            system,
            width: width.clamp(40, 200),
        }
    }
}

/// Standard output.
#[derive(Clone, Copy, Debug)]
pub struct Out {
    /// JSON instead of text.
    pub json: bool,
    /// How text is laid out.
    pub look: Look,
}

impl Out {
    /// Writes text and ends the line. Colours are left out where they do not belong.
    ///
    /// # Errors
    /// When standard output cannot be written.
    #[allow(clippy::unused_self)] // whoever may write holds an `Out`
    pub fn text(&self, text: &str) -> Result<(), CliError> {
        let mut out = anstream::stdout().lock();
        writeln!(out, "{}", text.trim_end()).map_err(CliError::Output)
    }

    /// Writes JSON over several lines.
    ///
    /// # Errors
    /// As [`Self::text`].
    pub fn json(&self, value: &serde_json::Value) -> Result<(), CliError> {
        let text = serde_json::to_string_pretty(value);
        self.text(&text.map_err(|error| CliError::Failed(error.to_string()))?)
    }

    /// Writes bytes as they are.
    ///
    /// # Errors
    /// As [`Self::text`].
    #[allow(clippy::unused_self)] // as above
    pub fn bytes(&self, bytes: &[u8]) -> Result<(), CliError> {
        std::io::stdout()
            .lock()
            .write_all(bytes)
            .map_err(CliError::Output)
    }
}

/// A heading.
pub fn heading(text: &str) -> String {
    styled(Style::new().bold(), text)
}

/// Something to look at first.
pub fn alarm(text: &str) -> String {
    styled(
        Style::new().bold().fg_color(Some(AnsiColor::Red.into())),
        text,
    )
}

/// Something to know.
pub fn caution(text: &str) -> String {
    styled(Style::new().fg_color(Some(AnsiColor::Yellow.into())), text)
}

fn styled(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

/// Progress over `total` steps; hidden when standard error is not a terminal.
pub fn progress(total: u64, what: &'static str) -> ProgressBar {
    bar(total, what, "{msg} {bar:30} {pos}/{len} {elapsed}")
}

/// Progress over `total` bytes.
pub fn byte_progress(total: u64, what: &'static str) -> ProgressBar {
    bar(
        total,
        what,
        "{msg} {bar:30} {bytes}/{total_bytes} {elapsed}",
    )
}

/// A sign of life while the server works; hidden when standard error is not a terminal.
pub fn waiting(what: &'static str) -> ProgressBar {
    let spinner = ProgressBar::new_spinner().with_message(what);
    spinner.enable_steady_tick(TICK);
    spinner
}

fn bar(total: u64, what: &'static str, template: &str) -> ProgressBar {
    let bar = ProgressBar::new(total).with_message(what);
    // The templates above are fixed; one that does not parse would only cost the layout.
    match ProgressStyle::with_template(template) {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
