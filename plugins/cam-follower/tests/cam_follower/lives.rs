//! Lives over the default event.

use ringland_plugin::{LifeForecast, Model, Specimen};
use ringland_plugin_cam_follower::CamFollower;
use ringland_trials::{Prepared, engine, quantile};

use crate::trains;

#[test]
fn lives() {
    for (name, train) in [
        ("roller", trains::roller()),
        ("heavy roller", trains::heavy_roller()),
        ("bucket", trains::bucket()),
        ("slider", trains::slider()),
    ] {
        println!("{name} {:?}", CamFollower::check(train.clone()));
        for (how, specimen) in [
            ("", train.clone()),
            ("superfinished", trains::superfinished(&train)),
            ("fine peened", trains::fine_peened(&train)),
            ("coated", trains::coated(&train)),
        ] {
            let prepared = Prepared::<CamFollower>::new(specimen).within(2000.0);
            let f = prepared.forecast(&prepared.begin(), &engine::event::<CamFollower>());
            let q: Vec<String> = f
                .mechanisms
                .iter()
                .map(|m| {
                    format!(
                        "{:.1}/{:.1}",
                        quantile(&m.lives_events, 0.5),
                        quantile(&m.lives_events, 0.1)
                    )
                })
                .collect();
            let w: Vec<f64> = (0..512)
                .map(|k| f.mechanisms[0].lives_events[k].min(f.mechanisms[1].lives_events[k]))
                .collect();
            println!(
                "{name} {how}: {} first wear {:.1} p {:.2e} lam {:.3} sev {:.2}",
                q.join("  "),
                quantile(&w, 0.5),
                f.readings[7].median[0],
                f.readings[8].median[0],
                f.readings[6].median[1]
            );
        }
    }
}
