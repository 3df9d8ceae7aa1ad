//! The cost of one more record is that of the record.

use crate::shop::Shop;
use ringland_ledger::LedgerOptions;

/// Store operations of a record and a prediction after so many others.
fn cost_after(records: u32) -> [[usize; 4]; 2] {
    // Fewer predictions are kept than are made, so that the oldest goes each time.
    let options = LedgerOptions {
        samples: 16,
        max_predictions_per_component: 2,
        ..LedgerOptions::default()
    };
    let shop = Shop::opened(options);
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    for i in 0..records {
        shop.run("engine-a", 2.0 * f64::from(i), 500.0);
        if i + 5 > records {
            shop.wear(&name);
        }
    }
    let difference =
        |before: [usize; 4], after: [usize; 4]| std::array::from_fn(|i| after[i] - before[i]);
    let before = shop.store.counts();
    shop.run("engine-a", 2.0 * f64::from(records), 500.0);
    let recorded = shop.store.counts();
    shop.wear(&name);
    let predicted = shop.store.counts();
    [
        difference(before, recorded),
        difference(recorded, predicted),
    ]
}

#[test]
fn the_nth_record_costs_what_the_tenth_did() {
    let tenth = cost_after(10);
    println!("[reads, rows, commits, writes] of a record, of a prediction: {tenth:?}");
    assert_eq!(cost_after(100), tenth);
    assert_eq!(cost_after(400), tenth);
}
