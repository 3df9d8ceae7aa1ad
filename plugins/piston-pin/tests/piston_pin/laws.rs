//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model, Table};
use ringland_plugin_piston_pin::PistonPin;
use ringland_plugin_piston_pin::card::{mechanism, slot};

use crate::scenario::{Prepared, coated, duty, event, event_with, plain, request, untreated};

fn any_duty() -> impl Strategy<Value = Duty> {
    let point = (800.0..9500.0_f64, -60.0..480.0_f64, 0.05..60.0_f64);
    let channels = (350.0..420.0_f64, 0.0..0.06_f64, 0.0..3.0_f64);
    (prop::collection::vec(point, 1..6), channels).prop_map(|(points, (oil_k, fuel, knock))| {
        let mut duty = duty(&points);
        for (column, value) in duty.points[2..].iter_mut().zip([oil_k, fuel, 1.0, knock]) {
            column.fill(value);
        }
        duty.shocks[0] = Table {
            columns: vec![vec![2.0], vec![950.0], vec![100.0]],
        };
        duty
    })
}

fn close(a: &[f64], b: &[f64]) -> bool {
    a.iter()
        .zip(b)
        .all(|(a, b)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) + 1e-18)
}

fn scaled(duty: &Duty, share: f64) -> Duty {
    let mut part = duty.clone();
    part.duration_s *= share;
    part.time_s.iter_mut().for_each(|time| *time *= share);
    for shock in &mut part.shocks {
        shock.columns[0]
            .iter_mut()
            .for_each(|duration| *duration *= share);
    }
    part
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_slot_ever_falls_and_a_cut_record_gives_the_same(duty in any_duty(), cut in 0.05..0.95_f64) {
        for model in [plain(), coated()] {
            let start = model.after(&event());
            let whole = model.advance(&start, std::slice::from_ref(&duty)).remove(0);
            prop_assert!(whole.iter().zip(&start).all(|(after, before)| after >= before));
            let parts = model.advance(&start, &[scaled(&duty, cut), scaled(&duty, 1.0 - cut)]).remove(1);
            prop_assert!(close(&whole, &parts), "{:?} {:?}", whole, parts);
        }
    }

    #[test]
    fn order_within_a_record_does_not_matter(duty in any_duty()) {
        let mut turned = duty.clone();
        turned.time_s.reverse();
        turned.points.iter_mut().for_each(|column| column.reverse());
        prop_assert!(close(&plain().after(&duty), &plain().after(&turned)));
    }

    /// Sums and a worst case do not depend on the order of records.
    #[test]
    fn order_of_records_does_not_matter(one in any_duty(), other in any_duty()) {
        let model = plain();
        let there = model.advance(&model.begin(), &[one.clone(), other.clone()]).remove(1);
        let back = model.advance(&model.begin(), &[other, one]).remove(1);
        prop_assert!(close(&there, &back));
    }

    /// Heat, fuel, dust or knock: never less of anything. More load: never less wear or damage of the pin. (Severity may fall with load:
    /// the oil film yields at another crank angle, where the rod swings more slowly.)
    #[test]
    fn abuse_never_spares_the_pin(
        rpm in 3500.0..8000.0_f64, torque in 60.0..380.0_f64, more in 20.0..80.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = coated();
        let base = duty(&[(rpm, torque, 10.0)]);
        let least = model.after(&base);
        for (channel, value) in [(2, 378.15 + hotter), (3, 0.03), (4, 3.0), (5, 2.0)] {
            let mut worse = base.clone();
            worse.points[channel][0] = value;
            let after = model.after(&worse);
            for (worn, least) in after.iter().zip(&least) {
                prop_assert!(*worn >= 0.999 * least, "{channel} {worn} {least}");
            }
            prop_assert!(after.iter().zip(&least).any(|(worn, least)| *worn > 1.001 * least), "{channel}");
        }
        let mut loaded = base.clone();
        loaded.points[1][0] += more;
        let after = model.after(&loaded);
        for index in [slot::BUSH, slot::PIN, slot::COATING_HAZARD, slot::PIN_DAMAGE] {
            prop_assert!(after[index] > least[index], "{index} {} {}", after[index], least[index]);
        }
    }

    #[test]
    fn a_higher_rate_never_lengthens_life(by in 0.01..1.5_f64) {
        let model = plain();
        let condition = model.after(&event());
        let usual = model.forecast(condition.clone(), event());
        let mut worse = request(condition, event());
        worse.rates.iter_mut().for_each(|rate| rate.ln_mean = by);
        let worse = model.answer(worse);
        for (usual, worse) in usual.mechanisms.iter().zip(&worse.mechanisms) {
            prop_assert!(worse.lives_events.iter().zip(&usual.lives_events).all(|(w, u)| w <= u));
            prop_assert!(worse.risk_next_event >= usual.risk_next_event);
        }
    }
}

