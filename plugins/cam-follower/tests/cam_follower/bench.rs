//! Times, printed and never judged: `cargo test --release -p ringland-plugin-cam-follower bench -- --nocapture`.

use ringland_plugin_cam_follower::CamFollower;
use ringland_trials::{engine, print_times};

use crate::trains::{event, rolling};

#[test]
fn bench() {
    let thirty = engine::many_points::<CamFollower>(30);
    print_times(rolling(), &[("8 points", event()), ("30 points", thirty)]);
}
