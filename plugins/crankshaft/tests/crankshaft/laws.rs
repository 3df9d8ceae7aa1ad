//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_crankshaft::Crankshaft;
use ringland_plugin_crankshaft::card::{reading, slot};
use ringland_plugin_crankshaft::spec::Spec;
use ringland_plugin_crankshaft::strength::Strength;
use ringland_trials::{Record, engine, fields, laws, quantile, scaled, with, with_all};

use crate::scenario::{Prepared, duty, event, nitrided, peened, plain, rolled, untreated};

const WEAR: usize = slot::NOSE + 1;
const AGE: usize = slot::NOSE + 2;
const GROUND: usize = slot::NOSE + 3;
const RUNOUT: usize = slot::NOSE + 4;

fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<Crankshaft>()
        .channel("oil_temp_k", 350.0..420.0)
        .shock("over_rev", &[0.1..3.0, 860.0..1100.0, -40.0..200.0], 2)
        .strategy()
}

/// Also while the damper ages.
#[test]
fn no_slot_ever_falls_and_a_cut_record_gives_the_same() {
    let starts = plain().any_used(&[("damper_age_s", 0.0..2.0e6)]);
    laws::slots_follow_their_trends(plain(), &starts, &any_duty());
    laws::cut_records_add_up(plain(), &starts, &any_duty(), 1e-9);
}

