//! Laws of `forecast`. Lengths, ranges, ordered quantiles, shares and risks are checked by the host
//! in every call.

use crate::{
    report::Law,
    sample::no_duty,
    subject::{HORIZON_EVENTS, Subject},
};
use ringland_host::contract::{Forecast, ForecastRequest, LimitSide};

pub(crate) const LAWS: &[Law] = &[
    (
        "more use never lengthens the life that is left",
        use_shortens_life,
    ),
    ("a faster rate never lengthens a life", rate_shortens_life),
    ("a nearer horizon cuts the same lives", horizon_cuts),
    (
        "an event of no duty leaves every life at the horizon",
        idle_event_keeps_life,
    ),
    (
        "a life ends where its reading meets its limit",
        life_ends_at_the_limit,
    ),
];

/// Rounding, as a share of a life.
const ROUNDING: f64 = 1e-6;

/// How closely the reading at the end of a life meets its limit, as a share of the way there:
/// plugins interpolate both.
const LIMIT_TOLERANCE: f64 = 0.05;

fn mean_lives(forecast: &Forecast) -> Vec<f64> {
    let mean = |lives: &Vec<f64>| lives.iter().sum::<f64>() / lives.len() as f64;
    forecast
        .mechanisms
        .iter()
        .map(|m| mean(&m.lives_events))
        .collect()
}

/// Compares mean lives, mechanism by mechanism.
fn no_longer(subject: &Subject, before: &[f64], after: &[f64]) -> Result<(), String> {
    for (mechanism, (before, after)) in subject.card.mechanisms.iter().zip(before.iter().zip(after))
    {
        if *after > before * (1.0 + ROUNDING) {
            return Err(format!(
                "mean life of {} rises from {before} to {after} events",
                mechanism.name
            ));
        }
    }
    Ok(())
}

fn use_shortens_life(subject: &Subject) -> Result<String, String> {
    let start = subject.new_condition(&subject.specimen())?;
    let mut conditions = vec![start];
    conditions.extend(subject.after(&vec![subject.duty(3600.0); 4])?);
    let mut before: Option<Vec<f64>> = None;
    for condition in conditions {
        let lives = mean_lives(&subject.forecast(&subject.request(condition))?);
        if let Some(before) = &before {
            no_longer(subject, before, &lives)?;
        }
        before = Some(lives);
    }
    Ok(format!(
        "mean lives after four hours: {} events",
        numbers(&before.unwrap_or_default())
    ))
}

fn rate_shortens_life(subject: &Subject) -> Result<String, String> {
    let request = used_request(subject)?;
    let mut faster = request.clone();
    for rate in &mut faster.rates {
        rate.ln_mean += 0.5;
    }
    let before = mean_lives(&subject.forecast(&request)?);
    let after = mean_lives(&subject.forecast(&faster)?);
    no_longer(subject, &before, &after)?;
    Ok(String::new())
}

fn horizon_cuts(subject: &Subject) -> Result<String, String> {
    let far = used_request(subject)?;
    let mut near = far.clone();
    near.horizon_events = 3.5;
    let (far, cut) = (subject.forecast(&far)?, subject.forecast(&near)?);
    for (mechanism, (far, cut)) in subject
        .card
        .mechanisms
        .iter()
        .zip(far.mechanisms.iter().zip(&cut.mechanisms))
    {
        for (far, cut) in far.lives_events.iter().zip(&cut.lives_events) {
            let expected = far.min(near.horizon_events);
            if (cut - expected).abs() > 1e-3 * near.horizon_events {
                return Err(format!(
                    "{}: the same draw lives {far} events of {HORIZON_EVENTS} and {cut} of {}",
                    mechanism.name, near.horizon_events
                ));
            }
        }
    }
    Ok(String::new())
}

fn idle_event_keeps_life(subject: &Subject) -> Result<String, String> {
    let mut request = used_request(subject)?;
    request.event = no_duty(&subject.card);
    let idle = subject.forecast(&request)?;
    for (mechanism, life) in subject.card.mechanisms.iter().zip(&idle.mechanisms) {
        let ended_or_kept = |life: &f64| *life == 0.0 || *life == HORIZON_EVENTS;
        if let Some(life) = life.lives_events.iter().find(|life| !ended_or_kept(life)) {
            return Err(format!(
                "{} ends after {life} events of nothing",
                mechanism.name
            ));
        }
    }
    Ok(String::new())
}

/// For each mechanism with a reading that has a limit: at the median life of a part of known
/// rates, the median reading is at its limit.
fn life_ends_at_the_limit(subject: &Subject) -> Result<String, String> {
    let mut request = used_request(subject)?;
    request.rates.iter_mut().for_each(|rate| rate.ln_sd = 0.0);
    let first = subject.forecast(&request)?;
    let mut seen = Vec::new();
    for (mechanism, life) in subject.card.mechanisms.iter().zip(&first.mechanisms) {
        let Some(name) = &mechanism.reading else {
            continue;
        };
        let fields = &subject.card.readings;
        let Some(index) = fields.iter().position(|reading| &reading.name == name) else {
            continue;
        };
        let mut lives = life.lives_events.clone();
        lives.sort_by(f64::total_cmp);
        let median = lives[lives.len() / 2];
        if fields[index].limit_side == LimitSide::Unlimited
            || median <= 0.0
            || median >= HORIZON_EVENTS
        {
            continue;
        }
        request.ahead_events = vec![0.0, median];
        let path = subject.forecast(&request)?.readings.swap_remove(index);
        let Some(limit) = path.limit else {
            return Err(format!(
                "the reading {name} has a limit on the card and none here"
            ));
        };
        let (now, end) = (path.median[0], path.median[1]);
        let off = (end - limit).abs() / (limit - now).abs();
        if off > LIMIT_TOLERANCE {
            return Err(format!(
                "{} ends after {median} events, where {name} is {end} on its way from {now} to {limit}",
                mechanism.name
            ));
        }
        seen.push(format!("{name} {median:.2} events"));
    }
    Ok(seen.join(", "))
}

/// A request for a component with an hour of use.
fn used_request(subject: &Subject) -> Result<ForecastRequest, String> {
    let rows = subject.after(&[subject.duty(3600.0)])?;
    Ok(subject.request(rows.into_iter().next_back().unwrap_or_default()))
}

fn numbers(values: &[f64]) -> String {
    let texts: Vec<String> = values.iter().map(|value| format!("{value:.2}")).collect();
    texts.join(", ")
}
