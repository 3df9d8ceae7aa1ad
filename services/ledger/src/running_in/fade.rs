//! Power lost by measured pulls, by the parts' models, and the one against the other.

use super::quantiles;
use crate::{
    ComponentPowerLoss, FadeComparison, MeasuredFade, PowerPullUsed, PredictedFade, Prediction,
    Quantiles, ReadingAhead, ReadingPrediction,
};
use ringland_host::contract::Consequence;
use ringland_mechanics::statistics::{
    correction::Belief,
    line::{Line, LineReading, line},
    normal,
};

pub(super) const POWER_LOSS: &str = "power_loss_fraction";
/// Events ahead at which predicted loss is asked for.
pub(super) const AHEAD: [f64; 15] = [
    1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0, 32.0, 48.0, 64.0, 100.0,
];
/// Beyond it nothing is said.
pub(super) const HORIZON: f64 = 100.0;
/// From this probability on a loss is more than the parts explain. Assumed.
const UNEXPLAINED: f64 = 0.95;
const DRIVERS: usize = 3;

/// A straight fade: the line of power over age, and now.
pub(super) struct Trend {
    line: Line,
    now: f64,
}

impl Trend {
    /// Through the pulls, and a baseline at age 0 if there is one. `None` with fewer than two ages.
    pub(super) fn of(
        pulls: &[(f64, f64)],
        baseline_w: Option<f64>,
        sd_relative: f64,
        now: f64,
    ) -> Option<Self> {
        let reading = |(events, power): (f64, f64)| LineReading {
            x: events,
            y: power,
            sd: sd_relative * power,
        };
        let baseline = baseline_w.map(|power| (0.0, power));
        let readings: Vec<LineReading> = baseline
            .into_iter()
            .chain(pulls.iter().copied())
            .map(reading)
            .collect();
        // Too few ages is what the caller tells.
        let found = line(&readings).ok().filter(|line| line.intercept > 0.0)?;
        // Readings that scatter more than their error say less.
        let free = found.readings.saturating_sub(2);
        let scatter = if free > 0 {
            found.chi_squared / free as f64
        } else {
            1.0
        };
        Some(Self {
            line: found.widened(scatter.max(1.0)),
            now,
        })
    }

    /// Share of the baseline lost at an age, normal about it (first-order propagation of both errors of the line).
    pub(super) fn loss(&self, events: f64) -> Belief {
        let Line {
            intercept,
            slope,
            intercept_variance,
            slope_variance,
            covariance,
            ..
        } = self.line;
        let ratio = slope / intercept;
        let variance =
            slope_variance - 2.0 * ratio * covariance + ratio * ratio * intercept_variance;
        Belief {
            mean: -ratio * events,
            sd: events * variance.max(0.0).sqrt() / intercept,
        }
    }

    /// Of which baseline and how fast.
    pub(super) fn answer(&self, limit: f64) -> MeasuredFade {
        let free = self.line.readings.saturating_sub(2);
        MeasuredFade {
            baseline_power_w: of_belief(self.line.at(0.0)),
            loss_fraction_per_event: of_belief(self.loss(1.0)),
            loss_fraction_now: of_belief(self.loss(self.now)),
            events_to_limit: self.events_to(limit),
            horizon_events: HORIZON,
            chi_squared: self.line.chi_squared,
            degrees_of_freedom: free,
        }
    }

    /// More events until the loss is at the limit. The loss is a rate times age, so that its quantile is one too.
    fn events_to(&self, limit: f64) -> Quantiles {
        let rate = self.loss(1.0);
        quantiles(|p| {
            let fast = rate.mean + rate.sd * normal::quantile(1.0 - p);
            if fast <= 0.0 {
                return HORIZON;
            }
            (limit / fast - self.now).clamp(0.0, HORIZON)
        })
    }

    /// A pull beside the line.
    pub(super) fn used(&self, pull: PowerPullUsed) -> PowerPullUsed {
        PowerPullUsed {
            loss_fraction: Some(1.0 - pull.corrected_power_w / self.line.intercept),
            fitted_loss_fraction: Some(of_belief(self.loss(pull.events))),
            ..pull
        }
    }
}

