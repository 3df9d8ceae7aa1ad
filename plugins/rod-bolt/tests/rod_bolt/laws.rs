//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model, Table};
use ringland_plugin_rod_bolt::RodBolt;
use ringland_plugin_rod_bolt::card::{mechanism, operation, reading, slot};

use crate::scenario::{
    Prepared, changed, duty, event, plain, request, stretched, torqued, with_missed_shift,
};

/// Any use, some of it with over-revs.
fn any_duty() -> impl Strategy<Value = Duty> {
    let point = (800.0..8600.0_f64, -60.0..440.0_f64, 0.05..30.0_f64);
    let over_rev = (0.05..2.0_f64, 880.0..1300.0_f64, -60.0..300.0_f64);
    (
        prop::collection::vec(point, 1..6),
        prop::collection::vec(over_rev, 0..3),
        330.0..420.0_f64,
    )
        .prop_map(|(points, over_revs, oil_k)| {
            let mut duty = duty(&points);
            duty.points[2] = vec![oil_k; points.len()];
            duty.shocks[0] = Table {
                columns: vec![
                    over_revs.iter().map(|o| o.0).collect(),
                    over_revs.iter().map(|o| o.1).collect(),
                    over_revs.iter().map(|o| o.2).collect(),
                ],
            };
            duty
        })
}

fn close(a: &[f64], b: &[f64]) -> bool {
    let rows = a.iter().zip(b);
    rows.into_iter()
        .all(|(a, b)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) + 1e-18)
}

fn scaled(duty: &Duty, share: f64) -> Duty {
    let mut part = duty.clone();
    part.duration_s *= share;
    for time in part.time_s.iter_mut().chain(&mut part.shocks[0].columns[0]) {
        *time *= share;
    }
    part
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// From bolts so loose that they break within the record to sound ones.
    #[test]
    fn nothing_heals_and_a_cut_record_gives_the_same(duty in any_duty(), cut in 0.05..0.95_f64, preload in 5.0e3..60.0e3_f64) {
        let model = plain();
        let start = model.begin_at(preload);
        let whole = model.after(&start, &duty);
        prop_assert_eq!(whole[0], start[0]);
        prop_assert!(whole[1..].iter().zip(&start[1..]).all(|(after, before)| after >= before));
        let parts = model.advance(&start, &[scaled(&duty, cut), scaled(&duty, 1.0 - cut)]).remove(1);
        prop_assert!(close(&whole, &parts), "{:?} {:?}", whole, parts);
    }

    /// Records in either order leave the same preload, stretch and count. Damage may differ, and should: a peak that loosens bolts or a first damage that
    /// makes small cycles count does more harm early than late.
    #[test]
    fn order_of_records(first in any_duty(), second in any_duty(), preload in 30.0e3..60.0e3_f64) {
        let model = plain();
        let start = model.begin_at(preload);
        let one = model.advance(&start, &[first.clone(), second.clone()]).remove(1);
        let other = model.advance(&start, &[second, first]).remove(1);
        prop_assert!(close(&one[..slot::FIRST_DAMAGE], &other[..slot::FIRST_DAMAGE]));
    }

    /// More speed never spares a bolt, nor a lower preload; hotter titanium rods on steel bolts loosen.
    #[test]
    fn speed_and_looseness_never_lengthen_life(rpm in 5000.0..8600.0_f64, more in 50.0..1500.0_f64, preload in 8.0e3..30.0e3_f64, loose in 0.7..0.98_f64) {
        let model = plain();
        let damage = |preload: f64, rpm: f64| {
            model.after(&model.begin_at(preload), &duty(&[(rpm, 300.0, 10.0)]))[slot::FIRST_DAMAGE..].to_vec()
        };
        let base = damage(preload, rpm);
        let faster = damage(preload, rpm + more);
        prop_assert!(faster.iter().zip(&base).all(|(fast, slow)| fast >= slow));
        let looser = damage(loose * preload, rpm);
        prop_assert!(looser.iter().zip(&base).all(|(loose, tight)| loose >= tight));
    }

    /// A worse rate shortens every life and raises every risk.
    #[test]
    fn a_higher_rate_never_lengthens_life(by in 0.01..1.5_f64, preload in 12.0e3..50.0e3_f64) {
        let model = plain();
        let condition = model.after(&model.begin_at(preload), &event());
        let usual = model.forecast(&condition, event());
        let mut worse = request(&condition, event());
        for rate in &mut worse.rates {
            rate.ln_mean = by;
        }
        let worse = model.ask(worse);
        for (usual, worse) in usual.mechanisms.iter().zip(&worse.mechanisms) {
            prop_assert!(worse.lives_events.iter().zip(&usual.lives_events).all(|(w, u)| w <= u));
            prop_assert!(worse.risk_next_event >= usual.risk_next_event - 1e-12);
        }
    }

    /// The risk follows from the distribution; it agrees with what the drawn lives say, for any preload, by stretch and by torque.
    #[test]
    fn the_risk_agrees_with_the_lives(preload in 8.0e3..75.0e3_f64, rpm in 8500.0..14_000.0_f64, by_torque: bool, used: bool) {
        let model = if by_torque { plain().with(torqued()) } else { plain().with(stretched()) };
        let event = with_missed_shift(rpm);
        let mut condition = model.begin_at(preload);
        if used {
            condition = model.after(&condition, &event);
        }
        let mut many = request(&condition, event);
        many.samples = 4096;
        for found in &model.ask(many).mechanisms {
            let ended = found.lives_events.iter().filter(|life| **life <= 1.0).count() as f64;
            let share = ended / 4096.0;
            let risk = found.risk_next_event;
            prop_assert!((share - risk).abs() < 0.03, "{} {} of {:?}", share, risk, found.point_shares.len());
        }
    }
}

