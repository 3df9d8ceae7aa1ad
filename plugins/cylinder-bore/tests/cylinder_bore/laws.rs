//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model, Table};
use ringland_plugin_cylinder_bore::CylinderBore;
use ringland_plugin_cylinder_bore::card::{mechanism, reading};

use crate::scenario::{Prepared, duty, event, plain, request, smooth, untreated};

fn any_duty() -> impl Strategy<Value = Duty> {
    let point = (800.0..8600.0_f64, -60.0..440.0_f64, 0.05..30.0_f64);
    (
        prop::collection::vec(point, 1..6),
        350.0..420.0_f64,
        340.0..390.0_f64,
        0.0..3.0e-5_f64,
    )
        .prop_map(|(points, oil_k, coolant_k, face_wear_m)| {
            let mut duty = duty(&points);
            let n = points.len();
            (duty.points[2], duty.points[3]) = (vec![oil_k; n], vec![coolant_k; n]);
            duty.mates = vec![face_wear_m];
            duty
        })
}

fn close(a: &[f64], b: &[f64]) -> bool {
    let near = |(a, b): (&f64, &f64)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) + 1e-18;
    a.iter().zip(b).all(near)
}

fn scaled(duty: &Duty, share: f64) -> Duty {
    let mut part = duty.clone();
    part.duration_s *= share;
    for time in &mut part.time_s {
        *time *= share;
    }
    part
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_slot_ever_falls_and_a_cut_record_gives_the_same(duty in any_duty(), cut in 0.05..0.95_f64) {
        let model = plain();
        let start = model.begin();
        let whole = model.after(&duty);
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

    /// More load or thinner (hotter) oil never wears less at reversal, on the map; dust multiplies.
    #[test]
    fn load_heat_and_dust_never_spare_the_bore(
        rpm in 3000.0..8000.0_f64, torque in 30.0..380.0_f64, more in 5.0..60.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = plain();
        let mut seated = model.begin();
        seated[5] = 100.0;
        let wear = |duty: &Duty| model.advance(&seated, std::slice::from_ref(duty)).remove(0)[0];
        let base = duty(&[(rpm, torque, 10.0)]);
        let mut hot = base.clone();
        hot.points[3][0] += hotter;
        hot.points[2][0] += hotter;
        let mut dusty = base.clone();
        dusty.points[5][0] = 3.0;
        let least = wear(&base);
        prop_assert!(wear(&duty(&[(rpm, torque + more, 10.0)])) > least);
        prop_assert!(wear(&hot) > least);
        prop_assert!((wear(&dusty) / least - 3.0).abs() < 1e-9);
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
        let worse = model.asked(worse);
        for (usual, worse) in usual.mechanisms.iter().zip(&worse.mechanisms) {
            prop_assert!(worse.lives_events.iter().zip(&usual.lives_events).all(|(w, u)| w <= u));
            prop_assert!(worse.risk_next_event >= usual.risk_next_event);
        }
    }
}

#[test]
fn roughness_never_lengthens_life() {
    let mut rough = untreated();
    rough.surfaces[3].values[0] *= 1.2;
    let rough = Prepared::new(rough);
    let wear = |model: &Prepared| model.after(&event())[0];
    assert!(wear(&rough) > 1.05 * wear(plain()));
    assert!(wear(smooth()) < wear(plain()));
}

/// Seated, under the same rings, wear goes with time: twice the record, twice the wear.
#[test]
fn seated_wear_is_in_proportion_to_time() {
    let model = plain();
    let mut seated = model.begin();
    seated[5] = 100.0;
    let once = model.advance(&seated, &[event()]).remove(0);
    let twice = model.advance(&seated, &[scaled(&event(), 2.0)]).remove(0);
    for height in 0..5 {
        assert!((twice[height] / once[height] - 2.0).abs() < 1e-9);
    }
}

/// At the limit of taper nothing is left for half of the bores; the spread between cylinders stays.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let mut worn = model.after(&event());
    worn[1..5].fill(0.0);
    worn[0] = 1.25e-5 * (1.0 + 1e-12);
    let mut certain = request(worn, event());
    for rate in &mut certain.rates {
        rate.ln_sd = 0.0;
    }
    certain.samples = 64;
    let forecast = model.asked(certain);
    let lives = &forecast.mechanisms[mechanism::TAPER].lives_events;
    let past = lives.iter().filter(|life| **life <= 0.0).count();
    assert!((31..=33).contains(&past), "{past}");
    let taper = &forecast.readings[reading::TAPER];
    assert!((taper.median[0] - taper.limit.unwrap()).abs() < 1e-12);
    assert!(forecast.notes.iter().any(|note| note.field == "taper"));
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
        let points: f64 = mechanism.point_shares.iter().sum();
        assert!((points + mechanism.shock_shares[0] - 1.0).abs() < 1e-12);
        assert!(mechanism.shock_shares[0] > 0.0);
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let model = plain();
    let nothing = duty(&[(0.0, 0.0, 60.0)]);
    let condition = model.after(&event());
    let after = model.advance(&condition, std::slice::from_ref(&nothing));
    assert_eq!(after[0], condition);
    for mechanism in &model.forecast(condition, nothing).mechanisms {
        assert!(mechanism.point_shares.iter().all(|share| *share == 0.0));
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    let model = plain();
    let again = CylinderBore::prepare(model.specimen.clone()).unwrap();
    let same = again
        .iter()
        .zip(&model.map)
        .all(|(a, b)| a.to_bits() == b.to_bits());
    assert!(same);
    let forecast = || model.forecast(model.after(&event()), event());
    assert_eq!(forecast(), forecast());
}

/// The risk of the next event follows from the distribution; it agrees with what the drawn lives say, from new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let model = plain();
    let mut condition = model.begin();
    for _ in 0..8 {
        let mut many = request(condition.clone(), event());
        many.samples = 4096;
        for mechanism in &model.asked(many).mechanisms {
            let lives = &mechanism.lives_events;
            let ended = lives.iter().filter(|life| **life <= 1.0).count() as f64;
            let share = ended / lives.len() as f64;
            let risk = mechanism.risk_next_event;
            assert!((share - risk).abs() < 0.01, "{share} {risk}");
        }
        condition = model.advance(&condition, &vec![event(); 2]).remove(1);
    }
}

