//! What every engine must do. An engine's test gives a factory of empty stores to [`check_all`].
//!
//! The expected rows come from the words of the [`Store`] trait, written out by hand, and from a
//! [`BTreeMap`](std::collections::BTreeMap), whose order of byte strings is the trait's.

mod random;

use crate::{Batch, Row, Store, StoreError, Table};
pub use random::random_batches_agree_with_a_map;

/// Makes an empty store.
pub type Factory<'a> = &'a dyn Fn() -> Box<dyn Store>;

/// Every check of this module, each on a fresh store.
///
/// # Errors
/// An error that the store gave where it should have answered.
///
/// # Panics
/// When the store answers wrongly; the message says to what.
pub fn check_all(empty: Factory<'_>) -> Result<(), StoreError> {
    rows_come_in_key_order(empty().as_ref())?;
    a_prefix_ends_where_the_next_begins(empty().as_ref())?;
    pages_join_without_gap_or_repeat(empty().as_ref())?;
    last_is_the_newest_up_to_a_key(empty().as_ref())?;
    tables_do_not_see_each_other(empty().as_ref())?;
    a_conflict_applies_nothing(empty().as_ref())?;
    the_last_write_to_a_key_counts(empty().as_ref())?;
    values_of_every_size_come_back(empty().as_ref())?;
    rows_beyond_the_limits_are_refused(empty().as_ref())?;
    no_update_is_lost(empty().as_ref())?;
    readers_see_whole_batches(empty().as_ref())?;
    random_batches_agree_with_a_map(empty, 48);
    Ok(())
}

/// Keys are ordered as byte strings: shorter first among equal beginnings, bytes unsigned.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn rows_come_in_key_order(store: &dyn Store) -> Result<(), StoreError> {
    let ordered: [&[u8]; 7] = [b"", b"\0", b"\0\0", b"a", b"a\0", b"\x7f", b"\x80"];
    let batch = ordered
        .iter()
        .rev()
        .fold(Batch::new(), |batch, &key| batch.put(Table::Duty, key, key));
    store.commit(&batch)?;
    assert_eq!(keys(&store.scan(Table::Duty, b"", None, 100)?), ordered);
    assert_eq!(
        keys(&store.scan(Table::Duty, b"a", None, 100)?),
        [&b"a"[..], b"a\0"]
    );
    assert_eq!(store.scan(Table::Duty, b"b", None, 100)?, []);
    assert_eq!(store.get(Table::Duty, b"")?, Some(vec![]));
    assert_eq!(store.get(Table::Duty, b"b")?, None);
    Ok(())
}

/// A prefix of 0xff bytes has no successor of its length; it must still end somewhere.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn a_prefix_ends_where_the_next_begins(store: &dyn Store) -> Result<(), StoreError> {
    let mut batch =
        Batch::new()
            .put(Table::Profiles, "before", "")
            .put(Table::Plugins, "after", "");
    let stored: [&[u8]; 6] = [
        b"a\xfe",
        b"a\xff",
        b"a\xff\xff",
        b"a\xff\xff\0",
        b"b",
        b"\xff\xff",
    ];
    for key in stored {
        batch = batch.put(Table::Requests, key, "");
    }
    store.commit(&batch)?;
    let scan = |prefix: &[u8]| store.scan(Table::Requests, prefix, None, 100);
    assert_eq!(
        keys(&scan(b"a\xff")?),
        [&b"a\xff"[..], b"a\xff\xff", b"a\xff\xff\0"]
    );
    assert_eq!(
        keys(&scan(b"a\xff\xff")?),
        [&b"a\xff\xff"[..], b"a\xff\xff\0"]
    );
    assert_eq!(keys(&scan(b"\xff")?), [b"\xff\xff"]);
    assert_eq!(keys(&scan(b"\xff\xff\xff")?), [b""; 0]);
    let last = |prefix: &[u8]| store.last(Table::Requests, prefix, None);
    assert_eq!(key(last(b"a\xff")?), Some(b"a\xff\xff\0".to_vec()));
    assert_eq!(key(last(b"\xff")?), Some(b"\xff\xff".to_vec()));
    assert_eq!(key(last(b"")?), Some(b"\xff\xff".to_vec()));
    assert_eq!(key(last(b"c")?), None);
    Ok(())
}

