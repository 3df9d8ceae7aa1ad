//! Readings as the fit takes them, and what is believed of their levels before any.

use super::{
    expected::{Expected, Readings},
    quantiles,
};
use crate::{AssessSeating, BreakInPull, Quantiles};
use ringland_mechanics::statistics::{
    correction::Belief,
    exponential_fall::{FallReading, LevelPrior, Series},
    normal,
};

/// Reference state of blow-by.
const REFERENCE_PA: f64 = 1.0e5;
const REFERENCE_K: f64 = 300.0;

/// Meter from reading to reading, as a share. Assumed.
const METER_SD_RELATIVE: f64 = 0.02;
/// Shared by a day's readings, so that both make 5 % (common practice, no source).
const METER_COMMON_SD: f64 = 0.045;
/// Leak-down tester (common practice, no source).
const LEAK_DOWN_SD: f64 = 0.01;

/// Spread of the model's seated level from engine to engine. Assumed.
const MODEL_END_SD: f64 = 0.25;
/// Spread of a seated level that the call gives. Assumed.
const GIVEN_END_SD: f64 = 0.15;
/// Spread of the drop, of its own size. Assumed.
const DROP_SD: f64 = 0.5;
/// Without anything else, shares of the highest reading. As built, blow-by is about twice the seated one (common
/// practice, no source).
const BARE_END: (f64, f64) = (0.55, 0.3);
const BARE_DROP: (f64, f64) = (0.5, 0.4);
/// Model of leak-down: what its level may be off by.
const LEAK_DOWN_FLOOR: f64 = 0.01;
/// A model that begins above this share says nothing of the drop.
const MOST_SHARE_FOR_DROP: f64 = 0.9;

/// One measured quantity: readings by index of the pull.
pub(super) struct Measured {
    pub(super) kind: Kind,
    /// Index of the pull and the level, blow-by at the reference state.
    pub(super) levels: Vec<(usize, f64)>,
    pub(super) prior: LevelPrior,
    pub(super) source: String,
    /// Error from reading to reading: of every reading, and as a share of the level.
    sd: f64,
    sd_relative: f64,
    /// Shared by all readings, as a share.
    pub(super) common_sd: f64,
}

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    BlowBy,
    LeakDown,
}

impl Measured {
    /// Error of a reading at a level, from reading to reading.
    pub(super) fn sd_at(&self, level: f64) -> f64 {
        libm::hypot(self.sd, self.sd_relative * level)
    }

    /// The readings for the fit; `level` gives the level at which each reading's error is taken, since the reading itself
    /// would weigh low ones too much.
    pub(super) fn series(&self, doses: &[f64], level: impl Fn(usize, f64) -> f64) -> Series {
        let readings = self.levels.iter().filter_map(|&(index, reading)| {
            Some(FallReading {
                dose: *doses.get(index)?,
                level: reading,
                sd: self.sd_at(level(index, reading).max(0.0)).max(1e-12),
            })
        });
        Series {
            readings: readings.collect(),
            prior: self.prior,
        }
    }
}

/// Blow-by of the call, if any was read.
pub(super) fn blow_by(call: &AssessSeating, expected: Option<&Expected>) -> Option<Measured> {
    let levels = levels(call, |pull| {
        pull.blow_by_m3_s.map(|flow| at_reference(pull, flow))
    });
    let highest = highest(&levels)?;
    let meter = &call.blow_by_meter;
    let common_sd = meter.common_sd_relative.unwrap_or(METER_COMMON_SD);
    let (sd, sd_relative) = match (meter.sd_m3_s, meter.sd_relative) {
        (None, None) => (0.0, METER_SD_RELATIVE),
        (sd, relative) => (sd.unwrap_or(0.0), relative.unwrap_or(0.0)),
    };
    let (prior, source) = if let Some(end) = call.expected_end_m3_s {
        let prior = prior_of(
            (end, libm::hypot(GIVEN_END_SD, common_sd) * end),
            (end, DROP_SD * end),
        );
        (
            prior,
            "blow-by ends at the level given, within 15 % (assumed)".to_owned(),
        )
    } else if let Some((end, drop)) = modelled(expected, |readings| readings.blow_by) {
        let prior = prior_of(
            (end, libm::hypot(MODEL_END_SD, common_sd) * end),
            (drop, DROP_SD * drop),
        );
        (
            prior,
            "blow-by ends at the model's level, within 25 % from engine to engine (assumed)"
                .to_owned(),
        )
    } else {
        (bare(highest), "blow-by ends near half of the highest reading, by a wide margin: as built it is about twice the \
                         seated one (common practice, no source)".to_owned())
    };
    Some(Measured {
        kind: Kind::BlowBy,
        levels,
        prior,
        source,
        sd,
        sd_relative,
        common_sd,
    })
}

/// A seated level of the model with what it differs by from engine to engine.
pub(super) fn from_engine_to_engine(level: Quantiles) -> Quantiles {
    quantiles(|p| level.p50 * (1.0 + MODEL_END_SD * normal::quantile(p)))
}

