//! Lives over the default event against common practice (no source): untreated 15 to 18 events, wear of the bush ends them; treated 30 and
//! more. The wear coefficient of the bush is calibrated to the untreated life (card); the treated life is not.

use ringland_plugin::Model;
use ringland_plugin_piston_pin::PistonPin;

use crate::scenario::{Prepared, coated, event, event_with, median, plain};

fn table(name: &str, prepared: &Prepared) -> Vec<f64> {
    let first = prepared.after(&event());
    println!("{name}: after the first event {first:?}");
    let forecast = prepared.forecast(prepared.begin(), event());
    let card = PistonPin::card();
    let lives: Vec<f64> = forecast
        .mechanisms
        .iter()
        .map(|m| median(&m.lives_events))
        .collect();
    let found = forecast.mechanisms.iter().zip(&lives);
    for (mechanism, (found, life)) in card.mechanisms.iter().zip(found) {
        println!(
            "  {:<14} median {life:7.2} events, risk of the next {:.2e}, shares {:.3?}",
            mechanism.name, found.risk_next_event, found.point_shares
        );
    }
    for (reading, path) in card.readings.iter().zip(&forecast.readings) {
        println!(
            "  {:<24} {:?} limit {:?}",
            reading.name, path.median, path.limit
        );
    }
    lives
}

#[test]
fn lives_over_the_default_event() {
    let untreated = table("untreated", plain());
    let treated = table("treated", coated());
    println!(
        "bush: treated over untreated {:.2}",
        treated[0] / untreated[0]
    );
    assert!((15.0..18.0).contains(&untreated[0]), "{untreated:?}");
    // The bush governs an untreated pin, as in practice.
    assert!(
        untreated[1..].iter().all(|life| *life > untreated[0]),
        "{untreated:?}"
    );
    assert!(treated[0] > 1.5 * untreated[0]);
}

/// A coating lets go in 1 to 2 % of 30 events (assumed; the constant is chosen so).
#[test]
fn coatings_seldom_let_go() {
    let mut condition = coated().begin();
    for _ in 0..30 {
        condition = coated().advance(&condition, &[event()]).remove(0);
    }
    let lost = -(-condition[3]).exp_m1();
    println!("coating lost within 30 events {:.2} %", 100.0 * lost);
    assert!((0.01..0.02).contains(&lost), "{lost}");
    assert_eq!(plain().after(&event())[3], 0.0);
}

/// Knock cracks pins and scuffs bushes sooner.
#[test]
fn knock_shortens_every_life() {
    let clean = plain().after(&event());
    let knocking = plain().after(&event_with(5, 5.0));
    println!("an event: clean {clean:?}\n  knock level 5 {knocking:?}");
    assert!(knocking[0] > clean[0] && knocking[2] > clean[2]);
    assert!(
        knocking[4] > 1.5_f64.powi(9) * clean[4],
        "{}",
        knocking[4] / clean[4]
    );
}