/// Damage is in proportion to time, once there is some.
#[test]
fn twice_the_time_is_twice_the_damage() {
    let model = plain();
    let damage = |times: f64| {
        let condition = model.after(&model.begin_at(15.0e3), &scaled(&event(), times));
        condition[slot::FIRST_DAMAGE..].to_vec()
    };
    let (once, twice) = (damage(1.0), damage(2.0));
    for (once, twice) in once.iter().zip(&twice) {
        assert!((twice - 2.0 * once).abs() <= 1e-12 * twice);
    }
    assert!(once[5] > 0.0);
}

/// Shares add up to 1, or are 0 where the event adds nothing.
#[test]
fn shares_add_up() {
    let model = plain();
    for preload in [15.0e3, 52.0e3] {
        let forecast = model.forecast(&model.begin_at(preload), with_missed_shift(9500.0));
        for (index, found) in forecast.mechanisms.iter().enumerate() {
            let sum: f64 = found.point_shares.iter().chain(&found.shock_shares).sum();
            let endless = index == mechanism::FATIGUE && preload > 50.0e3;
            let expected = if endless { 0.0 } else { 1.0 };
            assert!(
                (sum - expected).abs() < 1e-12,
                "{index} at {preload}: {sum}"
            );
        }
        // The missed shift is the highest load.
        assert_eq!(forecast.mechanisms[mechanism::OPENING].shock_shares, [1.0]);
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let model = plain();
    let nothing = duty(&[(0.0, 0.0, 60.0)]);
    let condition = model.after(&model.begin_at(16.0e3), &event());
    assert_eq!(model.after(&condition, &nothing), condition);
    for found in &model.forecast(&condition, nothing).mechanisms {
        assert!(
            found
                .lives_events
                .iter()
                .all(|life| *life == 0.0 || *life == 1000.0)
        );
        assert!(found.point_shares.iter().all(|share| *share == 0.0));
    }
}

/// Stretch at its limit exactly: nothing is left.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let mut condition = model.begin();
    condition[slot::KEPT_STRETCH] = 25.0e-6;
    let mut certain = request(&condition, event());
    certain.rates[mechanism::STRETCH].ln_sd = 0.0;
    let forecast = model.ask(certain);
    let found = &forecast.mechanisms[mechanism::STRETCH];
    assert!(found.lives_events.iter().all(|life| *life == 0.0));
    assert!((found.risk_next_event - 1.0).abs() < 1e-9);
    assert!(forecast.notes.iter().any(|note| note.field == "stretch"));
    // Two builds of three tightenings, the second run to its end.
    condition = model.begin();
    (condition[slot::TIGHTENINGS], condition[slot::RUNNING]) = (6.0, 61_200.0);
    let found = &model.forecast(&condition, event()).mechanisms[mechanism::REUSE];
    assert!(found.lives_events.iter().all(|life| *life == 0.0));
}

