//! Times, printed and never judged: `cargo test --release -p ringland-plugin-gear-set bench -- --nocapture`.

use ringland_trials::print_times;

use crate::boxes::{event, plain};

#[test]
fn bench() {
    print_times(plain(), &[("the event", event())]);
}
