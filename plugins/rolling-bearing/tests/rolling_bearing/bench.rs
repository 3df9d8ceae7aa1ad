//! Times, printed and never judged: `cargo test --release -p ringland-plugin-rolling-bearing bench -- --nocapture`.

use ringland_trials::print_times;

use crate::sets::{event, on_pinion, on_shaft};

#[test]
fn bench() {
    let points = event().time_s.len();
    let named = format!("{points} points, 40 impacts");
    print_times(on_shaft(), &[(named.as_str(), event())]);
    print_times(on_pinion(), &[(named.as_str(), event())]);
}
