//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model, Table};
use ringland_plugin_crankshaft::Crankshaft;
use ringland_plugin_crankshaft::card::{NEW_DAMPER, REGRIND, mechanism, reading, slot};
use ringland_plugin_crankshaft::spec::Spec;
use ringland_plugin_crankshaft::strength::Strength;

use crate::scenario::{
    duty, event, nitrided, peened, plain, quantile, request, rolled, set, untreated,
};

const WEAR: usize = slot::NOSE + 1;
const AGE: usize = slot::NOSE + 2;
const GROUND: usize = slot::NOSE + 3;
const RUNOUT: usize = slot::NOSE + 4;

fn any_duty() -> impl Strategy<Value = Duty> {
    let point = (800.0..8600.0_f64, -60.0..440.0_f64, 0.05..30.0_f64);
    let shock = (0.1..3.0_f64, 860.0..1100.0_f64, -40.0..200.0_f64);
    (
        prop::collection::vec(point, 1..6),
        prop::collection::vec(shock, 0..3),
        350.0..420.0_f64,
    )
        .prop_map(|(points, shocks, oil_k)| {
            let mut duty = duty(&points);
            duty.points[2] = vec![oil_k; points.len()];
            duty.shocks[0].columns = vec![
                shocks.iter().map(|s| s.0).collect(),
                shocks.iter().map(|s| s.1).collect(),
                shocks.iter().map(|s| s.2).collect(),
            ];
            duty
        })
}

fn close(a: &[f64], b: &[f64]) -> bool {
    a.iter()
        .zip(b)
        .all(|(a, b)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) + 1e-30)
}

