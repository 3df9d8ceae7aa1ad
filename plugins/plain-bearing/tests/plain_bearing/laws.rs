//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Model, Table};
use ringland_plugin_plain_bearing::PlainBearing;
use ringland_plugin_plain_bearing::card::{mechanism, reading};

use crate::scenario::{
    CONTAMINATION, FUEL, KNOCK, OIL_TEMP, PRESSURE, Prepared, bare, coated, dips, duty, event,
    plain, polymer, request, starts,
};

fn any_duty() -> impl Strategy<Value = Duty> {
    let point = (800.0..8600.0_f64, -60.0..440.0_f64, 0.05..30.0_f64);
    (
        prop::collection::vec(point, 1..5),
        350.0..420.0_f64,
        1.0e5..6.0e5_f64,
        0.0..0.06_f64,
        0_usize..4,
    )
        .prop_map(|(points, oil_k, pressure_pa, fuel, count)| {
            let mut duty = duty(&points);
            duty.points[OIL_TEMP].fill(oil_k);
            duty.points[PRESSURE].fill(pressure_pa);
            duty.points[FUEL].fill(fuel);
            duty.shocks[1] = dips(count, 0.7, 1.0e5);
            duty.shocks[2] = starts(count);
            duty
        })
}

fn close(a: &[f64], b: &[f64]) -> bool {
    let pairs = a.iter().zip(b);
    pairs
        .into_iter()
        .all(|(a, b)| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) + 1e-18)
}

/// A share of a record: of its time, and of the time of its shocks.
fn scaled(duty: &Duty, share: f64) -> Duty {
    let mut part = duty.clone();
    part.duration_s *= share;
    for time in &mut part.time_s {
        *time *= share;
    }
    for column in part.shocks.iter_mut().filter_map(|s| s.columns.first_mut()) {
        for duration in column {
            *duration *= share;
        }
    }
    part
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Dips in `any_duty` last 0.7 s and so never count as one to look at, whole or cut.
    #[test]
    fn no_slot_ever_falls_and_a_cut_record_gives_the_same(duty in any_duty(), cut in 0.05..0.95_f64, worn in 0.0..1.2e-5_f64) {
        for model in [plain(), polymer()] {
            let mut start = model.begin();
            start[0] = worn;
            let whole = model.advance(&start, std::slice::from_ref(&duty)).remove(0);
            prop_assert!(whole.iter().zip(&start).all(|(after, before)| after >= before));
            let parts = model.advance(&start, &[scaled(&duty, cut), scaled(&duty, 1.0 - cut)]).remove(1);
            prop_assert!(close(&whole, &parts), "{:?} {:?}", whole, parts);
        }
    }

    /// Nothing in the model remembers the order of use.
    #[test]
    fn order_does_not_matter(one in any_duty(), other in any_duty()) {
        let model = plain();
        let there = model.advance(&model.begin(), &[one.clone(), other.clone()]).remove(1);
        let back = model.advance(&model.begin(), &[other, one]).remove(1);
        prop_assert!(close(&there, &back));
    }

    /// Thinner oil (hotter, diluted), less of it, dust and knock never spare the shells.
    #[test]
    fn heat_fuel_starvation_dust_and_knock_never_spare(
        rpm in 2000.0..8400.0_f64, torque in 0.0..420.0_f64, oil_k in 360.0..400.0_f64, more in 1.0..15.0_f64
    ) {
        let model = plain();
        let mut base = duty(&[(rpm, torque, 10.0)]);
        base.points[OIL_TEMP].fill(oil_k);
        let least = model.after(&base);
        let worse = |channel: usize, value: f64| {
            let mut duty = base.clone();
            duty.points[channel].fill(value);
            model.after(&duty)
        };
        let harder = [
            worse(OIL_TEMP, oil_k + more),
            worse(CONTAMINATION, 1.0 + 0.2 * more),
            worse(KNOCK, 0.2 * more),
        ];
        for after in harder {
            // Up to a tenth of a nanometre: between nodes, doses too small to matter are not followed.
            prop_assert!(after.iter().zip(&least).all(|(a, b)| *a >= b * (1.0 - 1e-9) - 1e-10), "{:?} {:?}", after, least);
        }
        // Less and thinner oil drags less, so an overlay can stay cooler and stronger: wear and boundary heat are what they raise.
        for after in [worse(PRESSURE, 4.9e5 - 2.0e4 * more), worse(FUEL, 0.004 * more)] {
            for slot in [0, 1, 4] {
                prop_assert!(after[slot] >= 0.999 * least[slot] - 1e-10, "{:?} {:?}", after, least);
            }
        }
    }

    /// A worse rate shortens every life and raises every risk.
    #[test]
    fn a_higher_rate_never_lengthens_life(by in 0.01..1.5_f64) {
        let model = plain();
        let condition = model.after(&event());
        let usual = model.forecast(condition.clone(), event());
        let mut asked = request(condition, event());
        for rate in &mut asked.rates {
            rate.ln_mean = by;
        }
        for (usual, worse) in usual.mechanisms.iter().zip(&model.answer(asked).mechanisms) {
            prop_assert!(worse.lives_events.iter().zip(&usual.lives_events).all(|(w, u)| w <= u));
            prop_assert!(worse.risk_next_event >= usual.risk_next_event);
        }
    }
}