fn of_belief(belief: Belief) -> Quantiles {
    quantiles(|p| belief.mean + belief.sd * normal::quantile(p))
}

/// The reading of a part, if its model has it.
pub(super) fn power_loss(prediction: &Prediction) -> Option<&ReadingPrediction> {
    prediction
        .readings
        .iter()
        .find(|reading| reading.reading == POWER_LOSS)
}

/// Sum over parts. `None` without any.
pub(super) fn predicted(parts: &[Prediction], limit: f64) -> Option<PredictedFade> {
    let readings: Vec<&ReadingPrediction> = parts.iter().filter_map(power_loss).collect();
    if readings.is_empty() {
        return None;
    }
    let now = sum(readings.iter().map(|reading| reading.now));
    let ahead = AHEAD
        .iter()
        .enumerate()
        .map(|(index, events)| ReadingAhead {
            events: *events,
            value: sum(readings
                .iter()
                .filter_map(|reading| reading.ahead.get(index))
                .map(|ahead| ahead.value)),
        });
    let ahead: Vec<ReadingAhead> = ahead.collect();
    let mut components: Vec<ComponentPowerLoss> = parts.iter().filter_map(part).collect();
    components.sort_by(|a, b| b.loss_fraction_now.p50.total_cmp(&a.loss_fraction_now.p50));
    let to_limit = |of: fn(&Quantiles) -> f64| {
        let path = ahead.iter().map(|ahead| (ahead.events, of(&ahead.value)));
        reached([(0.0, of(&now))].into_iter().chain(path), limit)
    };
    Some(PredictedFade {
        loss_fraction_now: now,
        // The larger the loss, the sooner.
        events_to_limit: Quantiles {
            p05: to_limit(|q| q.p95),
            p50: to_limit(|q| q.p50),
            p95: to_limit(|q| q.p05),
        },
        ahead,
        horizon_events: HORIZON,
        components,
    })
}

/// Where a path first reaches a value, straight between its points; at the horizon when it does not.
fn reached(path: impl Iterator<Item = (f64, f64)>, value: f64) -> f64 {
    let mut before: Option<(f64, f64)> = None;
    for (events, level) in path {
        if level >= value {
            return match before {
                Some((from, low)) if level > low => {
                    from + (events - from) * (value - low) / (level - low)
                }
                _ => events,
            };
        }
        before = Some((events, level));
    }
    HORIZON
}

/// Medians add, and so do the squares of the spreads of either side, as of parts that know nothing of each other.
fn sum(parts: impl Iterator<Item = Quantiles>) -> Quantiles {
    let (mut middle, mut below, mut above) = (0.0, 0.0, 0.0);
    for part in parts {
        middle += part.p50;
        below = libm::hypot(below, part.p50 - part.p05);
        above = libm::hypot(above, part.p95 - part.p50);
    }
    Quantiles {
        p05: middle - below,
        p50: middle,
        p95: middle + above,
    }
}

fn part(prediction: &Prediction) -> Option<ComponentPowerLoss> {
    let reading = power_loss(prediction)?;
    let takes_power = prediction
        .mechanisms
        .iter()
        .filter(|m| m.consequence == Consequence::PowerLoss);
    let first = takes_power.reduce(|a, b| {
        if b.first_probability > a.first_probability {
            b
        } else {
            a
        }
    });
    Some(ComponentPowerLoss {
        component: prediction.component.clone(),
        label: reading.label.clone(),
        loss_fraction_now: reading.now,
        loss_fraction_next: reading
            .ahead
            .first()
            .map(|ahead| ahead.value)
            .unwrap_or_default(),
        mechanism: first.map(|m| m.label.clone()).unwrap_or_default(),
        drivers: first
            .map(|m| m.drivers.iter().take(DRIVERS).cloned().collect())
            .unwrap_or_default(),
    })
}

