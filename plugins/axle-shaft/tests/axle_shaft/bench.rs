//! Times, printed and never judged: `cargo test --release -p ringland-plugin-axle-shaft bench -- --nocapture`.

use ringland_plugin_axle_shaft::AxleShaft;
use ringland_trials::{Record, print_times};

use crate::scenario::{bare, event};

#[test]
fn bench() {
    // A count of 200 classes, as a long log gives.
    let classes: Vec<[f64; 3]> = (1..=200)
        .map(|k| [30.0 * f64::from(k), 15.0 * f64::from(k), 40.0])
        .collect();
    let many = Record::edit::<AxleShaft>(&event()).cycles("axle_torque_n_m", &classes);
    let points = event().time_s.len();
    let name = format!("{points} points");
    let events = [
        (name.as_str(), event()),
        ("the same, 206 classes of cycles", many.duty()),
    ];
    print_times(bare(), &events);
}
