//! Random batches and reads against a map.

use super::Factory;
use crate::{Batch, Row, Store, StoreError, Table};
use proptest::{
    collection::vec,
    prelude::{Just, Strategy, any},
    prop_oneof,
    sample::select,
    test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner},
};
use std::collections::BTreeMap;

type Model = BTreeMap<(Table, Vec<u8>), Vec<u8>>;

/// Random batches with writes, deletions and expectations, true and false, leave the rows that a map
/// with the same rules has; and random reads agree with it. `cases` sequences, always the same.
///
/// # Panics
/// With the shortest sequence found that disagrees.
pub fn random_batches_agree_with_a_map(empty: Factory<'_>, cases: u32) {
    let config = Config {
        cases,
        failure_persistence: None,
        ..Config::default()
    };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let outcome =
        TestRunner::new_with_rng(config, rng).run(&vec((batches(), reads()), 1..12), |steps| {
            let store = empty();
            let mut model = Model::new();
            for (batch, read) in steps {
                step(store.as_ref(), &mut model, &batch)?;
                compare(store.as_ref(), &model, &read)
                    .map_err(|e| TestCaseError::fail(e.to_string()))?;
            }
            Ok(())
        });
    assert!(
        outcome.is_ok(),
        "{}",
        outcome.err().map(|e| e.to_string()).unwrap_or_default()
    );
}

/// Short keys of few bytes, so that they meet; among them the ends of the byte range.
fn random_key() -> impl Strategy<Value = Vec<u8>> {
    vec(select(vec![0_u8, 1, b'a', 0xfe, 0xff]), 0..4)
}

fn random_table() -> impl Strategy<Value = Table> {
    select(vec![Table::Units, Table::Builds, Table::Predictions])
}

/// Mostly small; some that an engine may keep differently.
fn random_value() -> impl Strategy<Value = Vec<u8>> {
    prop_oneof![
        8 => vec(any::<u8>(), 0..3),
        1 => (any::<u8>(), 4090_usize..13_000).prop_map(|(byte, bytes)| vec![byte; bytes]),
    ]
}

#[derive(Clone, Debug)]
enum Change {
    Put(Vec<u8>),
    Delete,
    /// Expect what is there.
    ExpectTrue,
    /// Expect something that may not be there.
    Expect(Option<Vec<u8>>),
}

type Changes = Vec<(Table, Vec<u8>, Change)>;

fn batches() -> impl Strategy<Value = Changes> {
    let change = prop_oneof![
        10 => random_value().prop_map(Change::Put),
        5 => Just(Change::Delete),
        2 => Just(Change::ExpectTrue),
        1 => proptest::option::of(random_value()).prop_map(Change::Expect),
    ];
    vec((random_table(), random_key(), change), 0..30)
}

#[derive(Clone, Debug)]
struct Read {
    table: Table,
    prefix: Vec<u8>,
    bound: Option<Vec<u8>>,
    limit: usize,
}

fn reads() -> impl Strategy<Value = Read> {
    let bound = proptest::option::of(random_key());
    (random_table(), random_key(), bound, 0_usize..20).prop_map(|(table, prefix, bound, limit)| {
        Read {
            table,
            prefix,
            bound,
            limit,
        }
    })
}

/// Commits to both and compares the outcome.
fn step(store: &dyn Store, model: &mut Model, changes: &Changes) -> Result<(), TestCaseError> {
    let mut batch = Batch::new();
    let mut holds = true;
    let mut after = model.clone();
    for (table, key, change) in changes {
        let row = (*table, key.clone());
        let there = model.get(&row).cloned();
        batch = match change {
            Change::Put(value) => {
                after.insert(row, value.clone());
                batch.put(*table, key.clone(), value.clone())
            }
            Change::Delete => {
                after.remove(&row);
                batch.delete(*table, key.clone())
            }
            Change::ExpectTrue => expect(batch, *table, key, there),
            Change::Expect(value) => {
                holds &= *value == there;
                expect(batch, *table, key, value.clone())
            }
        };
    }
    match store.commit(&batch) {
        Ok(()) if holds => *model = after,
        Err(StoreError::Conflict { .. }) if !holds => {}
        outcome => {
            return Err(TestCaseError::fail(format!(
                "commit gave {outcome:?}, holds: {holds}"
            )));
        }
    }
    Ok(())
}

fn expect(batch: Batch, table: Table, key: &[u8], value: Option<Vec<u8>>) -> Batch {
    match value {
        Some(value) => batch.expect_value(table, key, value),
        None => batch.expect_absent(table, key),
    }
}

/// Compares a page, the last row and a value, each found in the map by looking at every row.
fn compare(store: &dyn Store, model: &Model, read: &Read) -> Result<(), StoreError> {
    let Read {
        table,
        prefix,
        bound,
        limit,
    } = read;
    let rows = || {
        let rows = model
            .iter()
            .filter(|((t, key), _)| t == table && key.starts_with(prefix));
        rows.map(|((_, key), value)| (key.clone(), value.clone()))
    };
    let page: Vec<Row> = rows()
        .filter(|(key, _)| bound.as_ref().is_none_or(|b| key > b))
        .take(*limit)
        .collect();
    assert_eq!(
        store.scan(*table, prefix, bound.as_deref(), *limit)?,
        page,
        "scan {read:?}"
    );
    let last = rows().rfind(|(key, _)| bound.as_ref().is_none_or(|b| key <= b));
    assert_eq!(
        store.last(*table, prefix, bound.as_deref())?,
        last,
        "last {read:?}"
    );
    let value = model.get(&(*table, prefix.clone())).cloned();
    assert_eq!(store.get(*table, prefix)?, value, "get {read:?}");
    Ok(())
}
