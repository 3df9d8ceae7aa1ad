//! Start-up time and resident memory of the server with all plugins.

use ringland_tests::{Server, Shop, plugins};
use std::{path::Path, time::Instant};

pub async fn run() -> Result<(), Box<dyn std::error::Error>> {
    let files = plugins();
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let start = Instant::now();
    let mut server = Server::start(&paths).await;
    println!(
        "  first start, {} plugins compiled and installed: {:.2} s",
        files.len(),
        start.elapsed().as_secs_f64()
    );
    println!(
        "  resident memory, idle: {:.0} MB",
        resident_mb(server.pid())?
    );
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "bench").await?;
    shop.predict(&mut clients).await?;
    println!(
        "  resident memory after a log and a prediction: {:.0} MB",
        resident_mb(server.pid())?
    );
    server.stop().await;
    let start = Instant::now();
    server.restart().await;
    println!(
        "  start over an existing ledger, compiled plugins cached: {:.2} s",
        start.elapsed().as_secs_f64()
    );
    Ok(())
}

fn resident_mb(pid: u32) -> Result<f64, Box<dyn std::error::Error>> {
    let status = std::fs::read_to_string(format!("/proc/{pid}/status"))?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    let kb: f64 = line
        .ok_or("no VmRSS")?
        .trim()
        .trim_end_matches("kB")
        .trim()
        .parse()?;
    Ok(kb / 1000.0)
}