/// Wear is in proportion to the wear coefficient; friction to its coefficient.
#[test]
fn wear_scales_with_its_coefficient() {
    let mut specimen = untreated();
    specimen.surfaces[0].values[1] *= 0.5;
    specimen.surfaces[1].values[1] *= 2.0;
    let (soft, usual) = (
        Prepared::new(specimen).after(&event()),
        plain().after(&event()),
    );
    assert!((soft[slot::BUSH] / usual[slot::BUSH] - 2.0).abs() < 1e-9);
    assert!((soft[slot::PIN] / usual[slot::PIN] - 1.0).abs() < 1e-9);
    assert!((soft[slot::SEVERITY] / usual[slot::SEVERITY] - 0.5).abs() < 1e-9);
}

/// Rougher surfaces and a drier bush touch more; compression in the pin spares it.
#[test]
fn surfaces_act_as_they_should() {
    let usual = plain().after(&event());
    let with = |change: &dyn Fn(&mut ringland_plugin::Specimen)| {
        let mut specimen = untreated();
        change(&mut specimen);
        Prepared::new(specimen).after(&event())
    };
    let rough = with(&|specimen| specimen.surfaces[0].values[0] *= 3.0);
    assert!(rough[slot::BUSH] > usual[slot::BUSH] && rough[slot::SEVERITY] > usual[slot::SEVERITY]);
    let patch = PistonPin::card().number_index("oil_patch_m").unwrap();
    let dry = with(&|specimen| specimen.numbers[patch] *= 0.5);
    assert!(dry[slot::BUSH] > 1.2 * usual[slot::BUSH]);
    let peened = with(&|specimen| {
        specimen.surfaces[0].depth_m = vec![0.0, 1.0e-4];
        specimen.surfaces[0].residual_stress_pa = vec![-4.0e8, 0.0];
    });
    assert!(peened[slot::PIN_DAMAGE] < 0.5 * usual[slot::PIN_DAMAGE]);
}

#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let mut worn = model.after(&event());
    worn[slot::PIN] = 1.0e-6;
    worn[slot::BUSH] = 17.0e-6 * (1.0 + 1e-12);
    let mut certain = request(worn, event());
    certain.rates.iter_mut().for_each(|rate| rate.ln_sd = 0.0);
    certain.samples = 64;
    let forecast = model.answer(certain);
    // What is left of the spread is that between cylinders: half the bushes are past it, half are not.
    let lives = &forecast.mechanisms[mechanism::BUSH].lives_events;
    let past = lives.iter().filter(|life| **life <= 0.0).count();
    assert!((31..=33).contains(&past), "{past}");
    assert!((forecast.readings[0].median[0] - forecast.readings[0].limit.unwrap()).abs() < 1e-12);
    assert!(forecast.notes.iter().any(|note| note.field == "bush"));
}

/// A coating's hazard has no memory: what it has borne does not change what is left. Coatings that follow an exponential life have a mean of
/// 1/rate; in the draws, with the rate known but for its small spread, to a few parts in a hundred.
#[test]
fn a_coating_has_no_memory() {
    let model = coated();
    let mut fresh = request(model.begin(), event());
    fresh.rates.iter_mut().for_each(|rate| rate.ln_sd = 0.0);
    fresh.horizon_events = 1e5;
    let mut old = fresh.clone();
    old.condition[slot::COATING_HAZARD] = 0.7;
    let lives = |request| {
        model.answer(request).mechanisms[mechanism::COATING]
            .lives_events
            .clone()
    };
    let (fresh, old) = (lives(fresh), lives(old));
    assert!(
        fresh
            .iter()
            .zip(&old)
            .all(|(a, b)| (a / b - 1.0).abs() < 1e-6)
    );
    let mean = fresh.iter().sum::<f64>() / fresh.len() as f64;
    let rate = model.after(&event())[slot::COATING_HAZARD];
    assert!((mean * rate - 1.0).abs() < 0.05, "{}", mean * rate);
}

