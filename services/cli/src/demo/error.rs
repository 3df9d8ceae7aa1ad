/// Why the demo's files could not be made.
#[derive(Debug, thiserror::Error)]
pub enum DemoError {
    /// A file that ships with the program is wrong.
    #[error("the demo's season: {0}")]
    Season(String),
    /// A file cannot be written.
    #[error("writing a log: {0}")]
    Write(#[from] csv::Error),
    /// A folder or file cannot be made.
    #[error("{path}: {source}")]
    File {
        /// Which.
        path: std::path::PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// A drive schedule cannot be used.
    #[error("drive schedule, line {line}: {problem}")]
    Schedule {
        /// Line of the file, from 1.
        line: u64,
        /// What is wrong and what was expected.
        problem: String,
    },
}
