//! What a forecast returns, against the request and the card.

use super::result_checks::{finite, length};
use crate::contract::{Card, Forecast, ForecastRequest, MechanismLife, ReadingPath};

/// Most notes of one forecast.
const MOST_NOTES: usize = 200;

/// Shares are sums of rounded numbers; they add up to 1 within this.
const SHARES_TOLERANCE: f64 = 1e-6;

/// Standard errors by which a risk may differ from the share of lives drawn within the next event.
const RISK_STANDARD_ERRORS: f64 = 6.0;

pub(super) fn forecast(
    card: &Card,
    request: &ForecastRequest,
    forecast: &Forecast,
) -> Result<(), String> {
    length("readings", card.readings.len(), forecast.readings.len())?;
    for (field, path) in card.readings.iter().zip(&forecast.readings) {
        let named = |reason| format!("reading {}: {reason}", field.name);
        reading(request, path).map_err(named)?;
    }
    length(
        "mechanisms",
        card.mechanisms.len(),
        forecast.mechanisms.len(),
    )?;
    for (mechanism, life) in card.mechanisms.iter().zip(&forecast.mechanisms) {
        let named = |reason| format!("mechanism {}: {reason}", mechanism.name);
        lives(request, life).map_err(named)?;
        risk(request, life).map_err(named)?;
        shares(card, request, life).map_err(named)?;
    }
    if forecast.notes.len() > MOST_NOTES {
        return Err(format!(
            "{} notes where at most {MOST_NOTES} are allowed",
            forecast.notes.len()
        ));
    }
    Ok(())
}

fn reading(request: &ForecastRequest, path: &ReadingPath) -> Result<(), String> {
    let columns = [
        ("low", &path.low),
        ("median", &path.median),
        ("high", &path.high),
    ];
    for (what, column) in columns {
        length(what, request.ahead_events.len(), column.len())?;
        finite(what, column)?;
    }
    finite("limit", path.limit.as_slice())?;
    let rows = path.low.iter().zip(&path.median).zip(&path.high);
    for (at, ((low, median), high)) in rows.enumerate() {
        if !(low <= median && median <= high) {
            return Err(format!(
                "quantiles out of order at {} events ahead: 5 % {low}, 50 % {median}, 95 % {high}",
                request.ahead_events[at]
            ));
        }
    }
    Ok(())
}

fn lives(request: &ForecastRequest, life: &MechanismLife) -> Result<(), String> {
    length(
        "lives_events",
        request.samples as usize,
        life.lives_events.len(),
    )?;
    let allowed = 0.0..=request.horizon_events;
    match life
        .lives_events
        .iter()
        .find(|life| !allowed.contains(life))
    {
        Some(life) => Err(format!(
            "a drawn life of {life} events where 0 to {} are possible",
            request.horizon_events
        )),
        None => Ok(()),
    }
}

/// A risk may be computed more finely than the draws resolve, but not contradict them.
fn risk(request: &ForecastRequest, life: &MechanismLife) -> Result<(), String> {
    let risk = life.risk_next_event;
    if !(0.0..=1.0).contains(&risk) {
        return Err(format!("risk_next_event = {risk} is no probability"));
    }
    if request.horizon_events <= 1.0 {
        // Every life is then drawn as ending within the event, or cut at it.
        return Ok(());
    }
    // The risk is that of a life not yet ended. Lives drawn as 0 have ended already, unnoticed, and
    // a model may count them or not.
    let left = life.lives_events.iter().filter(|&&life| life > 0.0);
    if left.clone().next().is_none() {
        return Ok(());
    }
    let (all, left) = (Draws::of(life.lives_events.iter()), Draws::of(left));
    if all.agree_with(risk) || left.agree_with(risk) {
        return Ok(());
    }
    Err(format!(
        "risk_next_event = {risk} contradicts the drawn lives, of which a share of {} ends within one event",
        left.share
    ))
}

/// How many of some drawn lives end within the next event.
struct Draws {
    count: f64,
    share: f64,
}

impl Draws {
    fn of<'a>(lives: impl Iterator<Item = &'a f64> + Clone) -> Self {
        let count = lives.clone().count() as f64;
        let ended = lives.filter(|&&life| life <= 1.0).count() as f64;
        Self {
            count,
            share: ended / count,
        }
    }

    fn agree_with(&self, risk: f64) -> bool {
        // The larger of the two variances: either may be the true probability.
        let variance = (risk * (1.0 - risk)).max(self.share * (1.0 - self.share)) / self.count;
        let allowed = RISK_STANDARD_ERRORS * (variance.sqrt() + 1.0 / self.count);
        (risk - self.share).abs() <= allowed
    }
}

fn shares(card: &Card, request: &ForecastRequest, life: &MechanismLife) -> Result<(), String> {
    length(
        "point_shares",
        request.event.time_s.len(),
        life.point_shares.len(),
    )?;
    length(
        "shock_shares",
        card.duty.shocks.len(),
        life.shock_shares.len(),
    )?;
    let all = || life.point_shares.iter().chain(&life.shock_shares);
    if let Some(share) = all().find(|share| !(0.0..=1.0 + SHARES_TOLERANCE).contains(*share)) {
        return Err(format!("a share of {share} where 0 to 1 is possible"));
    }
    let sum: f64 = all().sum();
    let none = all().all(|share| *share == 0.0);
    if none || (sum - 1.0).abs() <= SHARES_TOLERANCE {
        return Ok(());
    }
    Err(format!("point and shock shares add up to {sum}, not to 1"))
}
