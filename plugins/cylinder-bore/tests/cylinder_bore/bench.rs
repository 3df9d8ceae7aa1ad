//! Times, printed and never judged: `cargo test --release -p ringland-plugin-cylinder-bore bench -- --nocapture`.

use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_trials::{engine, print_times};

use crate::scenario::{event, plain};

#[test]
fn bench() {
    let many = engine::many_points::<CylinderBore>;
    let events = [
        ("8 points", event()),
        ("30 points", many(30)),
        ("500 points", many(500)),
    ];
    print_times(plain(), &events);
}
