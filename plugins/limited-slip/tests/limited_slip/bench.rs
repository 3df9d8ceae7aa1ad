//! Times, printed and never judged: `cargo test --release -p ringland-plugin-limited-slip bench -- --nocapture`.

use ringland_plugin_limited_slip::LimitedSlip;
use ringland_trials::{driveline, print_times};

use crate::differentials::{event, usual};

#[test]
fn bench() {
    let bare = driveline::duty::<LimitedSlip>(&driveline::points());
    print_times(
        usual(),
        &[
            ("46 points and counted cycles", event()),
            ("46 points alone", bare),
        ],
    );
}