fn scaled(duty: &Duty, share: f64) -> Duty {
    let mut part = duty.clone();
    part.duration_s *= share;
    for time in &mut part.time_s {
        *time *= share;
    }
    for duration in &mut part.shocks[0].columns[0] {
        *duration *= share;
    }
    part
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Also while the damper ages.
    #[test]
    fn no_slot_ever_falls_and_a_cut_record_gives_the_same(duty in any_duty(), cut in 0.05..0.95_f64, age in 0.0..2.0e6_f64) {
        let model = plain();
        let mut start = model.begin();
        start[AGE] = age;
        let whole = model.advance(&start, std::slice::from_ref(&duty)).remove(0);
        prop_assert!(whole.iter().zip(&start).all(|(after, before)| after >= before));
        let parts = model.advance(&start, &[scaled(&duty, cut), scaled(&duty, 1.0 - cut)]).remove(1);
        prop_assert!(close(&whole, &parts), "{:?} {:?}", whole, parts);
    }

    #[test]
    fn order_within_a_record_does_not_matter(duty in any_duty()) {
        let model = plain();
        let mut turned = duty.clone();
        turned.time_s.reverse();
        for column in &mut turned.points {
            column.reverse();
        }
        prop_assert!(close(&model.after(&duty), &model.after(&turned)));
    }

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
        for (channel, to) in [(2, 379.0 + hotter), (3, 0.02), (4, 3.0)] {
            let mut worse = base.clone();
            worse.points[channel][0] = to;
            prop_assert!(wear(&worse) > wear(&base), "channel {}", channel);
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

    /// A worse rate shortens every life and raises every risk.
    #[test]
    fn a_higher_rate_never_lengthens_life(by in 0.01..1.5_f64) {
        let model = plain();
        let condition = model.after(&event());
        let usual = model.forecast(condition.clone(), event());
        let mut worse = request(condition, event());
        for rate in &mut worse.rates {
            rate.ln_mean = by;
        }
        let worse = model.ask(worse);
        for (usual, worse) in usual.mechanisms.iter().zip(&worse.mechanisms) {
            prop_assert!(worse.lives_events.iter().zip(&usual.lives_events).all(|(w, u)| w <= u));
            prop_assert!(worse.risk_next_event >= usual.risk_next_event);
        }
    }
}

/// An over-rev is its own load: 3 s at 9800 1/min, fired, do more to the worst fillet than 3 s at the limiter, and count in the shares.
#[test]
fn over_revs_count() {
    let model = plain();
    let mut with = event();
    let plain_row = model.after(&with);
    with.shocks[0] = Table {
        columns: vec![vec![3.0], vec![1026.0], vec![250.0]],
    };
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
    for mechanism in model.forecast(row, with).mechanisms {
        let points = mechanism.point_shares.iter();
        let sum: f64 = points.chain(&mechanism.shock_shares).sum();
        assert!((sum - 1.0).abs() < 1e-12);
        assert!(mechanism.shock_shares[0] > 0.0);
    }
}

/// Twice the time does twice the harm while the damper keeps.
#[test]
fn harm_goes_with_time() {
    let mut lasting = untreated();
    set(&mut lasting, "damper_half_life_s", 3.6e8);
    let model = plain().with(lasting);
    let (once, twice) = (model.after(&event()), model.after(&scaled(&event(), 2.0)));
    for (one, two) in once.iter().zip(&twice).filter(|(one, _)| **one > 0.0) {
        assert!((two / (2.0 * one) - 1.0).abs() < 1e-3, "{one} {two}");
    }
}

/// An old damper lets the same event do more.
#[test]
fn an_aged_damper_costs_life() {
    let model = plain();
    let mut old = model.begin();
    old[AGE] = 2.0e6;
    let row = model.advance(&old, &[event()]).remove(0);
    let new = model.after(&event());
    let worst = |row: &[f64]| row[..slot::NOSE].iter().copied().fold(0.0, f64::max);
    println!(
        "aged damper: fillet damage of the event x {:.2}",
        worst(&row) / worst(&new)
    );
    assert!(worst(&row) > 1.2 * worst(&new));
    let note = |row: Vec<f64>| {
        let notes = model.forecast(row, event()).notes;
        notes
            .iter()
            .any(|note| note.field == "damper_aged_fraction")
    };
    assert!(note(row.clone()) && !note(new));
    let renewed = rework(&row, NEW_DAMPER);
    assert_eq!(renewed[AGE], 0.0);
    assert_eq!(renewed[..slot::NOSE], row[..slot::NOSE]);
}

fn rework(row: &[f64], operation: u32) -> Vec<f64> {
    let model = plain();
    Crankshaft::rework(
        model.specimen.clone(),
        model.map.clone(),
        row.to_vec(),
        operation,
    )
    .unwrap()
}

/// Grinding takes diameter and case and leaves damage; the next event does more, far more where the case was thin.
#[test]
fn grinding_costs_strength() {
    let model = plain();
    let row = model.after(&event());
    let ground = rework(&row, REGRIND);
    assert_eq!(ground[WEAR], 0.0);
    assert!((ground[GROUND] - 0.125e-3).abs() < 1e-12);
    assert_eq!(ground[..slot::NOSE], row[..slot::NOSE]);
    let added = |model: &crate::scenario::Prepared, row: &[f64]| {
        let after = model.advance(row, &[event()]).remove(0);
        after[0] - row[0]
    };
    let bare = added(model, &ground) / added(model, &row);
    let hard = model.with(nitrided());
    let cased = added(&hard, &ground) / added(&hard, &row);
    println!("one regrind: damage of an event x {bare:.3} bare, x {cased:.2} nitrided 0.3 mm");
    assert!(bare > 1.0 && cased > 1.5 * bare);
    let readings = hard.forecast(ground.clone(), event()).readings;
    assert!((readings[reading::CASE_LEFT].median[0] - 0.175e-3).abs() < 1e-12);
    assert!((readings[reading::PIN_DIAMETER].median[0] - 0.04775).abs() < 1e-12);
    let mut last = ground;
    let refused = loop {
        let again = Crankshaft::rework(model.specimen.clone(), model.map.clone(), last, REGRIND);
        match again {
            Ok(next) => last = next,
            Err(findings) => break findings,
        }
    };
    assert_eq!(refused[0].field, "condition.ground_depth_m");
    let unknown = Crankshaft::rework(model.specimen.clone(), model.map.clone(), row, 7);
    assert!(unknown.is_err());
}

#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let mut worn = model.begin();
    (worn[2], worn[WEAR]) = (1.0, 1.0e-5);
    let forecast = model.forecast(worn.clone(), event());
    // What spread there is lies on both sides of the limit: half the cranks are past it.
    for index in [mechanism::FILLET, mechanism::JOURNAL] {
        let lives = &forecast.mechanisms[index].lives_events;
        let past = lives.iter().filter(|life| **life <= 0.0).count();
        assert!((250..=262).contains(&past), "{past}");
    }
    assert!(
        forecast
            .notes
            .iter()
            .any(|note| note.field == "fillet_fatigue")
    );
    let mut specimen = untreated();
    for name in ["strength_ln_sd", "torsion_ln_sd"] {
        set(&mut specimen, name, 0.0);
    }
    let mut certain = request(worn, event());
    for rate in &mut certain.rates {
        rate.ln_sd = 0.0;
    }
    let forecast = model.with(specimen).ask(certain);
    let fillet = &forecast.mechanisms[mechanism::FILLET];
    assert!(fillet.lives_events.iter().all(|life| *life <= 0.0));
    assert!((fillet.risk_next_event - 1.0).abs() < 1e-12);
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let model = plain();
    let nothing = duty(&[(0.0, 0.0, 60.0)]);
    let condition = model.after(&event());
    assert_eq!(
        model.advance(&condition, std::slice::from_ref(&nothing))[0],
        condition
    );
    for mechanism in &model.forecast(condition, nothing).mechanisms {
        assert!(mechanism.point_shares.iter().all(|share| *share == 0.0));
        assert!(mechanism.lives_events.iter().all(|life| *life == 5000.0));
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    let model = plain();
    let again = Crankshaft::prepare(model.specimen.clone()).unwrap();
    let pairs = again.iter().zip(&model.map);
    assert!(pairs.into_iter().all(|(a, b)| a.to_bits() == b.to_bits()));
    let forecast = || model.forecast(model.after(&event()), event());
    assert_eq!(forecast(), forecast());
}

/// The risk of the next event follows from the distribution; it agrees with what the drawn lives say, from new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let model = plain();
    for damage in [0.0, 0.2, 0.6, 1.0, 2.0] {
        let mut condition = model.begin();
        condition[..=slot::NOSE].fill(damage);
        condition[WEAR] = 1.0e-5 * damage;
        let mut many = request(condition, event());
        many.samples = 4096;
        for mechanism in &model.ask(many).mechanisms {
            let lives = &mechanism.lives_events;
            let ended = lives.iter().filter(|life| **life <= 1.0).count() as f64;
            let share = ended / lives.len() as f64;
            let risk = mechanism.risk_next_event;
            assert!((share - risk).abs() < 0.01, "{share} {risk}");
        }
    }
}