/// More torque: more gas load on the upper shell. The lower one takes inertia and is not spared by it at its own peak; both are
/// compared at a speed where gas rules.
#[test]
fn load_never_spares_the_upper_shell() {
    let upper = |torque: f64| plain().after(&duty(&[(4500.0, torque, 60.0)]));
    let mut last = upper(50.0);
    for torque in [150.0, 250.0, 350.0, 440.0] {
        let after = upper(torque);
        assert!(
            after[0] >= last[0] && after[2] > last[2],
            "{torque}: {after:?} {last:?}"
        );
        last = after;
    }
}

/// Over-revs load the cap: inertia goes with the square of speed.
#[test]
fn speed_never_spares_the_lower_shell() {
    let lower = |rpm: f64| plain().after(&duty(&[(rpm, 0.0, 60.0)]));
    let mut last = lower(6000.0);
    for rpm in [7000.0, 8000.0, 9000.0, 10_000.0] {
        let after = lower(rpm);
        assert!(
            after[1] >= last[1] && after[3] > last[3],
            "{rpm}: {after:?} {last:?}"
        );
        last = after;
    }
}

#[test]
fn roughness_never_lengthens_life() {
    let wear = |model: &Prepared| {
        let after = model.after(&event());
        after[0].max(after[1])
    };
    let mut rough = bare();
    rough.surfaces[0].values[0] *= 1.2;
    let mut smooth = bare();
    (smooth.surfaces[0].values[0], smooth.surfaces[1].values[0]) = (0.30e-6, 0.06e-6);
    let (rough, smooth) = (wear(&Prepared::new(rough)), wear(&Prepared::new(smooth)));
    println!(
        "wear of an event: composite roughness 0.345 um {:.2e} m, 0.405 um {rough:.2e}, 0.306 um {smooth:.2e}",
        wear(plain())
    );
    assert!(rough > 1.1 * wear(plain()) && smooth < 0.9 * wear(plain()));
}

/// A coat wears through to the overlay, and the shell then wears as a bare one.
#[test]
fn a_coat_worn_through_leaves_a_bare_shell() {
    let (coat, none) = (polymer(), plain());
    let mut worn = coat.begin();
    (worn[0], worn[1]) = (11.0e-6, 11.0e-6);
    let after = coat.advance(&worn, &[event()]).remove(0);
    let bare_wear = none.after(&event());
    for side in 0..2 {
        let ratio = (after[side] - worn[side]) / bare_wear[side];
        // Less friction of the coat leaves the film a little cooler; that part stays.
        assert!((0.75..1.0001).contains(&ratio), "{ratio}");
    }
    assert!(coat.after(&event())[0] < 0.75 * bare_wear[0]);
}

#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let model = plain();
    let mut worn = model.begin();
    worn[0] = 10.0e-6 * (1.0 + 1e-12);
    let mut certain = request(worn, event());
    for rate in &mut certain.rates {
        rate.ln_sd = 0.0;
    }
    certain.samples = 64;
    let forecast = model.answer(certain);
    let lives = &forecast.mechanisms[mechanism::WEAR].lives_events;
    let past = lives.iter().filter(|life| **life <= 0.0).count();
    // What is left of the spread is that between bearings: half are past it, half are not.
    assert!((31..=33).contains(&past), "{past}");
    let left = &forecast.readings[reading::OVERLAY_LEFT];
    assert!((left.median[0] - left.limit.unwrap()).abs() < 1e-12);
    assert!(
        forecast
            .notes
            .iter()
            .any(|note| note.field == "overlay_wear")
    );
}

