//! Times, printed and never judged: `cargo test --release -p ringland-plugin-piston-pin bench -- --nocapture`.

use std::time::Instant;

use ringland_plugin::Model;
use ringland_plugin_piston_pin::PistonPin;

use crate::scenario::{duty, event, plain, request};

#[test]
fn bench() {
    let model = plain();
    let start = Instant::now();
    let again = PistonPin::prepare(model.specimen.clone()).unwrap();
    println!("prepare {:?}, {} numbers", start.elapsed(), again.len());
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
    for (name, event) in [("8", event()), ("30", duty(&rows))] {
        let asked = request(condition.clone(), event);
        let repeats = 100;
        let start = Instant::now();
        for _ in 0..repeats {
            let (specimen, map) = (model.specimen.clone(), model.map.clone());
            let answer = PistonPin::forecast(specimen, map, asked.clone()).unwrap();
            assert_eq!(answer.mechanisms.len(), 5);
        }
        println!(
            "forecast of 512 samples, {name} rows {:?}",
            start.elapsed() / repeats
        );
    }
    let start = Instant::now();
    let advanced = model.advance(&condition, &vec![event(); 100]);
    println!("advance {:?} a record of 8 rows", start.elapsed() / 100);
    assert_eq!(advanced.len(), 100);
}
