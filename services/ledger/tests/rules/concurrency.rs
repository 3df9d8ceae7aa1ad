//! Many threads at once.

use crate::shop::{Shop, content, log};
use ringland_ledger::LedgerOptions;
use std::thread;

/// Records from several threads, predictions between them, and one log sent twice at once: the end
/// is that of one thread.
#[test]
fn threads_come_to_the_same_end() {
    let options = || LedgerOptions {
        samples: 16,
        attempts: 100,
        ..LedgerOptions::default()
    };
    let (shop, reference) = (Shop::opened(options()), Shop::opened(options()));
    let names = ["wp-1", "wp-2", "wp-3"].map(|id| shop.installed(id, "wear_part", "engine-a"));
    thread::scope(|scope| {
        for worker in 0..4 {
            let (shop, names) = (&shop, &names);
            scope.spawn(move || {
                for i in 0..12 {
                    let hour = f64::from(4 * i + worker);
                    shop.run("engine-a", hour, 500.0 + hour);
                    shop.predict(&names[(i % 3) as usize]).unwrap();
                    // Everyone sends this one.
                    shop.ledger
                        .record_duty(log("engine-a", "shared", 100.0, 500.0))
                        .unwrap();
                }
            });
        }
    });
    for id in ["wp-1", "wp-2", "wp-3"] {
        reference.installed(id, "wear_part", "engine-a");
    }
    for hour in 0..48 {
        reference.run("engine-a", f64::from(hour), 500.0 + f64::from(hour));
    }
    reference
        .ledger
        .record_duty(log("engine-a", "shared", 100.0, 500.0))
        .unwrap();
    assert_eq!(shop.ledger.status().unwrap().duty_records, 49);
    for name in &names {
        assert_eq!(
            content(shop.predict(name).unwrap()),
            content(reference.predict(name).unwrap())
        );
    }
}