/// Leak-down of the call, where readings can be compared with each other.
pub(super) fn leak_down(call: &AssessSeating, expected: Option<&Expected>) -> Option<Measured> {
    let levels = levels(call, |pull| {
        pull.leak_down_fraction.filter(|_| comparable(call, pull))
    });
    let highest = highest(&levels)?;
    let sd = call.leak_down_sd.unwrap_or(LEAK_DOWN_SD);
    let (prior, source) =
        if let Some((end, drop)) = modelled(expected, |readings| readings.leak_down) {
            let prior = prior_of(
                (end, libm::hypot(LEAK_DOWN_FLOOR, 0.5 * end)),
                (drop, libm::hypot(LEAK_DOWN_FLOOR, DROP_SD * drop)),
            );
            (
                prior,
                "leak-down ends at the model's level, within half of it (assumed)".to_owned(),
            )
        } else {
            let highest = highest.max(LEAK_DOWN_FLOOR);
            (
                bare(highest),
                "leak-down ends near half of the highest reading, by a wide margin (assumed)"
                    .to_owned(),
            )
        };
    Some(Measured {
        kind: Kind::LeakDown,
        levels,
        prior,
        source,
        sd,
        sd_relative: 0.0,
        common_sd: 0.0,
    })
}

/// A volume flow of a pull's meter at 1 bar and 300 K.
pub(super) fn at_reference(pull: &BreakInPull, flow_m3_s: f64) -> f64 {
    let pressure = pull.blow_by_pressure_pa.unwrap_or(REFERENCE_PA);
    let temperature = pull.blow_by_temp_k.unwrap_or(REFERENCE_K);
    flow_m3_s * (pressure / REFERENCE_PA) * (REFERENCE_K / temperature)
}

/// Hot, and by the same orifice as the first hot reading.
pub(super) fn comparable(call: &AssessSeating, pull: &BreakInPull) -> bool {
    let first = call.pulls.iter().find(|other| is_hot(other));
    is_hot(pull) && first.is_some_and(|first| same_orifice(first, pull))
}

/// Readings that do not say are taken as hot, and the reader told.
pub(super) fn is_hot(pull: &BreakInPull) -> bool {
    pull.leak_down_fraction.is_some() && pull.leak_down_hot != Some(false)
}

pub(super) fn same_orifice(a: &BreakInPull, b: &BreakInPull) -> bool {
    match (a.leak_down_orifice_m, b.leak_down_orifice_m) {
        (Some(a), Some(b)) => (a - b).abs() <= 0.02 * a,
        _ => true,
    }
}

fn levels(call: &AssessSeating, of: impl Fn(&BreakInPull) -> Option<f64>) -> Vec<(usize, f64)> {
    let pulls = call.pulls.iter().enumerate();
    pulls
        .filter_map(|(index, pull)| Some((index, of(pull)?)))
        .collect()
}

fn highest(levels: &[(usize, f64)]) -> Option<f64> {
    levels.iter().map(|(_, level)| *level).reduce(f64::max)
}

/// End and drop by the model.
fn modelled(
    expected: Option<&Expected>,
    of: impl Fn(&Readings) -> Option<Quantiles>,
) -> Option<(f64, f64)> {
    let expected = expected?;
    let end = of(expected.end.as_ref()?)?.p50;
    let start = expected
        .start
        .filter(|start| start.share.p50 < MOST_SHARE_FOR_DROP);
    let drop = start.and_then(|start| Some((of(&start)?.p50 - end) / (1.0 - start.share.p50)));
    let drop = drop.filter(|drop| *drop > 0.0).unwrap_or(end);
    (end > 0.0).then_some((end, drop))
}

fn bare(highest: f64) -> LevelPrior {
    let of = |(mean, sd): (f64, f64)| (mean * highest, sd * highest);
    prior_of(of(BARE_END), of(BARE_DROP))
}

fn prior_of(end: (f64, f64), drop: (f64, f64)) -> LevelPrior {
    let belief = |(mean, sd): (f64, f64)| Belief { mean, sd };
    LevelPrior {
        end: belief(end),
        drop: belief(drop),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The ideal gas law: 100 l/min at 1.05 bar and 330 K carry the mass of 95.45 l/min at 1 bar and 300 K.
    #[test]
    fn flow_is_taken_to_the_reference_state() {
        let pull = BreakInPull {
            blow_by_pressure_pa: Some(1.05e5),
            blow_by_temp_k: Some(330.0),
            ..BreakInPull::default()
        };
        assert!((at_reference(&pull, 100.0) - 95.4545).abs() < 1e-3);
        assert!((at_reference(&BreakInPull::default(), 100.0) - 100.0).abs() < 1e-12);
    }

    #[test]
    fn cold_leak_down_and_another_orifice_are_not_compared() {
        let reading = |hot, orifice| BreakInPull {
            leak_down_fraction: Some(0.05),
            leak_down_hot: hot,
            leak_down_orifice_m: orifice,
            ..BreakInPull::default()
        };
        let call = AssessSeating {
            pulls: vec![
                reading(Some(false), Some(1e-3)),
                reading(Some(true), Some(1e-3)),
                reading(Some(true), Some(1.5e-3)),
                reading(None, None),
            ],
            ..AssessSeating::default()
        };
        let kept: Vec<usize> = leak_down(&call, None)
            .unwrap()
            .levels
            .iter()
            .map(|(i, _)| *i)
            .collect();
        assert_eq!(kept, [1, 3]);
    }
}
