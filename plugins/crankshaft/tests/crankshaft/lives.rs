//! Lives over the default event against common practice (no source): crack check at each freshening, untreated cranks retired after 25 to 30 events,
//! nitrided ones after 60 or more; a treatment at least doubles the cycles. The effective strength is calibrated to the first (card); what treatment does
//! is not.

use ringland_plugin_crankshaft::Crankshaft;
use ringland_trials::{print_lives, quantile, with};

use crate::scenario::{Prepared, event, nitrided, peened, plain, rolled, untreated};

/// 10 % and 50 % quantiles of the lives by each mechanism, and the damage of the first event to the worst fillet.
fn lives(name: &str, prepared: &Prepared) -> (Vec<[f64; 2]>, f64) {
    let mechanisms = print_lives(name, prepared, &event()).mechanisms.into_iter();
    let lives = mechanisms.map(|found| [0.1, 0.5].map(|p| quantile(&found.lives_events, p)));
    let first = prepared.after(&event());
    (
        lives.collect(),
        first[..16].iter().copied().fold(0.0, f64::max),
    )
}

#[test]
fn lives_over_the_default_event() {
    let (bare, bare_damage) = lives("untreated", plain());
    assert!((25.0..30.0).contains(&bare[0][0]), "{bare:?}");
    for (name, specimen) in [
        ("nitrided", nitrided()),
        ("peened", peened()),
        ("rolled", rolled()),
    ] {
        let (lives, damage) = lives(name, &plain().with(specimen));
        println!("{name}: first event x {:.3} of bare", damage / bare_damage);
        assert!(lives[0][0] > 2.0 * bare[0][0], "{name}: {lives:?}");
        if name == "nitrided" {
            assert!(lives[0][0] > 60.0, "{lives:?}");
            assert!(lives[2][0] > 2.0 * bare[2][0], "journals {lives:?}");
        }
    }
    // The fillets govern, not the nose.
    assert!(bare[1][0] > bare[0][0]);
}

/// What the damper's ageing costs: lives with one that is renewed in time.
#[test]
fn lives_with_a_damper_renewed_in_time() {
    for (name, specimen) in [("untreated", untreated()), ("nitrided", nitrided())] {
        let fillets = |prepared: &Prepared| {
            let forecast = prepared.forecast(&prepared.begin(), &event());
            [0.1, 0.5].map(|p| quantile(&forecast.mechanisms[0].lives_events, p))
        };
        let ageing = fillets(&plain().with(specimen.clone()));
        let lasting = with::<Crankshaft>(&specimen, "damper_half_life_s", 3.6e8);
        let renewed = fillets(&plain().with(lasting));
        println!(
            "{name} fillets, 10 % and median: {ageing:.1?} events with the damper left to age, {renewed:.1?} renewed in time"
        );
        assert!(renewed[1] > ageing[1]);
    }
}
