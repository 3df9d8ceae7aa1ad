//! What the end-to-end tests share: the real server as a child process, its clients, a small shop
//! and logs for it.

mod command;
mod log;
mod models;
mod parts;
mod programs;
mod records;
mod server;
mod shop;

pub use command::{Said, ringland};
pub use log::{Log, corner_and_straight, lap_csv, lap_map, pull_samples};
pub use models::{activate, install_model};
pub use parts::{enter, install, put_in};
pub use programs::{outside_plugin, plugin, plugins, program, target_dir};
pub use records::{record_csv, record_log, record_table};
pub use server::{Clients, Server};
pub use shop::{Driveline, Shop, at, open_driveline, open_shop};
