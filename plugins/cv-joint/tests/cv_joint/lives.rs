//! Lives over the default event against common practice (no source): joints planned for 12 to 17 events at 6 degrees, 18 to 25 with superfinished tracks. The level of pitting is that of
//! the rating formula (from memory) and is not calibrated; the wear coefficient of the tracks is.

use ringland_plugin_cv_joint::card::{mechanism, slot};
use ringland_trials::{first, medians, print_lives, quantile};

use crate::scenario::{bare, event, smooth};

#[test]
fn lives_over_the_default_event() {
    let forecasts = [("untreated", bare()), ("superfinished", smooth())]
        .map(|(name, prepared)| print_lives(name, prepared, &event()));
    let [ground, finished] = forecasts.map(|forecast| quantile(&first(&forecast), 0.1));
    println!("B10 of the first of all: untreated {ground:.1}, superfinished {finished:.1}");
    // Not calibrated.
    assert!((10.0..20.0).contains(&ground), "{ground}");
    assert!(finished > 1.08 * ground, "{finished}");
}

/// Calibrated: 1.5 um of wear of both tracks together in the default event (common practice, no source).
#[test]
fn tracks_wear_by_what_they_were_calibrated_to() {
    let wear_m = bare().after(&event())[slot::DRIVE_WEAR];
    assert!((wear_m / 1.5e-6 - 1.0).abs() < 0.02, "{wear_m}");
}

/// Pitting ends a joint's life in whole boots; wear and windows come long after it (common practice, no source: contact fatigue and heat).
#[test]
fn pitting_governs() {
    let lives = medians(&bare().forecast(&bare().begin(), &event()));
    for index in [
        mechanism::WEAR,
        mechanism::WINDOW,
        mechanism::GREASE,
        mechanism::BOOT,
    ] {
        assert!(
            lives[mechanism::PITTING] < lives[index],
            "{index}: {lives:?}"
        );
    }
}
