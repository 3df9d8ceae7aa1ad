//! Lives over the default event against common practice (no source): sink of 1.6 um and step of 2 um an event, retainers planned for 24 events untreated and
//! 36 treated. The two wear coefficients are calibrated to the growth; lives and what treatment gives are not.

use ringland_plugin_spring_retainer::card::{mechanism, slot};
use ringland_trials::{first, print_lives, quantile};

use crate::scenario::{Prepared, bare, event, peened};

/// Median and B10 \[events\] of the component.
fn lives(name: &str, prepared: &Prepared) -> [f64; 2] {
    print_lives(name, prepared, &event());
    let forecast = prepared.forecast(&prepared.begin(), &event());
    [0.5, 0.1].map(|p| quantile(&first(&forecast), p))
}

#[test]
fn lives_over_the_default_event() {
    let untreated = lives("untreated", bare());
    let treated = lives("peened", peened());
    let ratio = treated[0] / untreated[0];
    println!("peened over untreated: median {ratio:.2}");
    // Planned replacement is where some tenth of them would be through: 24 and 36, give or take a fifth.
    assert!(
        (0.8 * 24.0..1.2 * 24.0).contains(&untreated[1]),
        "{untreated:?}"
    );
    assert!(
        (0.8 * 36.0..1.2 * 36.0).contains(&treated[1]),
        "{treated:?}"
    );
    assert!((1.2..2.0).contains(&ratio));
}

/// The growth to which the coefficients are calibrated, once the retainer has been driven on.
#[test]
fn growth_is_as_calibrated() {
    let (one, two) = (
        bare().after(&event()),
        bare().repeated(&bare().begin(), &event(), 2),
    );
    let grown = |index: usize| two[index] - one[index];
    assert!(
        (grown(slot::SINK) / 1.6e-6 - 1.0).abs() < 0.02,
        "{}",
        grown(slot::SINK)
    );
    assert!(
        (grown(slot::STEP) / 2.0e-6 - 1.0).abs() < 0.02,
        "{}",
        grown(slot::STEP)
    );
}

/// The step ends a retainer's life first, sink and cracks long after (as the growth above and the limits have it).
#[test]
fn the_step_governs() {
    let forecast = bare().forecast(&bare().begin(), &event());
    let median = |index: usize| quantile(&forecast.mechanisms[index].lives_events, 0.5);
    assert!(median(mechanism::STEP) < 0.5 * median(mechanism::SINK));
    for index in [mechanism::FLANGE, mechanism::HUB, mechanism::PULL_THROUGH] {
        assert!(median(index) >= 1000.0, "{index}");
    }
}
