//! Times, printed and never judged: `cargo test --release -p ringland-plugin-dry-clutch bench -- --nocapture`.

use ringland_plugin_dry_clutch::DryClutch;
use ringland_trials::{driveline, print_times};

use crate::clutches::{event, usual};

#[test]
fn bench() {
    let bare = driveline::duty::<DryClutch>(&driveline::points());
    print_times(
        usual(),
        &[
            ("46 points, 11 engagements", event()),
            ("46 points alone", bare),
        ],
    );
}
