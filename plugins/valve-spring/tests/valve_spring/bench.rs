//! Times, printed and never judged: `cargo test --release -p ringland-plugin-valve-spring bench -- --nocapture`.

use ringland_plugin_valve_spring::ValveSpring;
use ringland_trials::{engine, print_times};

use crate::springs::delivered;

#[test]
fn bench() {
    let events = [
        ("8 points", engine::event::<ValveSpring>()),
        ("30 points", engine::many_points::<ValveSpring>(30)),
    ];
    print_times(delivered(), &events);
}
