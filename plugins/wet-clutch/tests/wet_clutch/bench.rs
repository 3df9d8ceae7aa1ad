//! Times, printed and never judged: `cargo test --release -p ringland-plugin-wet-clutch bench -- --nocapture`.

use ringland_plugin_wet_clutch::WetClutch;
use ringland_trials::{driveline, print_times};

use crate::scenario::{event, ground};

#[test]
fn bench() {
    let points = event();
    let bare = driveline::duty::<WetClutch>(&driveline::points());
    let name = format!("{} points, 1371 shocks", points.time_s.len());
    print_times(
        ground(),
        &[(&name, points), ("the same without shocks", bare)],
    );
}
