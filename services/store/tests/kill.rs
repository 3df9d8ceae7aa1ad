//! A process that is killed at any moment loses nothing that it acknowledged, and nothing by halves.
//!
//! The test starts its own executable again as the victim. The victim commits numbered batches from
//! several threads and prints each number after its commit has returned; the test kills it, opens the
//! folder, and looks. This is about the death of a process; nothing here cuts the power of a disk.

#![allow(clippy::expect_used, reason = "a test ends where it fails")]

use ringland_store::{Batch, SledOptions, SledStore, Store, StoreError, Table};
use std::{
    collections::BTreeSet,
    error::Error,
    io::{BufRead, BufReader, Write},
    path::Path,
    process::{ChildStdout, Command, Stdio},
    sync::mpsc,
    thread,
    time::Duration,
};

type Outcome<T = ()> = Result<T, Box<dyn Error>>;

/// Set in the victim: the folder, and the first number to write.
const FOLDER: &str = "RINGLAND_STORE_KILL_FOLDER";
const FIRST: &str = "RINGLAND_STORE_KILL_FIRST";

const KILLS: u64 = 28;
const THREADS: u64 = 6;
const SEED: u64 = 0x7269_6e67;

/// Tables that a batch writes one row to each.
const TABLES: [Table; 3] = [Table::Duty, Table::Requests, Table::Conditions];

/// A row of a batch. Every ninth batch has a value that is kept in pieces.
fn value(number: u64, table: Table) -> Vec<u8> {
    let bytes = if number.is_multiple_of(9) {
        20_000
    } else {
        40 + number % 200
    };
    (0..bytes)
        .map(|at| (number.wrapping_mul(31) + at + table as u64) as u8)
        .collect()
}

/// Three rows that must be new, and one that batches overwrite in turn, as a newest condition is.
fn batch(number: u64) -> Batch {
    let newest = format!("newest {}", number % 16);
    let expected = Batch::new().expect_absent(Table::Duty, number.to_be_bytes());
    let rows = TABLES.into_iter().fold(expected, |batch, table| {
        batch.put(table, number.to_be_bytes(), value(number, table))
    });
    rows.put(Table::Predictions, newest, number.to_be_bytes())
}

fn open(folder: &Path) -> Outcome<SledStore> {
    Ok(SledStore::open(&SledOptions {
        cache_bytes: 16 << 20,
        ..SledOptions::new(folder)
    })?)
}

/// Not a test of its own: what a killed process does. Without its folder it has nothing to do.
#[test]
fn victim() -> Outcome {
    let (Ok(folder), Ok(first)) = (std::env::var(FOLDER), std::env::var(FIRST)) else {
        return Ok(());
    };
    let first: u64 = first.parse()?;
    let store = open(Path::new(&folder))?;
    thread::scope(|scope| {
        for thread in 0..THREADS {
            let store = &store;
            scope.spawn(move || write_forever(store, first + thread));
        }
    });
    Ok(())
}

fn write_forever(store: &SledStore, first: u64) {
    for number in (first..).step_by(THREADS as usize) {
        store.commit(&batch(number)).expect("the disk has space");
        // The test may be gone; then this process may go as well.
        writeln!(std::io::stdout(), "acknowledged {number}").expect("the test listens");
    }
}

#[test]
fn nothing_acknowledged_is_lost_and_no_batch_is_halved() -> Outcome {
    let folder = tempfile::tempdir()?;
    let mut acknowledged = BTreeSet::new();
    let mut first = 0;
    let mut state = SEED;
    for kill in 0..KILLS {
        let told = run_and_kill(folder.path(), first, next(&mut state))?;
        acknowledged.extend(told);
        let after = |e: Box<dyn Error>| format!("after kill {kill} (seed {SEED:#x}): {e}");
        let store = open(folder.path()).map_err(after)?;
        let kept = whole_batches(&store).map_err(after)?;
        let lost: Vec<_> = acknowledged.difference(&kept).collect();
        assert!(
            lost.is_empty(),
            "kill {kill} (seed {SEED:#x}) lost {lost:?}"
        );
        newest_are_of_kept_batches(&store, &kept)?;
        first = kept.last().map_or(0, |last| last + 1);
        replay(&store, &kept, first)?;
        acknowledged.insert(first);
        first += 1;
        if kill + 1 == KILLS {
            let more = kept.difference(&acknowledged).count();
            println!(
                "{KILLS} kills: {} batches acknowledged, {more} more whole",
                kept.len() - more
            );
            println!("{} bytes on disk", store.size_on_disk()?);
        }
    }
    // Else the kills came before there was anything to lose.
    assert!(
        acknowledged.len() as u64 > 10 * KILLS,
        "only {} batches",
        acknowledged.len()
    );
    Ok(())
}

