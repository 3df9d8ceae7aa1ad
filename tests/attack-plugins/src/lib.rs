//! A plugin that misbehaves as its spec tells it to. The choice `attack` says how; `none` is an
//! honest small model of linear wear, the same component that the attacks are compared with.
//!
//! Attacks on the call itself (hang, hoard, reach outside) happen in `advance`; lies about the
//! condition in `advance`, lies about life in `forecast`.

mod attack;
mod card;

use attack::Attack;
use ringland_plugin::{
    Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, Model, ModelCard, ReadingPath,
    Specimen, check_against_card, normal_draws, shares,
};

struct AttackPlugin;

/// Wear depth for each second of duty at a rate multiplier of 1 [m/s].
const WEAR_RATE_M_S: f64 = 1e-9;

/// Wear depth at which life ends [m].
const WEAR_LIMIT_M: f64 = 1e-2;

impl Model for AttackPlugin {
    fn card() -> ModelCard {
        attack::in_card();
        card::card()
    }

    fn check(specimen: Specimen) -> Vec<Finding> {
        check_against_card(&card::card(), &specimen)
    }

    fn prepare(specimen: Specimen) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(match Attack::of(&specimen) {
            Attack::NanTable => vec![f64::NAN],
            _ => vec![specimen.numbers[0] * WEAR_RATE_M_S],
        })
    }

    fn begin(
        _: Specimen,
        _: Vec<f64>,
        opening: Vec<Option<f64>>,
    ) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(vec![opening[0].unwrap_or(0.0)])
    }

    fn advance(
        specimen: Specimen,
        prepared: Vec<f64>,
        condition: Vec<f64>,
        duties: Vec<Duty>,
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let attack = Attack::of(&specimen);
        attack.on_the_host();
        let mut wear_m = condition[0];
        let mut row = |duty: &Duty| {
            let speeds = duty.channel(0).iter().zip(&duty.time_s);
            wear_m += prepared[0] * speeds.map(|(speed, time_s)| speed * time_s).sum::<f64>();
            vec![wear_m]
        };
        let honest = duties.iter().map(&mut row).collect();
        Ok(attack.on_the_condition(honest))
    }

    fn rework(_: Specimen, _: Vec<f64>, _: Vec<f64>, _: u32) -> Result<Vec<f64>, Vec<Finding>> {
        Ok(vec![0.0])
    }

    fn forecast(
        specimen: Specimen,
        prepared: Vec<f64>,
        request: ForecastRequest,
    ) -> Result<LifeForecast, Vec<Finding>> {
        let event = &request.event;
        let speeds = event.channel(0).iter().zip(&event.time_s);
        let amounts: Vec<f64> = speeds
            .map(|(speed, time_s)| prepared[0] * speed * time_s)
            .collect();
        let per_event_m: f64 = amounts.iter().sum();
        let left_m = (WEAR_LIMIT_M - request.condition[0]).max(0.0);
        let rate = request.rates[0];
        let draws = normal_draws(request.seed, 1, request.samples as usize);
        let life = |z: &f64| {
            let per_event_m = per_event_m * (rate.ln_mean + rate.ln_sd * z).exp();
            if left_m == 0.0 {
                return 0.0;
            }
            if per_event_m <= 0.0 {
                // Also for an event without points, whose empty sum is -0.0.
                return request.horizon_events;
            }
            (left_m / per_event_m).min(request.horizon_events)
        };
        let lives_events: Vec<f64> = draws[0].iter().map(life).collect();
        let ended = lives_events.iter().filter(|&&life| life <= 1.0).count();
        let wear = |z: f64, ahead: &f64| {
            let rate = (rate.ln_mean + z * rate.ln_sd).exp();
            request.condition[0] * rate + ahead * per_event_m * rate
        };
        let path = |z: f64| {
            request
                .ahead_events
                .iter()
                .map(|ahead| wear(z, ahead))
                .collect()
        };
        let honest = LifeForecast {
            readings: vec![ReadingPath {
                low: path(-1.645),
                median: path(0.0),
                high: path(1.645),
                limit: Some(WEAR_LIMIT_M),
            }],
            mechanisms: vec![MechanismLife {
                risk_next_event: ended as f64 / f64::from(request.samples),
                lives_events,
                point_shares: shares(&amounts),
                shock_shares: vec![],
            }],
            notes: vec![],
        };
        Ok(Attack::of(&specimen).on_the_forecast(&request, honest))
    }
}

ringland_plugin::export!(AttackPlugin);
