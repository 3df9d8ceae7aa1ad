//! What the end-to-end tests share: the real server as a child process, its clients, a small shop
//! and logs for it.

mod log;
mod programs;
mod server;
mod shop;

pub use log::{Log, corner_and_straight, lap_csv, lap_map, pull_samples};
pub use programs::{outside_plugin, plugin, plugins, program, target_dir};
pub use server::{Clients, Server};
pub use shop::{
    Driveline, Shop, at, install, open_driveline, record_csv, record_log, record_table,
};
