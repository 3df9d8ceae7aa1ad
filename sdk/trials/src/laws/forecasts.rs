//! Laws of `forecast`.

use std::ops::RangeInclusive;

use proptest::prelude::*;
use ringland_plugin::{Duty, ForecastRequest, LifeForecast, LimitSide, Model};

use super::hold;
use crate::{Prepared, fields, quantile};

/// The contract of a forecast: lengths as the card's, everything finite, quantiles in order, lives from 0 to the horizon, risks from 0 to 1,
/// shares from 0 to 1 that add up to 1 or are all 0.
#[track_caller]
pub fn forecast_is_sound<M: Model>(request: &ForecastRequest, forecast: &LifeForecast) {
    let card = M::card();
    assert_eq!(forecast.readings.len(), card.readings.len(), "readings");
    for (named, path) in card.readings.iter().zip(&forecast.readings) {
        let name = &named.name;
        let times = request.ahead_events.len();
        let lengths = [&path.low, &path.median, &path.high].map(Vec::len);
        assert_eq!(lengths, [times; 3], "times of {name}");
        for ((low, median), high) in path.low.iter().zip(&path.median).zip(&path.high) {
            let ordered = low.is_finite() && low <= median && median <= high && high.is_finite();
            assert!(ordered, "quantiles of {name}: {low} {median} {high}");
        }
    }
    assert_eq!(
        forecast.mechanisms.len(),
        card.mechanisms.len(),
        "mechanisms"
    );
    for (named, found) in card.mechanisms.iter().zip(&forecast.mechanisms) {
        let name = &named.name;
        assert_eq!(
            found.lives_events.len(),
            request.samples as usize,
            "lives of {name}"
        );
        for life in &found.lives_events {
            assert!(
                (0.0..=request.horizon_events).contains(life),
                "a life of {name}: {life}"
            );
        }
        let risk = found.risk_next_event;
        assert!((0.0..=1.0).contains(&risk), "risk of {name}: {risk}");
        assert_eq!(
            found.point_shares.len(),
            request.event.time_s.len(),
            "point shares of {name}"
        );
        assert_eq!(
            found.shock_shares.len(),
            card.duty.shocks.len(),
            "shock shares of {name}"
        );
        let shares: Vec<f64> = found
            .point_shares
            .iter()
            .chain(&found.shock_shares)
            .copied()
            .collect();
        assert!(
            shares.iter().all(|share| (0.0..=1.0).contains(share)),
            "shares of {name}: {shares:?}"
        );
        let sum: f64 = shares.iter().sum();
        assert!(
            sum == 0.0 || (sum - 1.0).abs() < 1e-12,
            "shares of {name} add up to {sum}"
        );
    }
}

/// The forecast from a condition over an event, found sound by [`forecast_is_sound`].
#[track_caller]
pub fn sound_forecast<M: Model>(
    prepared: &Prepared<M>,
    condition: &[f64],
    event: &Duty,
) -> LifeForecast {
    let request = prepared.request(condition, event);
    let forecast = prepared.asked(request.clone());
    forecast_is_sound::<M>(&request, &forecast);
    forecast
}

/// A higher rate, of all mechanisms at once, lengthens no drawn life and lowers no risk.
#[track_caller]
pub fn higher_rate_never_lengthens_life<M: Model>(
    prepared: &Prepared<M>,
    condition: &[f64],
    event: &Duty,
) {
    let request = prepared.request(condition, event);
    let usual = prepared.asked(request.clone());
    hold(
        "a higher rate never lengthens life",
        &(0.01..1.5_f64),
        |by| {
            let mut worse = request.clone();
            worse.rates.iter_mut().for_each(|rate| rate.ln_mean += by);
            let worse = prepared.asked(worse);
            for (index, usual) in usual.mechanisms.iter().enumerate() {
                let worse = &worse.mechanisms[index];
                let mut lives = worse.lives_events.iter().zip(&usual.lives_events);
                prop_assert!(
                    lives.all(|(worse, usual)| worse <= usual),
                    "lives of mechanism {index}"
                );
                let (worse, usual) = (worse.risk_next_event, usual.risk_next_event);
                prop_assert!(
                    worse >= usual - 1e-12,
                    "risk of mechanism {index}: {worse} {usual}"
                );
            }
            Ok(())
        },
    );
}

