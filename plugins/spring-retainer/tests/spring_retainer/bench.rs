//! Times, printed and never judged: `cargo test --release -p ringland-plugin-spring-retainer bench -- --nocapture`.

use ringland_plugin_spring_retainer::SpringRetainer;
use ringland_trials::{engine, print_times};

use crate::scenario::{bare, event};

#[test]
fn bench() {
    let thirty = engine::many_points::<SpringRetainer>(30);
    print_times(bare(), &[("8 points", event()), ("30 points", thirty)]);
}
