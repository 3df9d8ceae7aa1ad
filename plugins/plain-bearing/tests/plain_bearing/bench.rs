//! Times, printed and never judged: `cargo test --release -p ringland-plugin-plain-bearing bench -- --nocapture`.

use ringland_plugin_plain_bearing::PlainBearing;
use ringland_trials::{engine, print_times};

use crate::scenario::{event, plain};

#[test]
fn bench() {
    let thirty = engine::many_points::<PlainBearing>(30);
    print_times(plain(), &[("8 points", event()), ("30 points", thirty)]);
}
