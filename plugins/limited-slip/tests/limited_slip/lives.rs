//! Lives over the default event, as the read-me quotes them.

use std::f64::consts::PI;

use ringland_plugin::Specimen;
use ringland_plugin_limited_slip::LimitedSlip;
use ringland_plugin_limited_slip::card::{mechanism, reading, slot};
use ringland_trials::{Record, first, median, medians, print_lives, quantile, with_all};

use crate::differentials::{at, event, ground, peened, prepared, sprayed, superfinished};

const DEGREE: f64 = PI / 180.0;

/// Median life of each mechanism, and of the first of wear and preload.
fn lives(name: &str, specimen: Specimen) -> Vec<f64> {
    let pack = prepared(specimen);
    let forecast = print_lives(name, &pack, &event());
    let all = first(&forecast);
    let once = pack.after(&event());
    let found: Vec<f64> = forecast
        .readings
        .iter()
        .map(|path| path.median[0])
        .collect();
    println!(
        "{name}: medians {:.1?}, first of all {:.1}, B10 {:.1}; event {:.2} MJ, {:.1} um, oil {:.2} MJ/l, scoring {:.2} um, tabs {:.1} um, glaze {:.1e}; \
         new: breakaway {:.1}, chatter {:.2}, without modifier {:.2}",
        medians(&forecast),
        median(&all),
        quantile(&all, 0.1),
        once[slot::ENERGY] / 1e6,
        once[slot::STACK_WEAR] * 1e6,
        once[slot::OIL_DOSE] / 1e9,
        once[slot::SCORING] * 1e6,
        once[slot::TAB_WEAR] * 1e6,
        once[slot::GLAZE],
        found[reading::BREAKAWAY],
        found[reading::CHATTER],
        found[reading::CHATTER_WITHOUT],
    );
    medians(&forecast)
}

/// The pair's wear is calibrated: 0.40 mm in about 8.5 events (common practice, no source). Preload and the order of the rest are not.
#[test]
fn lives_of_the_default_pack() {
    let medians = lives("ground", ground());
    assert!(
        (8.2..8.8).contains(&medians[mechanism::STACK_WEAR]),
        "{medians:?}"
    );
    // Preload of 50 of 90 N.m and 0.40 mm of stack are each common practice's limit for the same worn pack.
    let ratio = medians[mechanism::PRELOAD] / medians[mechanism::STACK_WEAR];
    assert!((0.8..1.3).contains(&ratio), "{ratio}");
    // The oil is changed every 3 events by common practice: chatter comes later than that and before the pack is worn.
    assert!(
        (3.0..9.0).contains(&medians[mechanism::CHATTER]),
        "{medians:?}"
    );
}

/// Treated by surface numbers: wear goes down, and 12 to 14 events are common practice (no source) for treated plates.
#[test]
fn lives_of_treated_packs() {
    let plain = lives("ground", ground());
    for (name, specimen) in [
        ("peened steels", peened()),
        ("superfinished steels", superfinished()),
        ("sprayed linings", sprayed()),
    ] {
        let treated = lives(name, specimen);
        for index in [mechanism::STACK_WEAR, mechanism::PRELOAD] {
            assert!(treated[index] > 1.1 * plain[index], "{name}");
        }
    }
}

/// Without modifier the pack chatters from new; twice as much of it lasts longer and locks less.
#[test]
fn modifier_puts_chatter_off() {
    let with = |share: f64| {
        prepared(with_all::<LimitedSlip>(
            &ground(),
            &[("modifier_share", share)],
        ))
    };
    let lives = |share: f64| {
        medians(&with(share).forecast(&with(share).begin(), &event()))[mechanism::CHATTER]
    };
    let energy = |share: f64| with(share).after(&event())[slot::ENERGY];
    println!(
        "chatter after events with 2, 4, 6, 8 %: {:.1?}",
        [0.02, 0.04, 0.06, 0.08].map(lives)
    );
    assert_eq!(lives(0.0), 0.0);
    assert!(lives(0.08) > lives(0.04));
    assert!(energy(0.08) < energy(0.04) && energy(0.04) < energy(0.0));
}

/// Changing the oil puts the chatter off and nothing else: events on one filling against a change every third.
#[test]
fn changes_of_oil_keep_the_pack_quiet() {
    let pack = prepared(ground());
    let mut kept = pack.begin();
    for _ in 0..3 {
        kept = pack.rework(&pack.repeated(&kept, &event(), 3), "change_oil");
    }
    let last = pack.repeated(&kept, &event(), 3);
    let left = pack.repeated(&pack.begin(), &event(), 12);
    let index = |row: &[f64]| pack.forecast(row, &event()).readings[reading::CHATTER].median[0];
    println!(
        "chatter index after 12 events: {:.2} on one filling, {:.2} with changes",
        index(&left),
        index(&last)
    );
    assert!(index(&left) > 1.0 && index(&last) < 1.0);
}

/// Hotter oil and dirt shorten the pack's life; a ramp that locks more and more faces lock, heat and wear more. A wheel that spins at full torque for a minute
/// ruins it.
#[test]
fn levers() {
    let pack = prepared(ground());
    let worn = |duty: &ringland_plugin::Duty| pack.after(duty)[slot::STACK_WEAR];
    let with = |channel: &str, value: f64| {
        Record::edit::<LimitedSlip>(&event())
            .channel(channel, value)
            .duty()
    };
    let usual = worn(&event());
    let oil = [358.15, 398.15].map(|oil_k| worn(&with("axle_oil_temp_k", oil_k)) / usual);
    let dirt = worn(&with("contamination_factor", 2.0)) / usual;
    println!("wear of an event: oil 85, 125 degC x {oil:.2?}, dirt of 2 x {dirt:.2}");
    assert!(oil[0] < 0.75 && oil[1] > 1.3 && dirt > 1.8);
    for (name, value) in [
        ("drive_ramp_rad", 35.0 * DEGREE),
        ("drive_ramp_rad", 60.0 * DEGREE),
        ("faces", 12.0),
    ] {
        let other = prepared(with_all::<LimitedSlip>(&ground(), &[(name, value)]));
        let once = other.after(&event());
        println!(
            "{name} {value}: {:.2} MJ, {:.1} um",
            once[slot::ENERGY] / 1e6,
            once[slot::STACK_WEAR] * 1e6
        );
    }
    for slip_rad_s in [10.0, 20.0, 40.0, 60.0] {
        let forecast = pack.forecast(&pack.begin(), &at(1.0, 400.0, slip_rad_s));
        let scored = pack.after(&at(1.0, 400.0, slip_rad_s));
        let notes: Vec<&str> = forecast
            .notes
            .iter()
            .map(|note| note.value.as_str())
            .collect();
        println!(
            "a minute of {slip_rad_s} rad/s at full torque: scoring {:.1} um, stack {:.0} um, warp strain {:.1e}, notes {notes:?}",
            scored[slot::SCORING] * 1e6,
            scored[slot::STACK_WEAR] * 1e6,
            scored[slot::BAND_STRAIN]
        );
    }
}
