//! Times, printed and never judged: `cargo test --release -p ringland-plugin-cv-joint bench -- --nocapture`.

use ringland_trials::print_times;

use crate::scenario::{bare, event};

#[test]
fn bench() {
    let name = format!("{} points", event().time_s.len());
    print_times(bare(), &[(name.as_str(), event())]);
}
