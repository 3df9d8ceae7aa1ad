//! Times, printed and never judged: `cargo test --release -p ringland-plugin-connecting-rod bench -- --nocapture`.

use ringland_plugin_connecting_rod::ConnectingRod;
use ringland_trials::{engine, print_times};

use crate::scenario::{event, peened};

#[test]
fn bench() {
    let thirty = engine::many_points::<ConnectingRod>(30);
    print_times(peened(), &[("8 points", event()), ("30 points", thirty)]);
}
