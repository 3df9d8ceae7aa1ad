//! Times, printed and never judged: `cargo test --release -p ringland-plugin-piston bench -- --nocapture`.

use ringland_plugin_piston::Piston;
use ringland_trials::{engine, print_times};

use crate::scenario::{event, plain};

#[test]
fn bench() {
    let thirty = engine::many_points::<Piston>(30);
    print_times(plain(), &[("8 points", event()), ("30 points", thirty)]);
}
