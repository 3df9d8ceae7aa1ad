//! Laws of `advance`.

use std::ops::Range;
use std::slice::from_ref;

use proptest::prelude::*;
use ringland_plugin::{Duty, LifeForecast, Model, Trend};

use super::{hold, sound_forecast};
use crate::{Prepared, close, cut};

/// Rising slots never fall and falling ones never rise, from any start and over any duty.
#[track_caller]
pub fn slots_follow_their_trends<M: Model>(
    prepared: &Prepared<M>,
    starts: &impl Strategy<Value = Vec<f64>>,
    duties: &impl Strategy<Value = Duty>,
) {
    let slots = M::card().condition;
    hold(
        "slots follow their trends",
        &(starts, duties),
        |(start, duty)| {
            let after = prepared.then(&start, &duty);
            for ((slot, before), after) in slots.iter().zip(&start).zip(&after) {
                let kept = match slot.trend {
                    Trend::Rising => after >= before,
                    Trend::Falling => after <= before,
                    Trend::Free => after.is_finite(),
                };
                prop_assert!(kept, "{} goes from {before} to {after}", slot.name);
            }
            Ok(())
        },
    );
}

/// A record cut in two leaves the same condition as the whole, each slot to a share `relative` of its value.
#[track_caller]
pub fn cut_records_add_up<M: Model>(
    prepared: &Prepared<M>,
    starts: &impl Strategy<Value = Vec<f64>>,
    duties: &impl Strategy<Value = Duty>,
    relative: f64,
) {
    let drawn = (starts, duties, 0.05..0.95_f64);
    hold(
        "a cut record adds up to the whole",
        &drawn,
        |(start, duty, share)| {
            let whole = prepared.then(&start, &duty);
            let parts = prepared.advance(&start, &cut::<M>(&duty, share)).remove(1);
            prop_assert!(close(&whole, &parts, relative), "{whole:?} {parts:?}");
            Ok(())
        },
    );
}

/// Two records in either order leave the same condition, each slot to a share `relative` of its value.
#[track_caller]
pub fn order_of_records_does_not_matter<M: Model>(
    prepared: &Prepared<M>,
    starts: &impl Strategy<Value = Vec<f64>>,
    duties: &impl Strategy<Value = Duty>,
    relative: f64,
) {
    let all = 0..M::card().condition.len();
    order_of_records_does_not_matter_to(prepared, all, starts, duties, relative);
}

/// As [`order_of_records_does_not_matter`], for some slots of a condition of which others do remember the order.
#[track_caller]
pub fn order_of_records_does_not_matter_to<M: Model>(
    prepared: &Prepared<M>,
    slots: Range<usize>,
    starts: &impl Strategy<Value = Vec<f64>>,
    duties: &impl Strategy<Value = Duty>,
    relative: f64,
) {
    let after = |start: &[f64], records: [&Duty; 2]| {
        let last = prepared
            .advance(start, &records.map(Clone::clone))
            .remove(1);
        last[slots.clone()].to_vec()
    };
    let drawn = (starts, duties, duties);
    hold(
        "order of records does not matter",
        &drawn,
        |(start, one, other)| {
            let there = after(&start, [&one, &other]);
            let back = after(&start, [&other, &one]);
            prop_assert!(close(&there, &back, relative), "{there:?} {back:?}");
            Ok(())
        },
    );
}

/// The operating points of a record in reverse order leave the same condition, each slot to a share `relative` of its value.
#[track_caller]
pub fn order_within_a_record_does_not_matter<M: Model>(
    prepared: &Prepared<M>,
    starts: &impl Strategy<Value = Vec<f64>>,
    duties: &impl Strategy<Value = Duty>,
    relative: f64,
) {
    hold(
        "order within a record does not matter",
        &(starts, duties),
        |(start, duty)| {
            let mut turned = duty.clone();
            turned.time_s.reverse();
            turned.points.iter_mut().for_each(|column| column.reverse());
            let (there, back) = (prepared.then(&start, &duty), prepared.then(&start, &turned));
            prop_assert!(close(&there, &back, relative), "{there:?} {back:?}");
            Ok(())
        },
    );
}

/// An event in which nothing happens changes no slot; over it every life has ended already or lasts to the horizon, as many are at risk as have
/// ended, and nothing has a share.
#[track_caller]
pub fn nothing_adds_nothing<M: Model>(prepared: &Prepared<M>, condition: &[f64], nothing: &Duty) {
    let after = prepared.then(condition, nothing);
    assert_eq!(
        after, condition,
        "nothing adds nothing: the condition moved"
    );
    let forecast = prepared.forecast(condition, nothing);
    for (named, found) in M::card().mechanisms.iter().zip(&forecast.mechanisms) {
        let name = &named.name;
        let lives = &found.lives_events;
        for life in lives {
            let kept = *life <= 0.0 || *life >= prepared.horizon_events;
            assert!(
                kept,
                "nothing adds nothing: a life of {name} ends after {life} events"
            );
        }
        let ended = lives.iter().filter(|life| **life <= 0.0).count() as f64;
        let draws = lives.len() as f64;
        assert!(
            (found.risk_next_event - ended / draws).abs() <= 2.0 / draws,
            "nothing adds nothing: risk of {name} {}, {ended} of {draws} lives have ended",
            found.risk_next_event
        );
        let mut shares = found.point_shares.iter().chain(&found.shock_shares);
        assert!(
            shares.all(|share| *share == 0.0),
            "nothing adds nothing: shares of {name}"
        );
    }
}

/// However often a record comes, every slot stays within the card's range and the forecast sound. Returns the forecast over that record
/// after the last one, for what the plugin has to say of it.
#[track_caller]
pub fn slots_stay_within_the_card<M: Model>(
    prepared: &Prepared<M>,
    start: &[f64],
    duty: &Duty,
    times: usize,
) -> LifeForecast {
    let slots = M::card().condition;
    let mut condition = start.to_vec();
    for _ in 0..times {
        condition = prepared.advance(&condition, from_ref(duty)).remove(0);
        for (slot, value) in slots.iter().zip(&condition) {
            let range = slot.minimum..=slot.maximum;
            assert!(
                range.contains(value),
                "slots stay within the card: {} is {value}",
                slot.name
            );
        }
    }
    sound_forecast(prepared, &condition, duty)
}
