//! Times, printed and never judged: `cargo test --release -p ringland-plugin-crankshaft bench -- --nocapture`.

use std::time::Instant;

use ringland_engine::CycleSolver;
use ringland_plugin_crankshaft::Crankshaft;
use ringland_plugin_crankshaft::operating_map::{NodeSolver, Resolution};
use ringland_plugin_crankshaft::spec::Spec;
use ringland_trials::{engine, print_times};

use crate::scenario::{event, plain};

#[test]
fn bench() {
    let many = engine::many_points::<Crankshaft>;
    let events = [
        ("8 points", event()),
        ("30 points", many(30)),
        ("500 points", many(500)),
    ];
    print_times(plain(), &events);
}

#[test]
fn bench_of_an_operating_point() {
    let spec = Spec::read(&plain().specimen).unwrap();
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
}
