//! What group commit gains on this machine: commits per second by number of threads, as ratios to one.
//!
//! `cargo run --release -p ringland-store --example commits [folder]`; the folder decides which
//! disk is measured.

#![allow(clippy::print_stdout, reason = "it is a measurement for a person")]

use ringland_store::{Batch, SledOptions, SledStore, Store, Table};
use std::{
    error::Error,
    sync::atomic::{AtomicBool, AtomicU64, Ordering},
    thread,
    time::{Duration, Instant},
};

const PAYLOAD_BYTES: usize = 200;
const MEASURED: Duration = Duration::from_secs(3);

fn main() -> Result<(), Box<dyn Error>> {
    let parent = std::env::args()
        .nth(1)
        .map_or_else(std::env::temp_dir, Into::into);
    let folder = tempfile::tempdir_in(parent)?;
    let store = SledStore::open(&SledOptions::new(folder.path()))?;
    let keys = AtomicU64::new(0);

    println!("threads  commits/s  ratio");
    let mut alone = None;
    for threads in [1, 4, 16, 64, 256] {
        let rate = commits_per_s(&store, &keys, threads);
        let ratio = rate / *alone.get_or_insert(rate);
        println!("{threads:7}  {rate:9.0}  {ratio:5.1}");
    }

    let written = keys.load(Ordering::Relaxed);
    let rate = gets_per_s(&store, written)?;
    println!(
        "gets/s, one thread: {rate:.0}, ratio {:.0}",
        rate / alone.unwrap_or(rate)
    );
    space(&store, written * (8 + PAYLOAD_BYTES as u64))
}

/// Commits of one new row each.
fn commits_per_s(store: &SledStore, keys: &AtomicU64, threads: usize) -> f64 {
    let running = AtomicBool::new(true);
    let before = keys.load(Ordering::Relaxed);
    let start = Instant::now();
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                while running.load(Ordering::Relaxed) {
                    let key = keys.fetch_add(1, Ordering::Relaxed).to_be_bytes();
                    let batch = Batch::new().expect_absent(Table::Duty, key).put(
                        Table::Duty,
                        key,
                        [7; PAYLOAD_BYTES],
                    );
                    assert!(store.commit(&batch).is_ok(), "the store failed");
                }
            });
        }
        thread::sleep(MEASURED);
        running.store(false, Ordering::Relaxed);
    });
    (keys.load(Ordering::Relaxed) - before) as f64 / start.elapsed().as_secs_f64()
}

fn gets_per_s(store: &SledStore, written: u64) -> Result<f64, Box<dyn Error>> {
    let gets = 200_000;
    let start = Instant::now();
    for n in 0..gets {
        let key = n * 7919 % written;
        store
            .get(Table::Duty, &key.to_be_bytes())?
            .ok_or("a row is missing")?;
    }
    Ok(gets as f64 / start.elapsed().as_secs_f64())
}

/// Bytes on disk for each byte of rows, before and after overwriting them all, and of a copy.
fn space(store: &SledStore, payload_bytes: u64) -> Result<(), Box<dyn Error>> {
    let ratio = |bytes: u64| bytes as f64 / payload_bytes as f64;
    println!(
        "disk/payload after inserts: {:.2}",
        ratio(store.size_on_disk()?)
    );
    let mut after: Option<Vec<u8>> = None;
    loop {
        let rows = store.scan(Table::Duty, &[], after.as_deref(), 256)?;
        let Some((last, _)) = rows.last() else { break };
        after = Some(last.clone());
        let overwrite = rows.into_iter().fold(Batch::new(), |batch, (key, _)| {
            batch.put(Table::Duty, key, [8; PAYLOAD_BYTES])
        });
        store.commit(&overwrite)?;
    }
    println!(
        "disk/payload after overwriting all: {:.2}",
        ratio(store.size_on_disk()?)
    );
    let folder = tempfile::tempdir()?;
    let copy = SledStore::open(&SledOptions::new(folder.path()))?;
    ringland_store::copy_rows(store, &copy)?;
    println!("disk/payload of a copy: {:.2}", ratio(copy.size_on_disk()?));
    Ok(())
}
