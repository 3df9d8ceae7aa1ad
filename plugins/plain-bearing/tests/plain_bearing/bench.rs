//! Times, printed and never judged: `cargo test --release -p ringland-plugin-plain-bearing bench -- --nocapture`.

use std::time::Instant;

use ringland_plugin::Model;
use ringland_plugin_plain_bearing::PlainBearing;

use crate::scenario::{duty, event, plain, request};

#[test]
fn bench() {
    let model = plain();
    let start = Instant::now();
    let again = PlainBearing::prepare(model.specimen.clone()).unwrap();
    let prepare = start.elapsed();
    assert_eq!(again.len(), model.map.len());
    let condition = model.after(&event());
    let rows: Vec<(f64, f64, f64)> = (0..30)
        .map(|k| {
            (
                1500.0 + 220.0 * f64::from(k),
                20.0 + 13.0 * f64::from(k),
                5.0,
            )
        })
        .collect();
    let timed = |event: &ringland_plugin::Duty| {
        let asked = request(condition.clone(), event.clone());
        let repeats = 50;
        let start = Instant::now();
        for _ in 0..repeats {
            assert_eq!(model.answer(asked.clone()).mechanisms.len(), 4);
        }
        start.elapsed() / repeats
    };
    println!(
        "prepare {prepare:?} ({} numbers); forecast of 512 samples: 8 rows {:?}, 30 rows {:?}",
        again.len(),
        timed(&event()),
        timed(&duty(&rows))
    );
    let start = Instant::now();
    let advanced = model.advance(&condition, &vec![event(); 100]);
    println!("advance {:?} a record of 8 rows", start.elapsed() / 100);
    assert_eq!(advanced.len(), 100);
}
