//! Times, printed and never judged: `cargo test --release -p ringland-plugin-crankshaft bench -- --nocapture`.

use std::time::Instant;

use ringland_engine::CycleSolver;
use ringland_plugin::{Duty, Model};
use ringland_plugin_crankshaft::Crankshaft;
use ringland_plugin_crankshaft::operating_map::{NodeSolver, Resolution};
use ringland_plugin_crankshaft::spec::Spec;

use crate::scenario::{duty, event, plain, request};

#[test]
fn bench() {
    let model = plain();
    let start = Instant::now();
    let again = Crankshaft::prepare(model.specimen.clone()).unwrap();
    let prepare = start.elapsed();
    let spec = Spec::read(&model.specimen).unwrap();
    let solver = CycleSolver::new(&spec.engine, Resolution::MAP.points).unwrap();
    let start = Instant::now();
    let loads: Vec<_> = (0..20)
        .map(|k| solver.loads(300.0 + 25.0 * f64::from(k), 2.0e6).unwrap())
        .collect();
    let gas = start.elapsed() / 20;
    let nodes = NodeSolver::new(&spec, Resolution::MAP.points).unwrap();
    let start = Instant::now();
    for loads in &loads {
        assert!(nodes.values(loads).is_ok());
    }
    println!(
        "of each operating point: gas {gas:?}, stresses {:?}",
        start.elapsed() / 20
    );
    assert_eq!(again.len(), model.map.len());
    let condition = model.after(&event());
    let rows = |count: u32| -> Vec<(f64, f64, f64)> {
        let row = |k: u32| f64::from(k) * 500.0 / f64::from(count);
        (0..count)
            .map(|k| (1500.0 + 13.0 * row(k), 20.0 + 0.8 * row(k), 0.3))
            .collect()
    };
    let timed = |event: &Duty| {
        let asked = request(condition.clone(), event.clone());
        let once = || {
            let asked = asked.clone();
            let start = Instant::now();
            assert_eq!(model.ask(asked).mechanisms.len(), 3);
            start.elapsed()
        };
        (0..100).map(|_| once()).min().unwrap()
    };
    println!(
        "map of {} numbers; prepare {prepare:?}; fastest forecast of 512 samples: 8 rows {:?}, 30 rows {:?}, 500 rows {:?}",
        model.map.len(),
        timed(&event()),
        timed(&duty(&rows(30))),
        timed(&duty(&rows(500)))
    );
    let start = Instant::now();
    let advanced = model.advance(&condition, &vec![event(); 100]);
    println!("advance {:?} a record of 8 rows", start.elapsed() / 100);
    assert_eq!(advanced.len(), 100);
}
