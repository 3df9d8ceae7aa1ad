//! Lives over the default event against common practice (no source): untreated 15 to 18 events, wear of the bush ends them; treated 30 and
//! more. The wear coefficient of the bush is calibrated to the untreated life (card); the treated life is not.

use ringland_trials::{medians, print_lives};

use crate::scenario::{coated, event, event_with, plain};

#[test]
fn lives_over_the_default_event() {
    let untreated = medians(&print_lives("untreated", plain(), &event()));
    let treated = medians(&print_lives("treated", coated(), &event()));
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
    let condition = coated().repeated(&coated().begin(), &event(), 30);
    let lost = -(-condition[3]).exp_m1();
    println!("coating lost within 30 events {:.2} %", 100.0 * lost);
    assert!((0.01..0.02).contains(&lost), "{lost}");
    assert_eq!(plain().after(&event())[3], 0.0);
}

/// Knock cracks pins and scuffs bushes sooner.
#[test]
fn knock_shortens_every_life() {
    let clean = plain().after(&event());
    let knocking = plain().after(&event_with("knock_level", 5.0));
    println!("an event: clean {clean:?}\n  knock level 5 {knocking:?}");
    assert!(knocking[0] > clean[0] && knocking[2] > clean[2]);
    assert!(
        knocking[4] > 1.5_f64.powi(9) * clean[4],
        "{}",
        knocking[4] / clean[4]
    );
}
