//! The gRPC front of the ledger: settings, calls, lanes, watching, drain.
//!
//! This crate knows gRPC, threads and the process around them. It has no rules of the shop: it reads
//! messages, calls the ledger in the right lane and answers. Everything that can be sent, queued or
//! held at once has a limit in [`Settings`].

mod auth;
mod calls;
mod convert;
mod disk;
mod drain;
mod error;
mod errors;
mod health;
mod lanes;
mod open;
mod plugins;
mod routes;
mod rpc;
mod serve;
pub mod settings;
mod stop;
pub mod telemetry;
mod upload;
mod watch;

pub use error::ServeError;
pub use plugins::PluginsError;
pub use serve::{Running, serve, serve_with};
pub use settings::Settings;
pub use stop::stop_signal;
