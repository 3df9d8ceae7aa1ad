//! Times, printed and never judged: `cargo test --release -p ringland-plugin-valve-guide bench -- --nocapture`.

use ringland_trials::print_times;

use crate::scenario::{duty, event, plain};

#[test]
fn bench() {
    let thirty: Vec<(f64, f64, f64)> = (0..30)
        .map(|k| {
            let k = f64::from(k);
            (1500.0 + 220.0 * k, 750.0 + 14.0 * k, 5.0)
        })
        .collect();
    print_times(
        plain(),
        &[("8 points", event()), ("30 points", duty(&thirty))],
    );
}
