//! Lives over the default event against common practice (no source): rods are kept 25 to 30 events untreated, 50 to 60 peened ("fatigue cycles at
//! least double"). The strength is calibrated to the untreated policy (B10); what peening gives is not.

use ringland_plugin::Model;
use ringland_plugin_connecting_rod::ConnectingRod;

use crate::scenario::{Prepared, event, first, peened, plain, quantile};

fn table(name: &str, prepared: &Prepared) -> (f64, f64) {
    let forecast = prepared.forecast(prepared.begin(), event());
    let card = ConnectingRod::card();
    println!(
        "{name}: damage of the first event {:.5?}",
        &prepared.after(&event())[..6]
    );
    for (mechanism, found) in card.mechanisms.iter().zip(&forecast.mechanisms) {
        println!(
            "  {:<18} median {:7.1} B10 {:7.1} events, risk of the next {:.2e}, shares {:.3?}",
            mechanism.name,
            quantile(&found.lives_events, 0.5),
            quantile(&found.lives_events, 0.1),
            found.risk_next_event,
            found.point_shares
        );
    }
    for (reading, path) in card.readings.iter().zip(&forecast.readings) {
        println!(
            "  {:<24} {:?} limit {:?}",
            reading.name, path.median, path.limit
        );
    }
    let first = first(&forecast);
    let (median, b10) = (quantile(&first, 0.5), quantile(&first, 0.1));
    println!("  rod: median {median:.1}, B10 {b10:.1} events");
    (median, b10)
}

#[test]
fn lives_over_the_default_event() {
    let untreated = table("untreated", plain());
    let treated = table("peened", peened());
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
    let forecast = plain().forecast(plain().begin(), event());
    let shares = &forecast.mechanisms[1].point_shares;
    assert!(
        shares[4] + shares[5] > 0.7 && shares[3] < 0.15,
        "{shares:?}"
    );
}
