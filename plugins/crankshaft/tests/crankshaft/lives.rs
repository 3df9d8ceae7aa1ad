//! Lives over the default event against common practice (no source): crack check at each freshening, untreated cranks retired after 25 to 30 events,
//! nitrided ones after 60 or more; a treatment at least doubles the cycles. The effective strength is calibrated to the first (card); what treatment does
//! is not.

use ringland_plugin::Model;
use ringland_plugin_crankshaft::Crankshaft;

use crate::scenario::{Prepared, event, nitrided, peened, plain, quantile, rolled, set, untreated};

/// 10 % and 50 % quantiles of the lives by each mechanism, and the damage of the first event to the worst fillet.
fn table(name: &str, prepared: &Prepared) -> (Vec<[f64; 2]>, f64) {
    let first = prepared.after(&event());
    println!(
        "{name}: damage of the first event, pins {:.5?}, journals {:.5?}, nose {:.2e}",
        &first[..4],
        &first[8..12],
        first[16]
    );
    let forecast = prepared.forecast(prepared.begin(), event());
    let card = Crankshaft::card();
    let mut lives = Vec::new();
    for (mechanism, found) in card.mechanisms.iter().zip(&forecast.mechanisms) {
        let [early, median] = [0.1, 0.5].map(|p| quantile(&found.lives_events, p));
        println!(
            "  {:<15} 10 % {early:7.1}, median {median:7.1} events, risk of the next {:.2e}, shares {:.3?}",
            mechanism.name, found.risk_next_event, found.point_shares
        );
        lives.push([early, median]);
    }
    for (reading, path) in card.readings.iter().zip(&forecast.readings) {
        println!(
            "  {:<22} {:.3e}, after 30 events {:.3e}",
            reading.name, path.median[0], path.median[3]
        );
    }
    (lives, first[..16].iter().copied().fold(0.0, f64::max))
}

#[test]
fn lives_over_the_default_event() {
    let (bare, bare_damage) = table("untreated", plain());
    assert!((25.0..30.0).contains(&bare[0][0]), "{bare:?}");
    for (name, specimen) in [
        ("nitrided", nitrided()),
        ("peened", peened()),
        ("rolled", rolled()),
    ] {
        let (lives, damage) = table(name, &plain().with(specimen));
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
    for (name, mut specimen) in [("untreated", untreated()), ("nitrided", nitrided())] {
        let fillets = |prepared: &Prepared| {
            let forecast = prepared.forecast(prepared.begin(), event());
            [0.1, 0.5].map(|p| quantile(&forecast.mechanisms[0].lives_events, p))
        };
        let ageing = fillets(&plain().with(specimen.clone()));
        set(&mut specimen, "damper_half_life_s", 3.6e8);
        let renewed = fillets(&plain().with(specimen));
        println!(
            "{name} fillets, 10 % and median: {ageing:.1?} events with the damper left to age, {renewed:.1?} renewed in time"
        );
        assert!(renewed[1] > ageing[1]);
    }
}