/// Pages that each begin after the last key of the one before give every row once, in order.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn pages_join_without_gap_or_repeat(store: &dyn Store) -> Result<(), StoreError> {
    let numbers = |from: u16, to: u16| (from..to).map(|n| [&b"k"[..], &n.to_be_bytes()].concat());
    let mut batch = Batch::new()
        .put(Table::Duty, "j", "")
        .put(Table::Duty, "l", "");
    for key in numbers(0, 300) {
        batch = batch.put(Table::Duty, key.clone(), key);
    }
    store.commit(&batch)?;
    for limit in [1, 7, 100, 300, 301] {
        let mut found = Vec::new();
        let mut after: Option<Vec<u8>> = None;
        loop {
            let page = store.scan(Table::Duty, b"k", after.as_deref(), limit)?;
            assert!(
                page.len() <= limit,
                "a page of {} for a limit of {limit}",
                page.len()
            );
            let Some((last, _)) = page.last() else { break };
            after = Some(last.clone());
            found.extend(page);
        }
        assert!(found.iter().all(|(key, value)| key == value));
        assert!(
            found.iter().map(|(key, _)| key.clone()).eq(numbers(0, 300)),
            "limit {limit}"
        );
    }
    let scan = |after: &[u8]| store.scan(Table::Duty, b"k", Some(after), 2);
    assert_eq!(store.scan(Table::Duty, b"k", None, 0)?, []);
    assert_eq!(
        keys(&scan(b"a")?),
        [b"k\0\0", b"k\0\x01"],
        "after a key before the prefix"
    );
    assert_eq!(
        keys(&scan(b"k\0\0\0")?),
        [b"k\0\x01", b"k\0\x02"],
        "after a key that is not there"
    );
    assert_eq!(scan(b"l")?, [], "after a key behind the prefix");
    Ok(())
}

/// `last` looks from the end, and `up_to` includes the key itself.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn last_is_the_newest_up_to_a_key(store: &dyn Store) -> Result<(), StoreError> {
    let mut batch = Batch::new()
        .put(Table::Revisions, "a9", "")
        .put(Table::Revisions, "c0", "");
    for n in [1, 3, 5] {
        batch = batch.put(Table::Revisions, format!("b{n}"), format!("{n}"));
    }
    store.commit(&batch)?;
    let last =
        |up_to: &[u8]| Ok::<_, StoreError>(key(store.last(Table::Revisions, b"b", Some(up_to))?));
    assert_eq!(
        store.last(Table::Revisions, b"b", None)?,
        Some((b"b5".to_vec(), b"5".to_vec()))
    );
    assert_eq!(last(b"b4")?, Some(b"b3".to_vec()));
    assert_eq!(last(b"b3")?, Some(b"b3".to_vec()));
    assert_eq!(last(b"b1")?, Some(b"b1".to_vec()));
    assert_eq!(last(b"b0")?, None);
    assert_eq!(last(b"b")?, None);
    assert_eq!(last(b"a")?, None, "up to a key before the prefix");
    assert_eq!(
        last(b"z")?,
        Some(b"b5".to_vec()),
        "up to a key behind the prefix"
    );
    assert_eq!(store.last(Table::Builds, b"", None)?, None);
    Ok(())
}

/// The same key in two tables is two rows.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn tables_do_not_see_each_other(store: &dyn Store) -> Result<(), StoreError> {
    let batch = Table::ALL
        .iter()
        .fold(Batch::new(), |b, &t| b.put(t, "k", vec![t as u8]));
    store.commit(&batch)?;
    store.commit(&Batch::new().delete(Table::Duty, "k"))?;
    for table in Table::ALL {
        let expected = if table == Table::Duty {
            vec![]
        } else {
            vec![(b"k".to_vec(), vec![table as u8])]
        };
        assert_eq!(store.scan(table, b"", None, 10)?, expected, "{table:?}");
        assert_eq!(
            store.last(table, b"", None)?,
            expected.last().cloned(),
            "{table:?}"
        );
    }
    Ok(())
}

