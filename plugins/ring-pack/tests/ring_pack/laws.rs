//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model, Table};
use ringland_plugin_ring_pack::RingPack;

use crate::scenario::{Prepared, duty, event, plain, request, smooth, untreated};

fn any_duty() -> impl Strategy<Value = Duty> {
    let point = (800.0..8600.0_f64, -60.0..440.0_f64, 0.05..30.0_f64);
    (
        prop::collection::vec(point, 1..6),
        350.0..420.0_f64,
        340.0..390.0_f64,
        0.0..0.06_f64,
    )
        .prop_map(|(points, oil_k, coolant_k, fuel)| {
            let mut duty = duty(&points);
            let n = points.len();
            (duty.points[2], duty.points[3], duty.points[4]) =
                (vec![oil_k; n], vec![coolant_k; n], vec![fuel; n]);
            duty
        })
}

/// Relative to the larger, or to a nanometre of wear.
fn close(a: &[f64], b: &[f64]) -> bool {
    a.iter()
        .zip(b)
        .all(|(a, b)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) + 1e-18)
}

fn scaled(duty: &Duty, share: f64) -> Duty {
    let mut part = duty.clone();
    part.duration_s *= share;
    for time in &mut part.time_s {
        *time *= share;
    }
    for column in part
        .shocks
        .iter_mut()
        .filter_map(|shock| shock.columns.first_mut())
    {
        for duration in column {
            *duration *= share;
        }
    }
    part
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_slot_ever_falls_and_a_cut_record_gives_the_same(duty in any_duty(), cut in 0.05..0.95_f64, worn in 0.0..3.0e-5_f64) {
        let model = plain();
        let mut start = model.begin();
        start[0] = worn;
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

    /// More load or thinner (hotter, diluted) oil never wears less, on the map.
    #[test]
    fn load_heat_and_fuel_never_spare_the_top_face(
        rpm in 3000.0..8000.0_f64, torque in 30.0..380.0_f64, more in 5.0..60.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = plain();
        let seated = [0.0, 0.0, 0.0, 0.0, 100.0, 0.0];
        let wear = |duty: &Duty| model.advance(&seated, std::slice::from_ref(duty)).remove(0)[0];
        let base = duty(&[(rpm, torque, 10.0)]);
        let mut hot = base.clone();
        hot.points[3][0] += hotter;
        hot.points[2][0] += hotter;
        let mut diluted = base.clone();
        diluted.points[4][0] += 0.02;
        let mut dusty = base.clone();
        dusty.points[5][0] = 3.0;
        let least = wear(&base);
        prop_assert!(wear(&duty(&[(rpm, torque + more, 10.0)])) > least);
        prop_assert!(wear(&hot) > least);
        prop_assert!(wear(&diluted) > least);
        prop_assert!(wear(&dusty) > 2.9 * least);
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
        let worse = RingPack::forecast(model.specimen.clone(), model.map.clone(), worse).unwrap();
        for (usual, worse) in usual.mechanisms.iter().zip(&worse.mechanisms) {
            prop_assert!(worse.lives_events.iter().zip(&usual.lives_events).all(|(w, u)| w <= u));
            prop_assert!(worse.risk_next_event >= usual.risk_next_event);
        }
    }
}

/// Rougher plateaus wear faster, smoother ones slower.
#[test]
fn roughness_never_lengthens_life() {
    let mut rough = untreated();
    rough.surfaces[3].values[0] *= 1.2;
    let rough = Prepared::new(rough);
    let wear = |model: &Prepared| model.after(&event())[0];
    assert!(wear(&rough) > 1.05 * wear(plain()));
    assert!(wear(smooth()) < wear(plain()));
}

#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let mut worn = model.after(&event());
    // 0.10 mm of gap growth between face and bore.
    let total = (1.0e-4 + 1e-16) / std::f64::consts::TAU;
    (worn[0], worn[3]) = (0.6 * total, total - 0.6 * total);
    let mut certain = request(worn, event());
    for rate in &mut certain.rates {
        rate.ln_sd = 0.0;
    }
    certain.samples = 64;
    let forecast = RingPack::forecast(model.specimen.clone(), model.map.clone(), certain).unwrap();
    // What is left of the spread is that between cylinders: half the packs are past it, half are not.
    let lives = &forecast.mechanisms[0].lives_events;
    let past = lives.iter().filter(|life| **life <= 0.0).count();
    assert!((31..=33).contains(&past), "{past}");
    assert!((forecast.readings[0].median[0] - forecast.readings[0].limit.unwrap()).abs() < 1e-12);
    assert!(forecast.notes.iter().any(|note| note.field == "end_gap"));
}

