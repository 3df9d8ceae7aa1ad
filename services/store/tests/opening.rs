//! What opening a folder says when something is wrong with it, and that it comes back when nothing is.

#![allow(clippy::expect_used, reason = "a test ends where it fails")]

use ringland_store::{
    Batch, Limits, MemoryStore, OpenError, SledOptions, SledStore, Store, StoreError, Table,
    copy_rows,
};
use std::{
    fs,
    path::{Path, PathBuf},
};

fn open(path: &Path) -> Result<SledStore, OpenError> {
    SledStore::open(&SledOptions {
        cache_bytes: 8 << 20,
        ..SledOptions::new(path)
    })
}

/// Rows in one commit here.
const ROWS: u32 = 25;

/// A folder with this many commits, closed.
fn written(commits: u32) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let store = open(folder.path()).expect("a new store");
    for number in 0..commits {
        store.commit(&batch(number)).expect("the disk has space");
    }
    folder
}

fn batch(number: u32) -> Batch {
    (number * ROWS..(number + 1) * ROWS).fold(Batch::new(), |batch, row| {
        batch.put(Table::Duty, row.to_be_bytes(), vec![row as u8; 300])
    })
}

/// Whether every row of these commits is as it was written.
fn rows_agree(store: &SledStore, commits: u32) -> Result<bool, StoreError> {
    for row in 0..commits * ROWS {
        if store.get(Table::Duty, &row.to_be_bytes())? != Some(vec![row as u8; 300]) {
            return Ok(false);
        }
    }
    Ok(true)
}

#[test]
fn rows_are_there_after_closing_and_opening_many_times() -> Result<(), OpenError> {
    let folder = written(10);
    for number in 10..30 {
        let store = open(folder.path())?;
        let agree = rows_agree(&store, number).expect("the disk reads");
        assert!(agree, "opening {number}");
        store.commit(&batch(number)).expect("the disk has space");
    }
    Ok(())
}

#[test]
fn a_folder_in_use_says_so_and_is_free_when_its_store_is_dropped() {
    let folder = written(1);
    let store = open(folder.path()).expect("free");
    let refused = open(folder.path());
    assert!(
        matches!(&refused, Err(OpenError::Locked { .. })),
        "{refused:?}"
    );
    let text = refused.err().map(|e| e.to_string()).unwrap_or_default();
    assert!(text.contains("stop that one first"), "{text}");
    drop(store);
    assert!(open(folder.path()).is_ok());
}

#[test]
fn a_folder_with_something_else_is_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("photo"), "mine").expect("writable");
    let refused = open(folder.path());
    assert!(matches!(&refused, Err(OpenError::Foreign { found, .. }) if found == "photo"));
    let names: Vec<PathBuf> = fs::read_dir(folder.path())
        .expect("there")
        .flatten()
        .map(|entry| entry.path())
        .collect();
    assert_eq!(names, [folder.path().join("photo")]);
}

#[test]
fn a_database_of_another_program_is_foreign() {
    let folder = tempfile::tempdir().expect("a folder");
    let db = sled::open(folder.path()).expect("a new database");
    db.insert("theirs", "row").expect("writable");
    drop(db);
    assert!(matches!(
        open(folder.path()),
        Err(OpenError::Foreign { .. })
    ));
}

#[test]
fn a_file_for_a_folder_says_what_is_expected() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("file");
    fs::write(&file, "").expect("writable");
    let text = open(&file).err().map(|e| e.to_string()).unwrap_or_default();
    assert!(text.contains("check that it is a folder"), "{text}");
}

#[test]
fn another_format_is_not_read() {
    let folder = written(1);
    let db = sled::open(folder.path()).expect("free");
    db.insert(b"\0format", &7_u32.to_be_bytes())
        .expect("writable");
    drop(db);
    let refused = open(folder.path());
    assert!(
        matches!(refused, Err(OpenError::Format { found: 7, .. })),
        "{refused:?}"
    );
}

/// A folder as versions before the tally left it.
#[test]
fn a_store_without_a_tally_is_counted_once() {
    let folder = written(3);
    let db = sled::open(folder.path()).expect("free");
    db.insert(b"\0format", &1_u32.to_be_bytes())
        .expect("writable");
    db.remove(b"\0tally").expect("writable").expect("there");
    drop(db);
    let store = open(folder.path()).expect("read");
    assert!(rows_agree(&store, 3).expect("the disk reads"));
    store.commit(&batch(3)).expect("the disk has space");
    drop(store);
    let db = sled::open(folder.path()).expect("free");
    assert_eq!(
        db.get(b"\0format").expect("readable").as_deref(),
        Some(&2_u32.to_be_bytes()[..])
    );
    drop(db);
    assert!(rows_agree(&open(folder.path()).expect("counted"), 4).expect("the disk reads"));
}

