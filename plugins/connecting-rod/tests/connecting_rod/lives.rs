//! Lives over the default event against common practice (no source): rods are kept 25 to 30 events untreated, 50 to 60 peened ("fatigue cycles at
//! least double"). The strength is calibrated to the untreated policy (B10); what peening gives is not.

use ringland_trials::{first, print_lives, quantile};

use crate::scenario::{Prepared, event, peened, plain};

/// Median and B10 \[events\].
fn lives(name: &str, prepared: &Prepared) -> (f64, f64) {
    let lives = first(&print_lives(name, prepared, &event()));
    (quantile(&lives, 0.5), quantile(&lives, 0.1))
}

#[test]
fn lives_over_the_default_event() {
    let untreated = lives("untreated", plain());
    let treated = lives("peened", peened());
    println!(
        "peened over untreated: median {:.2}",
        treated.0 / untreated.0
    );
    assert!((25.0..30.0).contains(&untreated.1), "{untreated:?}");
    assert!(treated.0 > 2.0 * untreated.0, "{treated:?}");
}

/// Rods are killed by speed, not by peak torque (common practice, no source): the points at 7250 and 8000 1/min do most of the damage.
#[test]
fn speed_does_the_damage() {
    let forecast = plain().forecast(&plain().begin(), &event());
    let shares = &forecast.mechanisms[1].point_shares;
    assert!(
        shares[4] + shares[5] > 0.7 && shares[3] < 0.15,
        "{shares:?}"
    );
}
