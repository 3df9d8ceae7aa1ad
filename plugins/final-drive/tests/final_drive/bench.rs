//! Times, printed and never judged: `cargo test --release -p ringland-plugin-final-drive bench -- --nocapture`.

use ringland_trials::print_times;

use crate::pairs::{event, ground};

#[test]
fn bench() {
    print_times(ground(), &[("46 points, 6 classes of cycles", event())]);
}
