//! Times, printed and never judged: `cargo test --release -p ringland-plugin-connecting-rod bench -- --nocapture`.

use std::time::Instant;

use ringland_plugin::{Duty, Model};
use ringland_plugin_connecting_rod::ConnectingRod;

use crate::scenario::{duty, event, peened, request};

#[test]
fn bench() {
    let model = peened();
    let start = Instant::now();
    let again = ConnectingRod::prepare(model.specimen.clone()).unwrap();
    println!("prepare {:.0} ms", 1e3 * start.elapsed().as_secs_f64());
    assert_eq!(again.len(), model.map.len());
    let condition = model.after(&event());
    let rows: Vec<(f64, f64, f64)> = (0..30)
        .map(|k| {
            (
                1500.0 + 220.0 * f64::from(k),
                20.0 + 12.0 * f64::from(k),
                5.0,
            )
        })
        .collect();
    let timed = |event: &Duty| {
        let asked = request(condition.clone(), event.clone());
        let repeats = 50;
        let start = Instant::now();
        for _ in 0..repeats {
            let (specimen, map) = (model.specimen.clone(), model.map.clone());
            let answer = ConnectingRod::forecast(specimen, map, asked.clone()).unwrap();
            assert_eq!(answer.mechanisms.len(), 3);
        }
        1e6 * start.elapsed().as_secs_f64() / f64::from(repeats)
    };
    println!(
        "forecast of 512 draws: 8 points {:.0} us, 30 points {:.0} us",
        timed(&event()),
        timed(&duty(&rows))
    );
    let start = Instant::now();
    let advanced = model.advance(&condition, &vec![duty(&rows); 100]);
    println!(
        "advance by a record of 30 points {:.0} us",
        1e4 * start.elapsed().as_secs_f64()
    );
    assert_eq!(advanced.len(), 100);
}