/// Measured less predicted, now.
pub(super) fn compare(trend: &Trend, predicted: &PredictedFade) -> FadeComparison {
    let measured = trend.loss(trend.now);
    let model = predicted.loss_fraction_now;
    let difference = measured.mean - model.p50;
    // The side of the model's spread that lies towards what was measured.
    let side = if difference > 0.0 {
        model.p95 - model.p50
    } else {
        model.p50 - model.p05
    };
    let sd = libm::hypot(measured.sd, side / normal::quantile(0.95));
    let more = if sd > 0.0 {
        normal::cdf(difference / sd)
    } else {
        f64::from(u8::from(difference > 0.0))
    };
    FadeComparison {
        excess_fraction: of_belief(Belief {
            mean: difference,
            sd,
        }),
        more_probability: more,
        unexplained: more >= UNEXPLAINED,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 300 kW that lose 0.2 % an event without noise: 2 % after ten events.
    #[test]
    fn a_straight_fade_is_found() {
        let pulls: Vec<(f64, f64)> = (0..5)
            .map(|i| (f64::from(i), 3e5 * (1.0 - 0.002 * f64::from(i))))
            .collect();
        let trend = Trend::of(&pulls, None, 1e-6, 4.0).unwrap();
        let answer = trend.answer(0.02);
        assert!((answer.baseline_power_w.p50 - 3e5).abs() < 1.0);
        assert!((answer.loss_fraction_now.p50 - 0.008).abs() < 1e-6);
        assert!(
            (answer.events_to_limit.p50 - 6.0).abs() < 1e-2,
            "{:?}",
            answer.events_to_limit
        );
    }

    /// By simulation: the 90 % interval of the rate holds the truth in 87 to 93 %.
    #[test]
    fn the_interval_of_the_rate_holds_the_truth() {
        use ringland_mechanics::statistics::sampling::SplitMix64;
        let mut random = SplitMix64::new(5);
        let mut held = 0;
        for _ in 0..2000 {
            let pulls = (0..6).map(|i| {
                let (age, z) = (f64::from(i), normal::quantile(random.next_open()));
                (age, 3e5 * (1.0 - 0.002 * age) * (1.0 + 0.005 * z))
            });
            let pulls: Vec<(f64, f64)> = pulls.collect();
            let reading = |&(x, y): &(f64, f64)| LineReading {
                x,
                y,
                sd: 0.005 * 3e5,
            };
            let found = line(&pulls.iter().map(reading).collect::<Vec<_>>()).unwrap();
            let rate = of_belief(
                Trend {
                    line: found,
                    now: 5.0,
                }
                .loss(1.0),
            );
            held += usize::from((rate.p05..=rate.p95).contains(&0.002));
        }
        assert!((1740..=1860).contains(&held), "{held} of 2000");
    }

    #[test]
    fn one_pull_needs_a_baseline() {
        assert!(Trend::of(&[(3.0, 2.9e5)], None, 0.005, 3.0).is_none());
        let trend = Trend::of(&[(3.0, 2.94e5)], Some(3e5), 0.005, 3.0).unwrap();
        assert!((trend.answer(0.02).loss_fraction_now.p50 - 0.02).abs() < 1e-9);
        assert!(trend.answer(0.02).events_to_limit.p50 < 1e-9, "it is there");
    }

    #[test]
    fn losses_add_and_limits_are_met_between_points() {
        let of = |p50: f64| Quantiles {
            p05: p50 - 0.003,
            p50,
            p95: p50 + 0.004,
        };
        let both = sum([of(0.01), of(0.02)].into_iter());
        assert!((both.p50 - 0.03).abs() < 1e-15);
        assert!((both.p95 - both.p50 - 0.004 * 2f64.sqrt()).abs() < 1e-12);
        let path = [(0.0, 0.0), (2.0, 0.01), (4.0, 0.03)];
        assert!((reached(path.into_iter(), 0.02) - 3.0).abs() < 1e-12);
        assert!((reached(path.into_iter(), 0.2) - HORIZON).abs() < 1e-12);
    }
}
