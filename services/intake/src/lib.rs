//! Logs to duty: channel mapping, units, plausibility, operating points, rainflow and shocks, in one
//! pass and bounded memory.
//!
//! A log comes as CSV bytes cut anywhere ([`CsvLog`]) or as columns of samples ([`SampleLog`]); both feed
//! the same reduction and give a [`Reduced`]: the duty with named channels, and an [`IntakeReport`] in
//! which every row that did not count is accounted for. This crate knows log formats and the vocabulary of channels;
//! it never knows units of the shop, builds, components, gRPC or storage.
//!
//! # Rules
//! - A row's values hold until the next row: sample and hold on the log's own rows, weighted by time.
//!   The last row of a log with a time column has no length of its own.
//! - A blank or bad cell takes the channel's last good value for at most its hold time.
//! - A step between rows longer than the gap limit is not bridged: it is not use, held values end, shocks end. The
//!   rainflow count goes on across it, since the load did change from one level to the other.
//! - A row counts when every channel that makes operating points is known. Other channels contribute
//!   to the mean of a cell where they are known.

mod columns;
mod csv;
mod cycles;
mod finding;
mod limits;
mod map;
mod plan;
mod points;
mod reducer;
mod report;
mod shocks;
mod tracks;
pub mod units;

pub use columns::{SampleChannel, SampleLog};
pub use csv::{CsvLog, ReadError, read_csv};
pub use finding::Refusal;
pub use limits::{IntakeLimits, Settings, ShockThresholds};
pub use map::{ChannelColumn, ChannelMap};
pub use reducer::Reduced;
pub use report::{Flaw, FlawKind, IntakeReport};
