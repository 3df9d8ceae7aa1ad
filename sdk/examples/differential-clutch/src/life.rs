//! From a condition and an event to lives, risks and readings.

use crate::pack::{Condition, Pack};
use ringland_plugin::{
    ForecastRequest, LifeForecast, MechanismLife, Rate, ReadingPath, normal_cdf, normal_draws,
    shares,
};

/// Most events that the way ahead is followed for; lives beyond are the horizon.
const MOST_EVENTS: usize = 5_000;

/// Standard normal quantile of 95 %.
const Z_95: f64 = 1.644_853_626_951_472_7;

/// The way ahead at a rate multiplier of 1: what a mechanism has used up, after 0, 1, 2 ... events.
/// A multiplier scales it. Wear, preload and modifier act on each other along this way only.
struct Way {
    used: Vec<f64>,
    limit: f64,
}

impl Way {
    /// Used up after some events, by linear interpolation.
    fn at(&self, events: f64) -> f64 {
        let last = self.used.len() - 1;
        let below = (events.max(0.0) as usize).min(last);
        let above = (below + 1).min(last);
        let part = (events - below as f64).clamp(0.0, 1.0);
        self.used[below] + part * (self.used[above] - self.used[below])
    }

    /// Events until a part with this rate multiplier reaches the limit, at most `horizon`.
    fn life(&self, multiplier: f64, horizon: f64) -> f64 {
        let end = self.limit / multiplier;
        let reached = self.used.partition_point(|&used| used < end);
        if reached == 0 {
            return 0.0;
        }
        let Some(&after) = self.used.get(reached) else {
            return horizon;
        };
        let before = self.used[reached - 1];
        ((reached - 1) as f64 + (end - before) / (after - before)).min(horizon)
    }

    /// Probability that the next event reaches the limit, given that it was not reached before.
    fn risk(&self, rate: Rate) -> f64 {
        let over = |used: f64| match used > 0.0 {
            true => spread_cdf(rate.ln_mean + (used / self.limit).ln(), rate.ln_sd),
            false => 0.0,
        };
        let (now, then) = (over(self.used[0]), over(self.at(1.0)));
        if now >= 1.0 {
            return 1.0;
        }
        ((then - now) / (1.0 - now)).clamp(0.0, 1.0)
    }
}

/// Probability that a normal variable with this mean and standard deviation is 0 or more.
fn spread_cdf(mean: f64, sd: f64) -> f64 {
    if sd > 0.0 {
        normal_cdf(mean / sd)
    } else {
        f64::from(u8::from(mean >= 0.0))
    }
}

pub fn forecast(pack: &Pack, request: &ForecastRequest) -> LifeForecast {
    let now = Condition::from_row(&request.condition);
    let ways = ways(pack, &now, request);
    let rates = rates(pack, request);
    let draws = normal_draws(request.seed, 2, request.samples as usize);
    let point_shares = shares(&pack.losses_m(&now, &request.event));
    // Plate wear and preload loss have one cause and share its draw; the oil has its own.
    let mechanisms = ways.iter().zip(rates).zip([0, 0, 1]);
    let mechanisms = mechanisms.map(|((way, rate), column)| MechanismLife {
        lives_events: lives(way, rate, &draws[column], request.horizon_events),
        risk_next_event: way.risk(rate),
        point_shares: point_shares.clone(),
        shock_shares: Vec::new(),
    });
    LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: readings(pack, &ways, &rates, request),
        notes: Vec::new(),
    }
}

fn lives(way: &Way, rate: Rate, draws: &[f64], horizon: f64) -> Vec<f64> {
    let life = |z: &f64| way.life((rate.ln_mean + rate.ln_sd * z).exp(), horizon);
    draws.iter().map(life).collect()
}

/// The ways of the three mechanisms: stack loss [m], loss not made up by shims [m], and the
/// modifier's dose, -ln of what is left.
fn ways(pack: &Pack, now: &Condition, request: &ForecastRequest) -> [Way; 3] {
    let events = (request.horizon_events.ceil() as usize).min(MOST_EVENTS);
    let next = |condition: &Condition| Some(pack.after(condition, &request.event));
    let ahead: Vec<Condition> = std::iter::successors(Some(*now), next)
        .take(events + 1)
        .collect();
    let way = |used: &dyn Fn(&Condition) -> f64, limit| Way {
        used: ahead.iter().map(used).collect(),
        limit,
    };
    let slack = crate::pack::SPRING_TRAVEL_M;
    let preload_travel_m = slack * (1.0 - pack.preload_limit_n_m / pack.preload_n_m);
    [
        way(&|c| c.stack_loss_m, pack.stack_loss_limit_m),
        way(&|c| c.stack_loss_m - c.shimmed_m, preload_travel_m),
        way(
            &|c| -pack.modifier(c.energy_in_oil_j).ln(),
            -pack.modifier_limit.ln(),
        ),
    ]
}

/// What is believed of each rate; the plates' own spread adds to that of wear.
fn rates(pack: &Pack, request: &ForecastRequest) -> [Rate; 3] {
    let worn = |rate: Rate| Rate {
        ln_mean: rate.ln_mean,
        ln_sd: rate.ln_sd.hypot(pack.wear_ln_sd),
    };
    [
        worn(request.rates[0]),
        worn(request.rates[1]),
        request.rates[2],
    ]
}

fn readings(
    pack: &Pack,
    ways: &[Way; 3],
    rates: &[Rate; 3],
    request: &ForecastRequest,
) -> Vec<ReadingPath> {
    let path = |index: usize, rate_z: f64, show: &dyn Fn(f64) -> f64| -> Vec<f64> {
        let rate = rates[index];
        let multiplier = (rate.ln_mean + rate_z * rate.ln_sd).exp();
        let ahead = request.ahead_events.iter();
        ahead
            .map(|&events| show(multiplier * ways[index].at(events)))
            .collect()
    };
    let rising = |index, show: &dyn Fn(f64) -> f64, limit| ReadingPath {
        low: path(index, -Z_95, show),
        median: path(index, 0.0, show),
        high: path(index, Z_95, show),
        limit: Some(limit),
    };
    // The faster the loss, the lower the reading.
    let falling = |index, show: &dyn Fn(f64) -> f64, limit| ReadingPath {
        low: path(index, Z_95, show),
        median: path(index, 0.0, show),
        high: path(index, -Z_95, show),
        limit: Some(limit),
    };
    vec![
        rising(0, &|loss_m| loss_m, pack.stack_loss_limit_m),
        falling(1, &|loss_m| pack.preload(loss_m), pack.preload_limit_n_m),
        falling(2, &|dose| (-dose).exp(), pack.modifier_limit),
    ]
}
