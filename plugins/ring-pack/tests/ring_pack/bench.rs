//! Times, printed and never judged: `cargo test --release -p ringland-plugin-ring-pack bench -- --nocapture`.

use ringland_plugin_ring_pack::RingPack;
use ringland_trials::{engine, print_times};

use crate::scenario::{event, plain};

#[test]
fn bench() {
    let many = engine::many_points::<RingPack>;
    let events = [
        ("8 points", event()),
        ("30 points", many(30)),
        ("500 points", many(500)),
    ];
    print_times(plain(), &events);
}