/// One expectation that does not hold stops all of a batch, and the error names the row.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn a_conflict_applies_nothing(store: &dyn Store) -> Result<(), StoreError> {
    store.commit(&Batch::new().put(Table::Units, "held", "1"))?;
    let change = || {
        Batch::new()
            .put(Table::Units, "held", "2")
            .put(Table::Builds, "new", "")
    };
    let refused = [
        (change().expect_absent(Table::Units, "held"), "held"),
        (change().expect_value(Table::Units, "held", "2"), "held"),
        (change().expect_value(Table::Units, "held", ""), "held"),
        (change().expect_value(Table::Builds, "absent", ""), "absent"),
        (
            change()
                .expect_value(Table::Units, "held", "1")
                .expect_value(Table::Units, "absent", "1"),
            "absent",
        ),
        (Batch::new().expect_absent(Table::Units, "held"), "held"),
    ];
    for (batch, named) in refused {
        let outcome = store.commit(&batch);
        assert!(
            matches!(&outcome, Err(StoreError::Conflict { key, .. }) if key == named.as_bytes()),
            "{batch:?} gave {outcome:?}"
        );
        assert_eq!(store.get(Table::Units, b"held")?, Some(b"1".to_vec()));
        assert_eq!(store.get(Table::Builds, b"new")?, None);
    }
    store.commit(
        &change()
            .expect_value(Table::Units, "held", "1")
            .expect_absent(Table::Builds, "new"),
    )?;
    assert_eq!(store.get(Table::Units, b"held")?, Some(b"2".to_vec()));
    store.commit(&Batch::new().expect_value(Table::Units, "held", "2"))?;
    store.commit(&Batch::new())
}

/// Writes of one batch apply in their order.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn the_last_write_to_a_key_counts(store: &dyn Store) -> Result<(), StoreError> {
    let long = vec![7; 10_000];
    let batch = Batch::new()
        .put(Table::Duty, "a", long.clone())
        .put(Table::Duty, "a", "short")
        .put(Table::Duty, "b", "x")
        .delete(Table::Duty, "b")
        .delete(Table::Duty, "c")
        .put(Table::Duty, "c", long.clone());
    store.commit(&batch)?;
    assert_eq!(store.get(Table::Duty, b"a")?, Some(b"short".to_vec()));
    assert_eq!(store.get(Table::Duty, b"b")?, None);
    assert_eq!(store.get(Table::Duty, b"c")?, Some(long));
    Ok(())
}

/// A value comes back as it was, also after one of another size was there.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn values_of_every_size_come_back(store: &dyn Store) -> Result<(), StoreError> {
    let value = |bytes: usize| (0..bytes).map(|n| (n % 251) as u8).collect::<Vec<_>>();
    for bytes in [
        0, 1, 4095, 4096, 4097, 3_000_000, 8192, 70_000, 5, 4_000_000,
    ] {
        store.commit(&Batch::new().put(Table::Plugins, "p", value(bytes)).put(
            Table::Plugins,
            "q",
            "",
        ))?;
        assert!(
            store.get(Table::Plugins, b"p")? == Some(value(bytes)),
            "{bytes} bytes"
        );
        let expected = vec![(b"p".to_vec(), value(bytes)), (b"q".to_vec(), vec![])];
        assert!(
            store.scan(Table::Plugins, b"", None, 10)? == expected,
            "{bytes} bytes"
        );
        let expectation = Batch::new().expect_value(Table::Plugins, "p", value(bytes));
        store.commit(&expectation)?;
    }
    store.commit(&Batch::new().delete(Table::Plugins, "p"))?;
    assert_eq!(store.get(Table::Plugins, b"p")?, None);
    assert_eq!(
        key(store.last(Table::Plugins, b"", None)?),
        Some(b"q".to_vec())
    );
    Ok(())
}