#[test]
fn shares_add_up_and_over_revs_count() {
    let model = plain();
    let mut event = event();
    let plain_wear = model.after(&event)[0];
    event.shocks[0] = Table {
        columns: vec![vec![3.0, 2.0], vec![960.0, 1000.0], vec![100.0, 200.0]],
    };
    let condition = model.after(&event);
    assert!(condition[0] > plain_wear);
    for mechanism in model.forecast(condition, event).mechanisms {
        let sum: f64 = mechanism
            .point_shares
            .iter()
            .chain(&mechanism.shock_shares)
            .sum();
        assert!((sum - 1.0).abs() < 1e-12);
        assert!(mechanism.shock_shares[0] > 0.0);
    }
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
    let forecast = model.forecast(condition, nothing);
    for mechanism in &forecast.mechanisms {
        let past = mechanism
            .lives_events
            .iter()
            .filter(|life| **life <= 0.0)
            .count();
        assert!((mechanism.risk_next_event - past as f64 / 512.0).abs() < 2.0 / 512.0);
        assert!(mechanism.point_shares.iter().all(|share| *share == 0.0));
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    let model = plain();
    let again = RingPack::prepare(model.specimen.clone()).unwrap();
    assert!(
        again
            .iter()
            .zip(&model.map)
            .all(|(a, b)| a.to_bits() == b.to_bits())
    );
    let forecast = || model.forecast(model.after(&event()), event());
    assert_eq!(forecast(), forecast());
}

/// The risk of the next event follows from the distribution; it agrees with what the drawn lives say, from new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let model = plain();
    let mut condition = model.begin();
    for _ in 0..9 {
        let mut many = request(condition.clone(), event());
        many.samples = 4096;
        let forecast = RingPack::forecast(model.specimen.clone(), model.map.clone(), many).unwrap();
        for mechanism in &forecast.mechanisms {
            let lives = &mechanism.lives_events;
            let ended = lives.iter().filter(|life| **life <= 1.0).count() as f64;
            let share = ended / lives.len() as f64;
            let risk = mechanism.risk_next_event;
            assert!((share - risk).abs() < 0.01, "{share} {risk}");
        }
        condition = model.advance(&condition, &[event()]).remove(0);
    }
}

#[test]
fn rehoning_starts_bore_and_seating_anew() {
    let model = plain();
    let used = model.after(&event());
    let honed =
        RingPack::rework(model.specimen.clone(), model.map.clone(), used.clone(), 0).unwrap();
    assert_eq!((honed[3], honed[4]), (0.0, 0.0));
    assert_eq!((honed[0], honed[5]), (used[0], used[5]));
    assert!(RingPack::rework(model.specimen.clone(), model.map.clone(), used, 7).is_err());
}

/// The contract: every slot stays within its range.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let model = plain();
    let mut long = event();
    for time in &mut long.time_s {
        *time *= 1e5;
    }
    let condition = model.after(&long);
    for (slot, value) in RingPack::card().condition.iter().zip(&condition) {
        assert!(
            (slot.minimum..=slot.maximum).contains(value),
            "{} {value}",
            slot.name
        );
    }
}

/// The contract: quantiles are ordered, also while a half-seated pack both leaks less and grows its gaps.
#[test]
fn quantiles_are_ordered() {
    let model = plain();
    let mut condition = model.begin();
    for seating in [0.0, 0.5, 2.0, 50.0] {
        (condition[0], condition[4]) = (2.0e-6, seating);
        let forecast = model.forecast(condition.clone(), event());
        for path in &forecast.readings {
            let rows = path.low.iter().zip(&path.median).zip(&path.high);
            assert!(rows.clone().count() == 4);
            assert!(
                rows.into_iter()
                    .all(|((low, median), high)| low <= median && median <= high)
            );
        }
    }
}