/// Starts a victim, kills it at a random moment, and gives what it acknowledged.
fn run_and_kill(folder: &Path, first: u64, random: u64) -> Outcome<Vec<u64>> {
    let mut victim = Command::new(std::env::current_exe()?)
        .args(["victim", "--exact", "--nocapture", "--test-threads=1"])
        .env(FOLDER, folder)
        .env(FIRST, first.to_string())
        .stdout(Stdio::piped())
        .spawn()?;
    let output = victim.stdout.take().ok_or("the victim has no output")?;
    let (sender, numbers) = mpsc::channel();
    let reader = thread::spawn(move || read_numbers(output, &sender));

    // One in five dies while it opens the folder or soon after; the others while they write.
    let mut acknowledged = Vec::new();
    if random.is_multiple_of(5) {
        thread::sleep(Duration::from_micros(random / 8 % 60_000));
    } else {
        acknowledged.push(numbers.recv_timeout(Duration::from_mins(1))?);
        thread::sleep(Duration::from_micros(random / 8 % 400_000));
    }
    victim.kill()?;
    victim.wait()?;
    reader.join().map_err(|_| "the reader panicked")?;
    acknowledged.extend(numbers.try_iter());
    Ok(acknowledged)
}

/// Sends the number of every whole line that acknowledges one.
fn read_numbers(output: ChildStdout, numbers: &mpsc::Sender<u64>) {
    let mut output = BufReader::new(output);
    let mut line = String::new();
    while output.read_line(&mut line).is_ok_and(|bytes| bytes > 0) {
        let number = line
            .strip_suffix('\n')
            .and_then(|line| line.split_once("acknowledged "));
        if let Some((_, number)) = number {
            let number = number.parse().expect("a line has one number");
            numbers.send(number).expect("the test listens");
        }
        line.clear();
    }
}

/// The numbers of all batches there; an error names one that is not whole.
fn whole_batches(store: &SledStore) -> Outcome<BTreeSet<u64>> {
    let mut numbers = BTreeSet::new();
    for table in TABLES {
        for (key, found) in store.scan(table, &[], None, usize::MAX)? {
            let number = u64::from_be_bytes(key.as_slice().try_into()?);
            if found != value(number, table) {
                return Err(format!("batch {number} has another value in {table:?}").into());
            }
            numbers.insert(number);
        }
    }
    for table in TABLES {
        for number in &numbers {
            if store.get(table, &number.to_be_bytes())?.is_none() {
                return Err(format!("batch {number} has no row in {table:?}").into());
            }
        }
    }
    Ok(numbers)
}

/// The rows that batches overwrite in turn are of batches that are there.
fn newest_are_of_kept_batches(store: &SledStore, kept: &BTreeSet<u64>) -> Outcome {
    for (key, number) in store.scan(Table::Predictions, b"newest ", None, 100)? {
        let number = u64::from_be_bytes(number.as_slice().try_into()?);
        assert!(
            kept.contains(&number),
            "{} is of batch {number}",
            key.escape_ascii()
        );
    }
    Ok(())
}

/// Sent again, a batch that is there changes nothing, and one that is not there applies whole.
fn replay(store: &SledStore, kept: &BTreeSet<u64>, absent: u64) -> Outcome {
    if let Some(&last) = kept.last() {
        let again = store.commit(&batch(last));
        assert!(
            matches!(again, Err(StoreError::Conflict { .. })),
            "batch {last} again: {again:?}"
        );
    }
    store.commit(&batch(absent))?;
    assert!(whole_batches(store)?.contains(&absent));
    Ok(())
}

/// The next of a fixed sequence of random numbers (splitmix64, from memory).
fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let z = (*state ^ (*state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
