//! Times, printed and never judged.

use ringland_plugin_cam_follower::CamFollower;
use ringland_trials::{Prepared, engine, print_times};

/// Command: `cargo test --release -p ringland-plugin-cam-follower -- --nocapture times`
#[test]
fn times() {
    let prepared = Prepared::<CamFollower>::default_spec();
    let events = [
        ("eight operating points", engine::event::<CamFollower>()),
        ("thirty operating points", engine::event::<CamFollower>()),
    ];
    print_times(&prepared, &events);
}