/// The caution of the trade: below 2 bar, over 1 s, above 5000 1/min. Two of the three are not enough; pulling the cap clears it.
#[test]
fn a_low_pressure_dip_asks_for_a_look_whatever_the_number() {
    let model = plain();
    let counted = |count: usize, seconds: f64, pressure_pa: f64, rpm: f64| {
        let mut event = event();
        event.shocks[1] = dips(count, seconds, pressure_pa);
        event.shocks[1].columns[2].fill(rpm * std::f64::consts::PI / 30.0);
        model.after(&event)
    };
    assert_eq!(counted(1, 1.5, 1.9e5, 5100.0)[5], 1.0);
    assert_eq!(counted(1, 0.9, 1.9e5, 5100.0)[5], 0.0);
    assert_eq!(counted(1, 1.5, 2.1e5, 5100.0)[5], 0.0);
    assert_eq!(counted(1, 1.5, 1.9e5, 4900.0)[5], 0.0);
    let condition = counted(2, 1.5, 1.9e5, 7000.0);
    let forecast = model.forecast(condition.clone(), event());
    let path = &forecast.readings[reading::DIPS];
    assert!(path.median[0] > path.limit.unwrap());
    let note = forecast
        .notes
        .iter()
        .find(|note| note.field == "low_pressure_dips");
    assert!(note.unwrap().remedy.contains("rod cap"));
    let seen = PlainBearing::rework(
        model.specimen.clone(),
        model.map.clone(),
        condition.clone(),
        0,
    )
    .unwrap();
    assert_eq!((seen[4], seen[5]), (0.0, 0.0));
    assert_eq!(seen[..4], condition[..4]);
    assert!(PlainBearing::rework(model.specimen.clone(), model.map.clone(), condition, 3).is_err());
}

#[test]
fn shares_add_up_and_shocks_count() {
    let model = plain();
    let mut event = event();
    let quiet = model.after(&event);
    event.shocks[0] = Table {
        columns: vec![vec![3.0, 2.0], vec![960.0, 1000.0], vec![100.0, 200.0]],
    };
    event.shocks[1] = dips(3, 1.2, 0.5e5);
    let condition = model.after(&event);
    assert!(condition[1] > quiet[1] && condition[3] > quiet[3]);
    for mechanism in model.forecast(condition, event).mechanisms {
        let all = mechanism.point_shares.iter().chain(&mechanism.shock_shares);
        assert!((all.sum::<f64>() - 1.0).abs() < 1e-12);
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
    for mechanism in &model.forecast(condition, nothing).mechanisms {
        assert!(mechanism.point_shares.iter().all(|share| *share == 0.0));
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    let model = plain();
    let again = PlainBearing::prepare(model.specimen.clone()).unwrap();
    let bits = again.iter().zip(&model.map);
    assert!(bits.into_iter().all(|(a, b)| a.to_bits() == b.to_bits()));
    let forecast = || model.forecast(model.after(&event()), event());
    assert_eq!(forecast(), forecast());
}

/// The risk of the next event follows from the distribution; it agrees with what the drawn lives say.
#[test]
fn the_risk_agrees_with_the_lives() {
    for model in [plain(), polymer()] {
        let mut condition = model.begin();
        for _ in 0..9 {
            let mut many = request(condition.clone(), event());
            many.samples = 4096;
            for mechanism in &model.answer(many).mechanisms {
                let lives = &mechanism.lives_events;
                let ended = lives.iter().filter(|life| **life <= 1.0).count() as f64;
                let share = ended / lives.len() as f64;
                let risk = mechanism.risk_next_event;
                assert!((share - risk).abs() < 0.01, "{share} {risk}");
            }
            condition = model.advance(&condition, &[event()]).remove(0);
        }
    }
}

/// The contract: every slot stays within its range, and quantiles are in order.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let model = plain();
    let mut long = event();
    for time in &mut long.time_s {
        *time *= 1e5;
    }
    let condition = model.after(&long);
    for (slot, value) in PlainBearing::card().condition.iter().zip(&condition) {
        assert!(
            (slot.minimum..=slot.maximum).contains(value),
            "{}",
            slot.name
        );
    }
    for path in &model.forecast(condition, event()).readings {
        let rows = path.low.iter().zip(&path.median).zip(&path.high);
        assert!(
            rows.into_iter()
                .all(|((low, median), high)| low <= median && median <= high)
        );
    }
}

/// What is not known of a surface widens the lives.
#[test]
fn spread_of_a_surface_widens_life() {
    let mut unsure = coated();
    unsure.surfaces[0].ln_sd[0] = 0.05;
    unsure.surfaces[0].ln_sd[2] = 0.4;
    let unsure = Prepared {
        specimen: unsure,
        map: polymer().map.clone(),
    };
    let width = |model: &Prepared| {
        let forecast = model.forecast(model.begin(), event());
        let mut lives = forecast.mechanisms[mechanism::WEAR].lives_events.clone();
        let low = ringland_plugin::quantile(&mut lives, 0.1).unwrap();
        ringland_plugin::quantile(&mut lives, 0.9).unwrap() / low
    };
    assert!(width(&unsure) > 1.3 * width(polymer()));
}