/// Fresh hone: wear, seating and glazing start again, the bore is round, the casting keeps its hours and what it has left to shift, and the
/// metal taken off is counted.
#[test]
fn rehoning_keeps_the_casting_and_counts_the_metal() {
    let model = plain();
    let used = model.advance(&model.begin(), &vec![event(); 3]).remove(2);
    let honed = model.rehone(&used);
    assert!(honed[..6].iter().all(|value| *value == 0.0));
    assert_eq!((honed[6], honed[7], honed[8]), (used[6], used[6], 0.0));
    let before = model.forecast(used.clone(), event());
    let after = model.forecast(honed.clone(), event());
    let round = |forecast: &ringland_plugin::LifeForecast, ahead: usize| {
        forecast.readings[reading::ROUNDNESS_BOTTOM].median[ahead]
    };
    assert!(round(&after, 0).abs() < 1e-15);
    let still = |forecast: &_, ahead| round(forecast, ahead) - round(forecast, 0);
    assert!((still(&after, 3) / still(&before, 3) - 1.0).abs() < 0.02);
    let cleaned_m = 2.0 * used[0] * 1.3 + round(&before, 0) + 1.0e-5;
    assert!(
        (honed[9] - cleaned_m).abs() < 1e-7,
        "{} {cleaned_m}",
        honed[9]
    );
    let again = model.rehone(&honed);
    assert!((again[9] - honed[9] - 1.0e-5).abs() < 1e-12);
}

/// Glazing counts hours at low load by what is unseated: a bore first run at idle takes on far more than one first run at full load, a
/// seated one nothing. Seating goes on at idle too, so there is no more than the time that it takes.
#[test]
fn only_an_unseated_bore_glazes() {
    let model = plain();
    let idle = duty(&[(1500.0, 10.0, 120.0)]);
    let loaded = duty(&[(7250.0, 425.0, 10.0)]);
    let started_at_idle = model.after(&idle);
    println!(
        "two hours at idle from new: glaze {:.4} h, seating {:.1}",
        started_at_idle[8], started_at_idle[5]
    );
    assert!(started_at_idle[8] > 1e-3 && started_at_idle[8] < 2.0);
    assert!(model.after(&loaded)[8] <= 0.0);
    let seated = model.after(&event());
    let later = model
        .advance(&seated, std::slice::from_ref(&idle))
        .remove(0);
    assert!((later[8] - seated[8]).abs() < 1e-9);
    let mut dull = model.begin();
    dull[8] = 0.5;
    let forecast = model.forecast(dull, event());
    assert!((forecast.readings[reading::GLAZING].median[0] - 0.1535).abs() < 1e-3);
    assert!(
        forecast
            .notes
            .iter()
            .any(|note| note.field == "glazing_fraction")
    );
}

/// A nearer horizon cuts the same lives: those of the shift are worked out, not read off a path whose points lie by the horizon.
#[test]
fn a_nearer_horizon_cuts_the_same_shift() {
    let model = plain();
    let condition = model.after(&event());
    let far = model.forecast(condition.clone(), event());
    let mut near = request(condition, event());
    near.horizon_events = 3.5;
    let near = model.asked(near);
    let pair = |forecast: &ringland_plugin::LifeForecast| {
        forecast.mechanisms[mechanism::SHIFT].lives_events.clone()
    };
    let (far, near) = (pair(&far), pair(&near));
    assert!(far.iter().any(|life| *life < 3.5));
    let cut = far.iter().zip(&near);
    assert!(
        cut.into_iter()
            .all(|(far, near)| (far.min(3.5) - near).abs() < 1e-12)
    );
}

/// The contract: quantiles are ordered.
#[test]
fn quantiles_are_ordered() {
    let model = plain();
    for events in [0, 1, 8] {
        let mut condition = model.begin();
        if events > 0 {
            condition = model
                .advance(&condition, &vec![event(); events])
                .remove(events - 1);
        }
        for path in &model.forecast(condition, event()).readings {
            let rows = path.low.iter().zip(&path.median).zip(&path.high);
            assert_eq!(rows.clone().count(), 4);
            assert!(
                rows.into_iter()
                    .all(|((low, median), high)| low <= median && median <= high)
            );
        }
    }
}
