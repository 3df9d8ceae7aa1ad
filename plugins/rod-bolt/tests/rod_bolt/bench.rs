//! Times, printed and never judged: `cargo test --release -p ringland-plugin-rod-bolt bench -- --nocapture`.

use std::time::Instant;

use ringland_plugin::{Duty, Model};
use ringland_plugin_rod_bolt::RodBolt;

use crate::scenario::{Prepared, duty, event, plain, request, torqued};

#[test]
fn bench() {
    let model = plain();
    let start = Instant::now();
    let again = RodBolt::prepare(model.specimen.clone()).unwrap();
    let prepare = start.elapsed();
    assert_eq!(again.len(), model.map.len());
    let rows: Vec<(f64, f64, f64)> = (0..30)
        .map(|k| {
            (
                1500.0 + 220.0 * f64::from(k),
                20.0 + 13.0 * f64::from(k),
                5.0,
            )
        })
        .collect();
    let timed = |model: &Prepared, condition: &[f64], event: &Duty| {
        let asked = request(condition, event.clone());
        let repeats = 50;
        let start = Instant::now();
        for _ in 0..repeats {
            assert_eq!(model.ask(asked.clone()).mechanisms.len(), 4);
        }
        start.elapsed() / repeats
    };
    let loose = model.with(torqued());
    println!(
        "prepare {prepare:?}; forecast of 512 samples, 30 rows: {:?}, loose and by torque {:?}",
        timed(model, &model.after(&model.begin(), &event()), &duty(&rows)),
        timed(&loose, &loose.begin_at(26.0e3), &duty(&rows)),
    );
    let start = Instant::now();
    let advanced = model.advance(&model.begin(), &vec![duty(&rows); 100]);
    println!("advance {:?} a record of 30 rows", start.elapsed() / 100);
    assert_eq!(advanced.len(), 100);
}