#[test]
fn quantiles_are_ordered_and_a_bent_crank_is_told() {
    let model = plain();
    let mut condition = model.begin();
    condition[RUNOUT] = 8.0e-5;
    let forecast = model.forecast(condition, event());
    for path in &forecast.readings {
        let rows = path.low.iter().zip(&path.median).zip(&path.high);
        assert_eq!(rows.clone().count(), 4);
        assert!(
            rows.into_iter()
                .all(|((low, median), high)| low <= median && median <= high)
        );
    }
    assert!(forecast.notes.iter().any(|note| note.field == "runout_m"));
    let runout = &forecast.readings[reading::RUNOUT];
    assert!(runout.median[0] > runout.limit.unwrap());
}

/// Where a crack starts: at the surface of a bare fillet, below the case of a nitrided one; a compressed layer holds cracks that a bare fillet lets grow.
#[test]
fn treatment_moves_the_start_of_the_crack() {
    let model = plain();
    let of = |specimen, index: usize| {
        let model = model.with(specimen);
        let readings = model.forecast(model.begin(), event()).readings;
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
        let mut request = request(model.begin(), event());
        request.horizon_events = 1e7;
        let lives = &model.ask(request).mechanisms[0].lives_events;
        quantile(lives, 0.9) / quantile(lives, 0.1)
    };
    let mut unsure = nitrided();
    unsure.surfaces[0].ln_sd[2] = 0.3;
    assert!(spread(unsure) > 1.1 * spread(nitrided()));
}
