//! What settings must satisfy, looked at before any port is bound.

use super::{Settings, ranges};
use std::{fmt, path::Path};
use tracing_subscriber::EnvFilter;

/// Why settings cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// A source cannot be read, or has a key that is unknown or of the wrong kind.
    #[error("settings: {0}")]
    Sources(String),
    /// Values are out of range or contradict each other.
    #[error("settings: {}", lines(.0))]
    Refused(Vec<Problem>),
    /// They cannot be printed.
    #[error("settings cannot be printed: {0}")]
    Unprintable(String),
}

/// One value that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Key, such as `limits.calls`.
    pub key: &'static str,
    /// What it is.
    pub value: String,
    /// What was expected.
    pub expected: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} = {:?}: expected {}",
            self.key, self.value, self.expected
        )
    }
}

fn lines(problems: &[Problem]) -> String {
    problems
        .iter()
        .map(Problem::to_string)
        .collect::<Vec<_>>()
        .join("; ")
}

impl SettingsError {
    pub(super) fn from_sources(error: figment::Error) -> Self {
        let causes: Vec<String> = error.into_iter().map(|cause| cause.to_string()).collect();
        Self::Sources(causes.join("; "))
    }
}

impl Settings {
    /// Checks every value.
    ///
    /// # Errors
    /// All that is wrong, at once.
    pub fn check(&self) -> Result<(), SettingsError> {
        let mut problems = Vec::new();
        self.check_exposure(&mut problems);
        self.check_files(&mut problems);
        problems.extend(ranges::outside(self));
        if EnvFilter::try_new(&self.log.filter).is_err() {
            problems.push(Problem {
                key: "log.filter",
                value: self.log.filter.clone(),
                expected: "a level (error, warn, info, debug, trace) or directives by module"
                    .into(),
            });
        }
        if problems.is_empty() {
            Ok(())
        } else {
            Err(SettingsError::Refused(problems))
        }
    }

    /// Whoever reaches the port can write to the ledger: beyond this machine that takes a token,
    /// or somebody who says that the network is the guard.
    fn check_exposure(&self, problems: &mut Vec<Problem>) {
        let open = self.token_file.as_os_str().is_empty() && !self.allow_open;
        if open && !self.listen.ip().is_loopback() {
            problems.push(Problem {
                key: "listen",
                value: self.listen.to_string(),
                expected: "a loopback address, or a token_file, or allow_open = true".into(),
            });
        }
    }

    fn check_files(&self, problems: &mut Vec<Problem>) {
        let tls = &self.tls;
        let files = [
            ("token_file", &self.token_file),
            ("tls.certificate_file", &tls.certificate_file),
            ("tls.key_file", &tls.key_file),
        ];
        for (key, path) in files {
            if is_set(path) && !path.is_file() {
                problems.push(problem(key, path, "a file that can be read"));
            }
        }
        if is_set(&self.plugins_dir) && !self.plugins_dir.is_dir() {
            problems.push(problem("plugins_dir", &self.plugins_dir, "a folder"));
        }
        for (key, path) in [("data_dir", &self.data_dir), ("cache_dir", &self.cache_dir)] {
            if !is_set(path) {
                problems.push(problem(key, path, "a folder that can be written"));
            }
        }
        if is_set(&tls.certificate_file) != is_set(&tls.key_file) {
            problems.push(problem(
                "tls.key_file",
                &tls.key_file,
                "certificate and key together, or neither",
            ));
        }
    }
}

/// An empty path stands for "none" in a settings file.
pub(crate) fn is_set(path: &Path) -> bool {
    !path.as_os_str().is_empty()
}

fn problem(key: &'static str, path: &Path, expected: &str) -> Problem {
    Problem {
        key,
        value: path.display().to_string(),
        expected: expected.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(settings: &Settings) -> Vec<&'static str> {
        match settings.check() {
            Err(SettingsError::Refused(problems)) => problems.iter().map(|p| p.key).collect(),
            other => panic!("expected a refusal, got {other:?}"),
        }
    }

    #[test]
    fn defaults_can_be_used() {
        Settings::default().check().unwrap();
    }

    #[test]
    fn beyond_this_machine_takes_a_token_or_a_word() {
        let mut settings = Settings {
            listen: ([0, 0, 0, 0], 7420).into(),
            ..Settings::default()
        };
        assert_eq!(refused(&settings), ["listen"]);
        settings.allow_open = true;
        settings.check().unwrap();
        settings.allow_open = false;
        let folder = tempfile::tempdir().unwrap();
        settings.token_file = folder.path().join("token");
        assert_eq!(
            refused(&settings),
            ["token_file"],
            "a token file that is not there"
        );
        std::fs::write(&settings.token_file, "0123456789abcdef").unwrap();
        settings.check().unwrap();
    }

    #[test]
    fn every_problem_comes_at_once() {
        let mut settings = Settings::default();
        settings.limits.calls = 0;
        settings.limits.request_bytes = 10;
        settings.prediction.horizon_events = f64::NAN;
        settings.log.filter = "ringland=loudly".into();
        settings.tls.key_file = "no/such/key".into();
        let found = refused(&settings);
        for key in [
            "limits.calls",
            "limits.request_bytes",
            "prediction.horizon_events",
            "log.filter",
            "tls.key_file",
        ] {
            assert!(found.contains(&key), "{key} is missing in {found:?}");
        }
    }
}