#[test]
fn shares_add_up_and_shocks_count() {
    let model = coated();
    let mut event = event();
    let usual = model.after(&event);
    event.shocks[0] = Table {
        columns: vec![vec![3.0, 2.0], vec![960.0, 1000.0], vec![100.0, 200.0]],
    };
    let condition = model.after(&event);
    assert!(condition[slot::BUSH] > usual[slot::BUSH]);
    assert!(condition[slot::PIN_DAMAGE] > usual[slot::PIN_DAMAGE]);
    let mechanisms = model.forecast(condition, event).mechanisms;
    assert!(mechanisms[mechanism::BUSH].shock_shares[0] > 0.0);
    for mechanism in mechanisms {
        let all = mechanism.point_shares.iter().chain(&mechanism.shock_shares);
        assert!((all.sum::<f64>() - 1.0).abs() < 1e-12);
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let model = plain();
    let condition = model.after(&event());
    for nothing in [duty(&[(0.0, 0.0, 60.0)]), duty(&[])] {
        assert_eq!(
            model.advance(&condition, std::slice::from_ref(&nothing))[0],
            condition
        );
        let forecast = model.forecast(condition.clone(), nothing);
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
}

#[test]
fn the_same_input_gives_the_same_bits() {
    let model = plain();
    let again = PistonPin::prepare(model.specimen.clone()).unwrap();
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
    let model = coated();
    let mut condition = model.begin();
    for _ in 0..12 {
        let mut many = request(condition.clone(), event());
        many.samples = 4096;
        for mechanism in &model.answer(many).mechanisms {
            let lives = &mechanism.lives_events;
            let share =
                lives.iter().filter(|life| **life <= 1.0).count() as f64 / lives.len() as f64;
            let risk = mechanism.risk_next_event;
            assert!((share - risk).abs() < 0.01, "{share} {risk}");
        }
        condition = model.advance(&condition, &vec![event(); 4]).remove(3);
    }
}

/// The contract: every slot stays within its range, quantiles are ordered, however long the duty.
#[test]
fn long_duty_stays_within_the_contract() {
    for model in [plain(), coated()] {
        let mut long = event_with(5, 40.0);
        long.time_s.iter_mut().for_each(|time| *time *= 1e5);
        let condition = model.after(&long);
        for (slot, value) in PistonPin::card().condition.iter().zip(&condition) {
            assert!(
                (slot.minimum..=slot.maximum).contains(value),
                "{} {value}",
                slot.name
            );
        }
        for condition in [condition, model.begin(), model.after(&event())] {
            for path in &model.forecast(condition, event()).readings {
                let rows = path.low.iter().zip(&path.median).zip(&path.high);
                assert!(rows.clone().count() == 4);
                assert!(
                    rows.into_iter()
                        .all(|((low, median), high)| low <= median && median <= high)
                );
            }
        }
    }
}

/// A pin overloaded to scuffing scuffs within an event, however far the horizon, and the risk says the same.
#[test]
fn scuffing_is_met_within_an_event() {
    let mut specimen = untreated();
    let limit = PistonPin::card().number_index("limit_scuff_w_m2").unwrap();
    specimen.numbers[limit] = 3.0e6;
    let model = Prepared::new(specimen);
    for horizon_events in [20.0, 1e7] {
        let mut far = request(model.begin(), event());
        far.horizon_events = horizon_events;
        let scuff = model.answer(far).mechanisms.remove(mechanism::SCUFF);
        let ended = scuff
            .lives_events
            .iter()
            .filter(|life| **life <= 1.0)
            .count();
        let never = scuff
            .lives_events
            .iter()
            .filter(|life| **life >= horizon_events)
            .count();
        assert_eq!(ended + never, 512);
        assert!((ended as f64 / 512.0 - scuff.risk_next_event).abs() < 0.01);
    }
}