/// Tightening again gives the preload back, keeps damage and stretch, and is counted.
#[test]
fn retorque_gives_preload_back_and_nothing_else() {
    let model = plain();
    let loose = model.begin_at(16.0e3);
    let used = model.after(&loose, &with_missed_shift(15_000.0));
    let stretch = model.bolts().bolt(
        &ringland_plugin_rod_bolt::condition::Condition::read(&used).unwrap(),
        0.0,
    );
    let again = model.rework(&used, operation::RETORQUE);
    assert_eq!(
        again[slot::ASSEMBLY_PRELOAD],
        model.begin()[slot::ASSEMBLY_PRELOAD]
    );
    assert_eq!(again[slot::FIRST_DAMAGE..], used[slot::FIRST_DAMAGE..]);
    assert_eq!(again[slot::KEPT_STRETCH], stretch.stretch_m);
    assert_eq!(again[slot::TIGHTENINGS], used[slot::TIGHTENINGS] + 1.0);
    assert_eq!(again[slot::RUNNING], used[slot::RUNNING]);
    assert_eq!((again[slot::EMBEDDING], again[slot::PEAK_LOAD]), (0.0, 0.0));
    let fresh = model.rework(&used, operation::FRESHEN);
    assert_eq!(fresh[slot::TIGHTENINGS], used[slot::TIGHTENINGS] + 3.0);
    assert_eq!(fresh[slot::RUNNING], 0.0);
    let unknown = RodBolt::rework(model.specimen.clone(), model.map.clone(), used, 7);
    assert_eq!(unknown.unwrap_err()[0].field, "operation");
}

/// Embedding costs a bolt its length over the compliance of bolt and members at its first run, whatever the run, and once (VDI 2230, from memory).
#[test]
fn embedding_comes_once() {
    let model = plain();
    let joint = model.bolts().rod.joint;
    let preload = |condition: &[f64]| {
        let mut certain = request(condition, event());
        certain.ahead_events = vec![0.0];
        model.ask(certain).readings[reading::LEAST_PRELOAD].median[0]
    };
    let (new, run) = (
        model.begin(),
        model.after(&model.begin(), &duty(&[(1500.0, 20.0, 0.1)])),
    );
    let lost = preload(&new) - preload(&run);
    assert!(
        (lost - 6.0e-6 / joint.compliance_m_n()).abs() < 1e-6,
        "{lost}"
    );
    let more = model.after(&run, &event());
    assert!((preload(&more) - preload(&run)).abs() < 1e-6);
}

/// Titanium rods on steel bolts lose preload as they warm; aluminium ones gain it.
#[test]
fn heat_moves_preload_with_the_materials() {
    let needed = |expansion: f64| {
        let model = plain().with(changed(&[("rod_expansion_per_k", expansion)]));
        let forecast = model.forecast(&model.begin(), event());
        forecast.readings[reading::OPENING_PRELOAD].median[0]
    };
    let (titanium, steel, aluminium) = (needed(0.9e-5), needed(1.2e-5), needed(2.3e-5));
    assert!(titanium > 1.05 * steel && aluminium < 0.8 * steel);
}

#[test]
fn the_same_input_gives_the_same_bits() {
    let again = Prepared::new(stretched());
    assert!(
        again
            .map
            .iter()
            .zip(&plain().map)
            .all(|(a, b)| a.to_bits() == b.to_bits())
    );
    let forecast = || plain().forecast(&plain().begin_at(20.0e3), event());
    assert_eq!(forecast(), forecast());
}

/// The contract: every slot stays within its range, every quantile in order.
#[test]
fn conditions_and_quantiles_stay_within_the_contract() {
    let model = plain();
    for preload in [0.0, 1.0e3, 52.0e3, 1.0e6] {
        let mut long = with_missed_shift(20_000.0);
        for time in &mut long.time_s {
            *time *= 1e5;
        }
        let condition = model.after(&model.begin_at(preload), &long);
        for (slot, value) in RodBolt::card().condition.iter().zip(&condition) {
            assert!(
                (slot.minimum..=slot.maximum).contains(value),
                "{} {value}",
                slot.name
            );
        }
        for path in model.forecast(&condition, event()).readings {
            let rows = path.low.iter().zip(&path.median).zip(&path.high);
            for ((low, median), high) in rows {
                assert!(low.is_finite() && high.is_finite() && low <= median && median <= high);
            }
        }
    }
}

/// A set of more bolts is never safer.
#[test]
fn more_bolts_never_lower_the_risk() {
    let risk = |cylinders: f64| {
        // The same torque on each cylinder, so that only the number of bolts changes.
        let mut model = plain().with(changed(&[("cylinders", cylinders)]));
        model.specimen.choices[0] = 1;
        let mut event = event();
        for torque in &mut event.points[1] {
            *torque *= cylinders / 4.0;
        }
        let forecast = model.forecast(&model.begin_at(32.0e3), event);
        [mechanism::FATIGUE, mechanism::OPENING].map(|m| forecast.mechanisms[m].risk_next_event)
    };
    let (four, eight) = (risk(4.0), risk(8.0));
    assert!(
        eight[0] > four[0] && eight[1] > four[1],
        "{four:?} {eight:?}"
    );
}