/// The risk of the next event, which is worked out from the distribution, agrees with the share of 4096 drawn lives that end by then, within
/// `tolerance`, at each of the given conditions ([`Prepared::ageing`] makes them).
#[track_caller]
pub fn risk_agrees_with_lives<M: Model>(
    prepared: &Prepared<M>,
    conditions: &[Vec<f64>],
    event: &Duty,
    tolerance: f64,
) {
    for condition in conditions {
        let mut many = prepared.request(condition, event);
        many.samples = 4096;
        let forecast = prepared.asked(many);
        for (named, found) in M::card().mechanisms.iter().zip(&forecast.mechanisms) {
            let ended = found
                .lives_events
                .iter()
                .filter(|life| **life <= 1.0)
                .count() as f64;
            let (share, risk) = (
                ended / found.lives_events.len() as f64,
                found.risk_next_event,
            );
            assert!(
                (share - risk).abs() < tolerance,
                "the risk agrees with the lives: {} has a risk of {risk}, {share} of the lives end, at {condition:?}",
                named.name
            );
        }
    }
}

/// At a condition where the measured quantity of a mechanism is exactly at its limit and all rates are certain, the share of lives that have ended is within `ended`
/// (1 where nothing else is spread, about a half where a spread between parts stays); the median of the reading that the card names for it is at its limit,
/// and a note is about the mechanism.
#[track_caller]
pub fn limit_reached_leaves_no_life<M: Model>(
    prepared: &Prepared<M>,
    mechanism: &str,
    at_limit: &[f64],
    event: &Duty,
    ended: RangeInclusive<f64>,
) {
    let card = M::card();
    let index = card.mechanism_index(mechanism).expect(mechanism);
    let mut certain = prepared.request(at_limit, event);
    certain.rates.iter_mut().for_each(|rate| rate.ln_sd = 0.0);
    let forecast = prepared.asked(certain);
    let lives = &forecast.mechanisms[index].lives_events;
    let share = lives.iter().filter(|life| **life <= 0.0).count() as f64 / lives.len() as f64;
    assert!(
        ended.contains(&share),
        "a limit reached leaves no life: {share} of the lives of {mechanism} have ended, expected {ended:?}"
    );
    let reading = card.mechanisms[index].reading.as_deref();
    if let Some(at) = reading.and_then(|reading| card.reading_index(reading)) {
        let path = &forecast.readings[at];
        if card.readings[at].limit_side != LimitSide::Unlimited {
            let (median, limit) = (path.median[0], path.limit.expect("a limit"));
            let near = (median - limit).abs() <= 1e-6 * limit.abs();
            assert!(
                near,
                "a limit reached leaves no life: {mechanism} reads {median}, limit {limit}"
            );
        }
    }
    let notes = fields(&forecast.notes);
    assert!(
        notes.contains(&mechanism),
        "a limit reached leaves no life: notes on {notes:?} only"
    );
}

/// A nearer horizon cuts the same drawn lives, to a share `relative` of that horizon. The horizon has to cut some lives and leave others.
#[track_caller]
pub fn nearer_horizon_cuts_the_same_lives<M: Model>(
    prepared: &Prepared<M>,
    mechanism: &str,
    condition: &[f64],
    event: &Duty,
    (nearer_events, relative): (f64, f64),
) {
    let index = M::card().mechanism_index(mechanism).expect(mechanism);
    let request = prepared.request(condition, event);
    let mut nearer = request.clone();
    nearer.horizon_events = nearer_events;
    let far = prepared
        .asked(request)
        .mechanisms
        .swap_remove(index)
        .lives_events;
    let near = prepared
        .asked(nearer)
        .mechanisms
        .swap_remove(index)
        .lives_events;
    let between = quantile(&far, 0.0) < nearer_events && quantile(&far, 1.0) > nearer_events;
    assert!(
        between,
        "a nearer horizon of {nearer_events} tries nothing on {mechanism}"
    );
    for (far, near) in far.iter().zip(&near) {
        assert!(
            (far.min(nearer_events) - near).abs() <= relative * nearer_events,
            "a nearer horizon cuts the same lives: {mechanism} {far} {near}"
        );
    }
}

/// The same input gives the same bits: map, condition and forecast.
#[track_caller]
pub fn same_input_same_bits<M: Model>(prepared: &Prepared<M>, event: &Duty) {
    let bits = |values: &[f64]| {
        values
            .iter()
            .map(|value| value.to_bits())
            .collect::<Vec<u64>>()
    };
    let again = Prepared::<M>::new(prepared.specimen.clone())
        .within(prepared.horizon_events)
        .ahead(&prepared.ahead_events);
    assert_eq!(
        bits(&again.map),
        bits(&prepared.map),
        "same input, same bits: map"
    );
    let (one, other) = (prepared.after(event), again.after(event));
    assert_eq!(bits(&one), bits(&other), "same input, same bits: condition");
    let (one, other) = (
        prepared.forecast(&one, event),
        again.forecast(&other, event),
    );
    assert_eq!(one, other, "same input, same bits: forecast");
}
