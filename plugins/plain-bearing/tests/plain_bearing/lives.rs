//! Lives over the default event against common practice (no source): bare shells 6 to 8 events, coated ones about 1.5 times as many.
//! The wear coefficient of bare shells is calibrated (card); the ratio is not.

use ringland_plugin_plain_bearing::PlainBearing;
use ringland_plugin_plain_bearing::card::mechanism;
use ringland_trials::{Record, medians, print_lives};

use crate::scenario::{Prepared, event, mains, plain, polymer, with_dips};

#[test]
fn lives_over_the_default_event() {
    let bare = medians(&print_lives("bare", plain(), &event()));
    let coated = medians(&print_lives("coated", polymer(), &event()));
    print_lives("main", mains(), &event());
    let ratio = coated[mechanism::WEAR] / bare[mechanism::WEAR];
    println!("overlay wear: coated over bare {ratio:.2}");
    assert!((6.0..8.0).contains(&bare[mechanism::WEAR]), "{bare:?}");
    assert!((1.2..2.2).contains(&ratio), "{coated:?}");
    // Wear governs, as in practice; a coat does nothing for fatigue strength.
    let wear = bare[mechanism::WEAR];
    assert!(bare.iter().all(|life| *life >= wear), "{bare:?}");
    let fatigue = coated[mechanism::FATIGUE] / bare[mechanism::FATIGUE];
    assert!((0.9..1.1).contains(&fatigue), "{fatigue}");
}

/// Oil temperature and dilution beat every treatment: common practice.
#[test]
fn oil_is_the_largest_lever() {
    let wear = |prepared: &Prepared, kelvin: f64, fuel: f64| {
        let record = Record::edit::<PlainBearing>(&event());
        let record = record.channel("oil_temp_k", 383.15 + kelvin);
        let after = prepared.after(&record.channel("fuel_dilution_fraction", fuel).duty());
        after[0].max(after[1])
    };
    let usual = wear(plain(), 0.0, 0.0);
    for (kelvin, fuel) in [
        (-10.0, 0.0),
        (10.0, 0.0),
        (20.0, 0.0),
        (0.0, 0.03),
        (0.0, 0.05),
    ] {
        let relative = wear(plain(), kelvin, fuel) / usual;
        println!(
            "oil {kelvin:+} K, fuel {:.0} %: wear x {relative:.2}",
            100.0 * fuel
        );
    }
    let coat = wear(polymer(), 0.0, 0.0) / usual;
    println!("coat: wear x {coat:.2}");
    assert!(wear(plain(), -10.0, 0.0) < usual);
    assert!(wear(plain(), 20.0, 0.0) * coat > usual);
}

/// What dips do, by depth.
#[test]
fn dips_starve_the_film() {
    let quiet = plain().after(&event());
    let mut last = quiet.clone();
    for pressure_pa in [3.0e5, 2.0e5, 1.0e5, 0.0] {
        let after = plain().after(&with_dips(5, 1.5, pressure_pa, 7000.0));
        println!(
            "5 dips of 1.5 s to {:.0} bar: wear +{:.3e} +{:.3e} m, boundary heat {:.2e} W/m2, {} to look at",
            pressure_pa / 1e5,
            after[0] - quiet[0],
            after[1] - quiet[1],
            after[4],
            after[5]
        );
        assert!(after[0] >= last[0] && after[1] >= last[1] && after[4] >= last[4]);
        last = after;
    }
    assert!(last[4] > 1.5 * quiet[4], "{last:?}");
    assert!(last[5] == 5.0);
}