/// A row that is missing, is another or was never committed is noticed, whatever else is right.
#[test]
fn rows_that_were_not_committed_so_are_not_opened() {
    type Edit = fn(&sled::Db, &[u8]) -> sled::Result<Option<sled::IVec>>;
    let edits: [Edit; 3] = [
        |db, key| db.remove(key),
        |db, key| db.insert(key, vec![9; 301]),
        |db, key| db.insert([key, b"x"].concat(), vec![0; 9]),
    ];
    for edit in edits {
        let folder = written(2);
        let db = sled::open(folder.path()).expect("free");
        let mut keys = db.iter().keys().map(|key| key.expect("readable"));
        let key = keys.find(|key| key.ends_with(&7_u32.to_be_bytes()));
        edit(&db, &key.expect("there")).expect("writable");
        drop((keys, db));
        let text = open(folder.path())
            .err()
            .map(|e| e.to_string())
            .unwrap_or_default();
        assert!(text.contains("not those that were committed"), "{text}");
    }
}

#[test]
fn options_out_of_range_are_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let usual = SledOptions::new(folder.path());
    let limits = |max_key_bytes, max_value_bytes| Limits {
        max_key_bytes,
        max_value_bytes,
    };
    let cases = [
        (
            SledOptions {
                cache_bytes: 100,
                ..usual.clone()
            },
            "cache_bytes is 100",
        ),
        (
            SledOptions {
                limits: limits(401, 9),
                ..usual.clone()
            },
            "max_key_bytes is 401",
        ),
        (
            SledOptions {
                limits: limits(9, 0),
                ..usual
            },
            "max_value_bytes is 0",
        ),
    ];
    for (options, named) in cases {
        let text = SledStore::open(&options)
            .err()
            .map(|e| e.to_string())
            .unwrap_or_default();
        assert!(text.contains(named), "{text}");
    }
}

#[test]
fn a_log_that_lost_its_end_or_its_beginning_is_not_opened() {
    for keep_percent in [0, 1, 30, 60, 90] {
        let folder = written(120);
        let log = folder.path().join("db");
        let bytes = fs::read(&log).expect("readable");
        let keep = bytes.len() * keep_percent / 100;
        fs::write(&log, bytes.get(..keep).expect("a part")).expect("writable");
        let refused = open(folder.path());
        assert!(
            matches!(refused, Err(OpenError::Corrupt { .. })),
            "{keep_percent} %: {refused:?}"
        );
    }
}

/// Wherever a part of the log is overwritten, either opening or reading says so, or every row is right:
/// no row is missing or changed in silence.
#[test]
fn damage_is_never_silent() {
    let mut noticed = 0;
    for part in 0..24 {
        let folder = written(60);
        let log = folder.path().join("db");
        let mut bytes = fs::read(&log).expect("readable");
        let at = bytes.len() * part / 24 + 100;
        for byte in bytes.iter_mut().skip(at).take(64) {
            *byte ^= 0x5a;
        }
        fs::write(&log, bytes).expect("writable");
        match open(folder.path()) {
            Err(error) => {
                assert!(
                    matches!(error, OpenError::Corrupt { .. }),
                    "part {part}: {error}"
                );
                noticed += 1;
            }
            Ok(store) => match rows_agree(&store, 60) {
                Ok(agree) => assert!(agree, "part {part}: rows are missing or changed in silence"),
                Err(_) => noticed += 1,
            },
        }
    }
    println!("{noticed} of 24 damaged logs were noticed, the rest damaged nothing that is in use");
    assert!(noticed > 0);
}

#[test]
fn a_copy_has_every_row_and_takes_less_than_the_log_it_came_from() -> Result<(), StoreError> {
    let folder = written(0);
    let from = open(folder.path()).expect("free");
    for round in 0..8_u8 {
        for first in (0..2000_u32).step_by(100) {
            let batch = (first..first + 100).fold(Batch::new(), |batch, number| {
                batch.put(Table::Conditions, number.to_be_bytes(), vec![round; 500])
            });
            from.commit(&batch)?;
        }
    }
    from.commit(&Batch::new().put(Table::Plugins, "large", vec![1; 300_000]))?;
    let other = tempfile::tempdir().expect("a folder");
    let to = open(other.path()).expect("a new store");
    assert_eq!(copy_rows(&from, &to)?, 2001);
    let memory = MemoryStore::new();
    copy_rows(&to, &memory)?;
    for table in Table::ALL {
        let rows = from.scan(table, &[], None, 10_000)?;
        assert!(rows == to.scan(table, &[], None, 10_000)?, "{table:?}");
        assert!(rows == memory.scan(table, &[], None, 10_000)?, "{table:?}");
    }
    println!(
        "{} bytes before, {} after",
        from.size_on_disk()?,
        to.size_on_disk()?
    );
    assert!(to.size_on_disk()? <= from.size_on_disk()?);
    Ok(())
}
