//! Times, printed and never judged: `cargo test --release -p ringland-plugin-rod-bolt bench -- --nocapture`.

use ringland_plugin_rod_bolt::RodBolt;
use ringland_trials::{engine, print_times};

use crate::scenario::{changed, event, plain, torqued};

/// Also of bolts so loose, and by torque, that they take damage.
#[test]
fn bench() {
    let thirty = engine::many_points::<RodBolt>(30);
    let events = [("8 points", event()), ("30 points", thirty)];
    print_times(plain(), &events);
    let mut loose = changed(&[("tightening_torque_n_m", 38.0)]);
    loose.choices = torqued().choices;
    print_times(&plain().with(loose), &events);
}