#[test]
fn order_within_a_record_does_not_matter() {
    let new = plain().any_used(&[]);
    laws::order_within_a_record_does_not_matter(plain(), &new, &any_duty(), 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More load never spares the crank at 2500 to 8000 1/min from 150 N·m on; hot, diluted or dirty oil never spares the pins. (At light
    /// load and high speed gas takes load off the inertia at firing top dead centre, and critical speeds come and go with speed: no law there.)
    #[test]
    fn load_heat_and_dirt_never_spare_the_crank(
        rpm in 2500.0..8000.0_f64, torque in 150.0..380.0_f64, more in 10.0..60.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = plain();
        let worst = |duty: &Duty| {
            let row = model.after(duty);
            row[..slot::NOSE].iter().copied().fold(0.0, f64::max)
        };
        let wear = |duty: &Duty| model.after(duty)[WEAR];
        let base = duty(&[(rpm, torque, 10.0)]);
        prop_assert!(worst(&duty(&[(rpm, torque + more, 10.0)])) > worst(&base));
        let worse = [
            ("oil_temp_k", 379.0 + hotter),
            ("fuel_dilution_fraction", 0.02),
            ("contamination_factor", 3.0),
        ];
        for (channel, to) in worse {
            let worse = Record::edit::<Crankshaft>(&base).channel(channel, to).duty();
            prop_assert!(wear(&worse) > wear(&base), "{channel}");
        }
    }

    /// A rougher, softer or less compressed fillet never bears more.
    #[test]
    fn a_worse_surface_never_bears_more(amplitude in 5.0e7..6.0e8_f64, mean in -2.0e8..2.0e8_f64, worse in 1.05..4.0_f64) {
        let strength = |specimen: &ringland_plugin::Specimen| {
            let spec = Spec::read(specimen).unwrap();
            Strength::new(&spec, 2.0e-3, 3.3, true, 0.0).utilisation(amplitude, mean)
        };
        let good = nitrided();
        let least = strength(&good) * (1.0 - 1e-12);
        let mut rough = good.clone();
        rough.surfaces[0].values[1] *= worse;
        prop_assert!(strength(&rough) >= least);
        let mut soft = good.clone();
        soft.surfaces[0].values[0] /= worse.min(2.0);
        prop_assert!(strength(&soft) >= least);
        let mut tense = good.clone();
        for stress in &mut tense.surfaces[0].residual_stress_pa {
            *stress += 1.0e8 * (worse - 1.0);
        }
        prop_assert!(strength(&tense) >= least);
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

/// An over-rev is its own load: 3 s at 9800 1/min, fired, do more to the worst fillet than 3 s at the limiter, and count in the shares.
#[test]
fn over_revs_count() {
    let model = plain();
    let plain_row = model.after(&event());
    let with = Record::edit::<Crankshaft>(&event());
    let with = with.shock("over_rev", &[3.0, 1026.0, 250.0]).duty();
    let row = model.after(&with);
    let limiter = model.after(&duty(&[(8400.0, 300.0, 3.0 / 60.0)]));
    let more = |row: &[f64], before: &[f64]| {
        let fillets = row.iter().zip(before).take(slot::NOSE);
        fillets.map(|(a, b)| a - b).fold(0.0, f64::max)
    };
    let over_rev = more(&row, &plain_row);
    let at_limiter = more(&limiter, &model.begin());
    println!(
        "3 s at 9800 1/min do {:.1} times what 3 s at 8400 do",
        over_rev / at_limiter
    );
    assert!(over_rev > 2.0 * at_limiter);
    let forecast = laws::sound_forecast(model, &row, &with);
    let mechanisms = &forecast.mechanisms;
    assert!(mechanisms.iter().all(|m| m.shock_shares[0] > 0.0));
}

/// Twice the time does twice the harm while the damper keeps.
#[test]
fn harm_goes_with_time() {
    let lasting = with::<Crankshaft>(&untreated(), "damper_half_life_s", 3.6e8);
    let model = plain().with(lasting);
    let twice = scaled::<Crankshaft>(&event(), 2.0);
    let (once, twice) = (model.after(&event()), model.after(&twice));
    for (one, two) in once.iter().zip(&twice).filter(|(one, _)| **one > 0.0) {
        assert!((two / (2.0 * one) - 1.0).abs() < 1e-3, "{one} {two}");
    }
}

/// An old damper lets the same event do more.
#[test]
fn an_aged_damper_costs_life() {
    let model = plain();
    let old = model.begin_with(&[("damper_age_s", 2.0e6)]);
    let row = model.then(&old, &event());
    let new = model.after(&event());
    let worst = |row: &[f64]| row[..slot::NOSE].iter().copied().fold(0.0, f64::max);
    println!(
        "aged damper: fillet damage of the event x {:.2}",
        worst(&row) / worst(&new)
    );
    assert!(worst(&row) > 1.2 * worst(&new));
    let told = |row: &[f64]| {
        let notes = model.forecast(row, &event()).notes;
        fields(&notes).contains(&"damper_aged_fraction")
    };
    assert!(told(&row) && !told(&new));
    let renewed = model.rework(&row, "new_damper");
    assert_eq!(renewed[AGE], 0.0);
    assert_eq!(renewed[..slot::NOSE], row[..slot::NOSE]);
}

/// Grinding takes diameter and case and leaves damage; the next event does more, far more where the case was thin.
#[test]
fn grinding_costs_strength() {
    let model = plain();
    let row = model.after(&event());
    let ground = model.rework(&row, "regrind");
    assert_eq!(ground[WEAR], 0.0);
    assert!((ground[GROUND] - 0.125e-3).abs() < 1e-12);
    assert_eq!(ground[..slot::NOSE], row[..slot::NOSE]);
    let added = |model: &Prepared, row: &[f64]| {
        let after = model.then(row, &event());
        after[0] - row[0]
    };
    let bare = added(model, &ground) / added(model, &row);
    let hard = model.with(nitrided());
    let cased = added(&hard, &ground) / added(&hard, &row);
    println!("one regrind: damage of an event x {bare:.3} bare, x {cased:.2} nitrided 0.3 mm");
    assert!(bare > 1.0 && cased > 1.5 * bare);
    let readings = hard.forecast(&ground, &event()).readings;
    assert!((readings[reading::CASE_LEFT].median[0] - 0.175e-3).abs() < 1e-12);
    assert!((readings[reading::PIN_DIAMETER].median[0] - 0.04775).abs() < 1e-12);
    let mut last = ground;
    let refused = loop {
        match model.try_rework(&last, "regrind") {
            Ok(next) => last = next,
            Err(findings) => break findings,
        }
    };
    assert_eq!(refused[0].field, "condition.ground_depth_m");
}

/// What spread there is lies on both sides of the limit: half the cranks are past it; without any, all are.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let mut worn = plain().begin();
    (worn[2], worn[WEAR]) = (1.0, 1.0e-5);
    for mechanism in ["fillet_fatigue", "journal_wear"] {
        laws::limit_reached_leaves_no_life(plain(), mechanism, &worn, &event(), 0.488..=0.512);
    }
    let certain = [("strength_ln_sd", 0.0), ("torsion_ln_sd", 0.0)];
    let certain = plain().with(with_all::<Crankshaft>(&untreated(), &certain));
    laws::limit_reached_leaves_no_life(&certain, "fillet_fatigue", &worn, &event(), 1.0..=1.0);
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let nothing = engine::standstill::<Crankshaft>();
    laws::nothing_adds_nothing(plain(), &plain().after(&event()), &nothing);
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(plain(), &event());
}

/// From new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let used = |damage: f64| {
        let mut condition = plain().begin();
        condition[..=slot::NOSE].fill(damage);
        condition[WEAR] = 1.0e-5 * damage;
        condition
    };
    let conditions = [0.0, 0.2, 0.6, 1.0, 2.0].map(used);
    laws::risk_agrees_with_lives(plain(), &conditions, &event(), 0.01);
}

#[test]
fn quantiles_are_ordered_and_a_bent_crank_is_told() {
    let mut condition = plain().begin();
    condition[RUNOUT] = 8.0e-5;
    let forecast = laws::sound_forecast(plain(), &condition, &event());
    assert!(fields(&forecast.notes).contains(&"runout_m"));
    let runout = &forecast.readings[reading::RUNOUT];
    assert!(runout.median[0] > runout.limit.unwrap());
}

/// Where a crack starts: at the surface of a bare fillet, below the case of a nitrided one; a compressed layer holds cracks that a bare fillet lets grow.
#[test]
fn treatment_moves_the_start_of_the_crack() {
    let model = plain();
    let of = |specimen, index: usize| {
        let model = model.with(specimen);
        let readings = model.forecast(&model.begin(), &event()).readings;
        readings[index].median[0]
    };
    assert!(of(untreated(), reading::START_DEPTH) <= 0.0);
    assert!(of(nitrided(), reading::START_DEPTH) > 0.2e-3);
    let bare = of(untreated(), reading::GROWING_CRACK);
    println!(
        "a crack grows from {:.0} um bare, {:.0} um nitrided, {:.0} um peened, {:.0} um rolled",
        1e6 * bare,
        1e6 * of(nitrided(), reading::GROWING_CRACK),
        1e6 * of(peened(), reading::GROWING_CRACK),
        1e6 * of(rolled(), reading::GROWING_CRACK)
    );
    assert!(of(rolled(), reading::GROWING_CRACK) > of(peened(), reading::GROWING_CRACK));
    assert!(of(peened(), reading::GROWING_CRACK) > bare);
}

/// What is not known of a surface widens the spread of life where it counts.
#[test]
fn an_unknown_case_widens_the_spread() {
    let model = plain();
    let spread = |specimen| {
        let model = model.with(specimen);
        let model = model.within(1e7);
        let lives = &model.forecast(&model.begin(), &event()).mechanisms[0].lives_events;
        quantile(lives, 0.9) / quantile(lives, 0.1)
    };
    let mut unsure = nitrided();
    unsure.surfaces[0].ln_sd[2] = 0.3;
    assert!(spread(unsure) > 1.1 * spread(nitrided()));
}
