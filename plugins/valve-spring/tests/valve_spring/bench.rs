//! Times, printed and never judged: `cargo test --release -p ringland-plugin-valve-spring bench -- --nocapture`.

use std::time::Instant;

use ringland_engine::valvetrain::TrainSolver;
use ringland_plugin_valve_spring::ValveSpring;
use ringland_plugin_valve_spring::spec::Spec;
use ringland_plugin_valve_spring::turn::Turn;
use ringland_trials::{engine, print_times};

use crate::springs::delivered;

#[test]
fn bench() {
    let many = engine::many_points::<ValveSpring>;
    let events = [
        ("8 points", engine::event::<ValveSpring>()),
        ("30 points", many(30)),
        ("500 points", many(500)),
    ];
    print_times(delivered(), &events);
}

#[test]
fn bench_of_a_node() {
    let spec = Spec::read(&delivered().specimen).unwrap();
    let solver = TrainSolver::new(&spec.train);
    let start = Instant::now();
    let cycles: Vec<_> = (0..20)
        .map(|k| {
            solver
                .cycle(300.0 + 30.0 * f64::from(k), spec.train.seat_load_n)
                .unwrap()
        })
        .collect();
    let motion = start.elapsed() / 20;
    let start = Instant::now();
    for cycle in &cycles {
        assert!(Turn::of(&spec, cycle).is_ok());
    }
    println!(
        "of each node: motion {motion:?}, spring {:?}",
        start.elapsed() / 20
    );
}
