//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model, Table};
use ringland_plugin_piston::Piston;
use ringland_plugin_piston::card::{mechanism, slot};

use crate::scenario::{Prepared, coated, duty, event, event_with, plain, request, untreated};

fn any_duty() -> impl Strategy<Value = Duty> {
    let point = (800.0..9500.0_f64, -60.0..480.0_f64, 0.05..60.0_f64);
    let channels = (
        350.0..420.0_f64,
        340.0..400.0_f64,
        1.0e5..6.0e5_f64,
        0.0..0.06_f64,
        0.0..3.0_f64,
    );
    (prop::collection::vec(point, 1..6), channels).prop_map(
        |(points, (oil_k, coolant_k, oil_pa, fuel, knock))| {
            let mut duty = duty(&points);
            let held = [oil_k, coolant_k, oil_pa, fuel, 1.0, knock];
            for (column, value) in duty.points[2..].iter_mut().zip(held) {
                column.fill(value);
            }
            duty.shocks[0] = Table {
                columns: vec![vec![2.0], vec![950.0], vec![100.0]],
            };
            duty.shocks[1] = Table {
                columns: vec![vec![4.0], vec![3.0], vec![300.0]],
            };
            duty
        },
    )
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

    /// Sums that nothing feeds back on do not depend on the order of records either: softening, pin bores, boss, collapse.
    #[test]
    fn order_of_records_does_not_matter_to_sums(one in any_duty(), other in any_duty()) {
        let model = plain();
        let there = model.advance(&model.begin(), &[one.clone(), other.clone()]).remove(1);
        let back = model.advance(&model.begin(), &[other, one]).remove(1);
        prop_assert!(close(&there[slot::COLLAPSE..], &back[slot::COLLAPSE..]));
    }

    /// More load, heat, fuel, dust or knock, a lost jet: never less of anything.
    #[test]
    fn abuse_never_spares_the_piston(
        rpm in 3500.0..8000.0_f64, torque in 60.0..380.0_f64, more in 20.0..80.0_f64, hotter in 1.0..15.0_f64
    ) {
        let model = plain();
        let base = duty(&[(rpm, torque, 10.0)]);
        let least = model.after(&base);
        let mut loaded = base.clone();
        loaded.points[1][0] += more;
        let changed = [(2, 378.15 + hotter), (3, 363.15 + hotter), (4, 1.8e5), (5, 0.03), (6, 3.0), (7, 2.0)];
        let mut worse: Vec<Duty> = changed.iter().map(|(channel, value)| {
            let mut duty = base.clone();
            duty.points[*channel][0] = *value;
            duty
        }).collect();
        worse.push(loaded);
        for (k, duty) in worse.iter().enumerate() {
            let after = model.after(duty);
            for (index, (worn, least)) in after.iter().zip(&least).enumerate() {
                // Dust wears the fresh peaks of the flanks off sooner: then they weld less.
                if k == 4 && index == slot::WELDING {
                    continue;
                }
                // Between nodes, load can cost the map a part in a hundred of what hardly depends on it.
                prop_assert!(*worn >= 0.99 * least, "{k} {index} {worn} {least}");
            }
            prop_assert!(after.iter().zip(&least).any(|(worn, least)| *worn > 1.001 * least), "{k}");
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

/// Wear is in proportion to the wear coefficient: twice it, twice the sliding and impact.
#[test]
fn wear_scales_with_its_coefficient() {
    let mut specimen = untreated();
    specimen.surfaces[0].values[0] *= 2.0;
    let soft = Prepared::new(specimen);
    let ratio = soft.after(&event())[slot::TOP_GROOVE] / plain().after(&event())[slot::TOP_GROOVE];
    assert!((ratio - 2.0).abs() < 1e-9, "{ratio}");
}

/// A rougher skirt is pressed harder on its summits; compression in the boss spares it.
#[test]
fn surfaces_act_as_they_should() {
    let mut rough = untreated();
    rough.surfaces[2].values[0] *= 1.5;
    let rough = Prepared::new(rough).after(&event());
    assert!(rough[slot::THRUST_SKIRT] > plain().after(&event())[slot::THRUST_SKIRT]);
    let mut peened = untreated();
    peened.surfaces[5].depth_m = vec![0.0, 1.0e-4];
    peened.surfaces[5].residual_stress_pa = vec![-60.0e6, 0.0];
    let peened = Prepared::new(peened).after(&event());
    assert!(peened[slot::BOSS] < 0.5 * plain().after(&event())[slot::BOSS]);
}

#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let mut worn = model.after(&event());
    worn[slot::TOP_GROOVE] = 0.055e-3 * (1.0 + 1e-12);
    let mut certain = request(worn, event());
    certain.rates.iter_mut().for_each(|rate| rate.ln_sd = 0.0);
    certain.samples = 64;
    let forecast = model.answer(certain);
    // What is left of the spread is that between cylinders: half the grooves are past it, half are not.
    let lives = &forecast.mechanisms[mechanism::GROOVE].lives_events;
    let past = lives.iter().filter(|life| **life <= 0.0).count();
    assert!((31..=33).contains(&past), "{past}");
    assert!((forecast.readings[0].median[0] - forecast.readings[0].limit.unwrap()).abs() < 1e-12);
    assert!(forecast.notes.iter().any(|note| note.field == "groove"));
}

#[test]
fn shares_add_up_and_shocks_count() {
    let model = plain();
    let mut event = event();
    let usual = model.after(&event);
    event.shocks[0] = Table {
        columns: vec![vec![3.0, 2.0], vec![960.0, 1000.0], vec![100.0, 200.0]],
    };
    event.shocks[1] = Table {
        columns: vec![vec![5.0], vec![4.0], vec![400.0]],
    };
    let condition = model.after(&event);
    assert!(condition[slot::TOP_GROOVE] > usual[slot::TOP_GROOVE]);
    assert!(condition[slot::BOSS] > usual[slot::BOSS]);
    for mechanism in model.forecast(condition, event).mechanisms {
        let all = mechanism.point_shares.iter().chain(&mechanism.shock_shares);
        assert!((all.sum::<f64>() - 1.0).abs() < 1e-12);
        assert!(mechanism.shock_shares.iter().all(|share| *share > 0.0));
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
    let again = Piston::prepare(model.specimen.clone()).unwrap();
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
    for _ in 0..7 {
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
        let mut long = event_with(7, 40.0);
        long.time_s.iter_mut().for_each(|time| *time *= 1e5);
        let condition = model.after(&long);
        for (slot, value) in Piston::card().condition.iter().zip(&condition) {
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