/// A key beyond the limit is an error that says so, and applies nothing.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn rows_beyond_the_limits_are_refused(store: &dyn Store) -> Result<(), StoreError> {
    let at_limit = vec![b'k'; crate::Limits::default().max_key_bytes];
    let beyond = [&at_limit[..], b"k"].concat();
    let batch = Batch::new().put(Table::Units, at_limit.clone(), "");
    let outcome = store.commit(&batch.clone().put(Table::Units, beyond, ""));
    assert!(
        matches!(&outcome, Err(StoreError::TooLarge { bytes: 401, .. })),
        "{outcome:?}"
    );
    assert_eq!(store.get(Table::Units, &at_limit)?, None);
    store.commit(&batch)
}

/// Threads that each add one to a counter by reading it and expecting what they read: each commit that
/// is acknowledged counts.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn no_update_is_lost(store: &dyn Store) -> Result<(), StoreError> {
    const THREADS: u64 = 8;
    const ADDITIONS: u64 = 25;
    store.commit(&Batch::new().put(Table::Units, "n", 0_u64.to_be_bytes()))?;
    let add = || -> Result<(), StoreError> {
        for _ in 0..ADDITIONS {
            while let Err(error) = add_one(store) {
                if !matches!(error, StoreError::Conflict { .. }) {
                    return Err(error);
                }
            }
        }
        Ok(())
    };
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..THREADS).map(|_| scope.spawn(add)).collect();
        threads.into_iter().try_for_each(|thread| {
            thread
                .join()
                .unwrap_or_else(|_| Err(StoreError::Engine("a thread panicked".into())))
        })
    })?;
    assert_eq!(number(store.get(Table::Units, b"n")?), THREADS * ADDITIONS);
    // Beside each addition stands a row of its own, so none was applied twice or by halves.
    assert_eq!(
        store.scan(Table::Builds, b"", None, 1000)?.len() as u64,
        THREADS * ADDITIONS
    );
    Ok(())
}

fn add_one(store: &dyn Store) -> Result<(), StoreError> {
    let before = number(store.get(Table::Units, b"n")?);
    let after = (before + 1).to_be_bytes();
    let batch = Batch::new()
        .expect_value(Table::Units, "n", before.to_be_bytes())
        .expect_absent(Table::Builds, after)
        .put(Table::Units, "n", after)
        .put(Table::Builds, after, "");
    store.commit(&batch)
}

fn number(value: Option<Vec<u8>>) -> u64 {
    value
        .and_then(|value| value.try_into().ok())
        .map_or(u64::MAX, u64::from_be_bytes)
}

/// A scan never sees part of a batch, however many commits run beside it.
///
/// # Errors
/// As [`check_all`].
///
/// # Panics
/// As [`check_all`].
pub fn readers_see_whole_batches(store: &dyn Store) -> Result<(), StoreError> {
    const ROWS: u8 = 40;
    let batch =
        |round: u8| (0..ROWS).fold(Batch::new(), |b, row| b.put(Table::Duty, [row], [round]));
    store.commit(&batch(0))?;
    std::thread::scope(|scope| {
        let writer = scope.spawn(|| (1..60).try_for_each(|round| store.commit(&batch(round))));
        while !writer.is_finished() {
            let rows = store.scan(Table::Duty, b"", None, 100)?;
            assert_eq!(rows.len(), usize::from(ROWS));
            let first = rows.first().map(|(_, value)| value.clone());
            assert!(
                rows.iter().all(|(_, value)| Some(value) == first.as_ref()),
                "{rows:?}"
            );
        }
        writer
            .join()
            .unwrap_or_else(|_| Err(StoreError::Engine("a thread panicked".into())))
    })
}

fn keys(rows: &[Row]) -> Vec<&[u8]> {
    rows.iter().map(|(key, _)| key.as_slice()).collect()
}

fn key(row: Option<Row>) -> Option<Vec<u8>> {
    row.map(|(key, _)| key)
}
