//! Lives over the default event against common practice (no source): untreated 14 to 18 events, the groove ends them; treated 25 to 30.
//! Wear coefficients and collapse are calibrated to the untreated life (card); the treated life is not.

use ringland_trials::{medians, print_lives};

use crate::scenario::{coated, event, event_with, plain};

#[test]
fn lives_over_the_default_event() {
    let untreated = medians(&print_lives("untreated", plain(), &event()));
    let treated = medians(&print_lives("treated", coated(), &event()));
    println!(
        "groove: treated over untreated {:.2}",
        treated[0] / untreated[0]
    );
    assert!((14.0..18.0).contains(&untreated[0]), "{untreated:?}");
    // The groove governs an untreated piston, as in practice.
    assert!(
        untreated[1..].iter().all(|life| *life > untreated[0]),
        "{untreated:?}"
    );
    assert!(treated[0] > 1.3 * untreated[0]);
}

/// Knock of half as much peak pressure again costs the boss a factor of 1.5^9 = 38 at the least: inertia, that takes load off, does not grow
/// with it.
#[test]
fn knock_cracks_bosses() {
    let clean = plain().after(&event())[9];
    let knocking = plain().after(&event_with("knock_level", 5.0))[9];
    println!(
        "boss damage of an event: clean {clean:.2e}, knock level 5 {knocking:.2e}, ratio {:.0}",
        knocking / clean
    );
    assert!(knocking > 38.0 * clean, "{}", knocking / clean);
}
