//! From the pulls of a break-in to how far the rings are seated.

use super::{
    decision::{Case, SEATED_SHARE},
    expected::{BLOW_BY, Expected, LEAK_DOWN, SEATING},
    guards::guards,
    matching::{Doses, doses},
    priors::{self, Kind, Measured, from_engine_to_engine},
    quantiles,
    seating_rules::{check, numbers},
    spread, warning,
};
use crate::{
    AssessSeating, BreakInCost, DutyRecordName, LedgerError, Quantiles, SeatingAssessment,
    SeatingLeastSquares, SeatingPull, ledger::Ledger,
};
use ringland_mechanics::statistics::{
    StatisticsError,
    exponential_fall::{Fall, FallReading, least_squares},
};

/// Readings from which a fit without prior has something to be checked by.
const READINGS_TO_FIT: usize = 4;

const CAUTIONS: [&str; 2] = [
    "the engine's maker and the ring maker say how their rings are run in; what they say comes first",
    "full-load pulls are use: watch oil pressure, temperatures and knock, and stop on any of them, seated or not",
];

impl Ledger {
    /// Says how far rings are seated, from what was read over the pulls of a break-in. Nothing is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with everything that is wrong, [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`] when the component's model does not predict what is needed or cannot answer, and
    /// the store's.
    pub fn assess_seating(&self, call: &AssessSeating) -> Result<SeatingAssessment, LedgerError> {
        check(call)?;
        let expected = match &call.component {
            Some(component) => {
                let mut needed = vec![SEATING];
                needed.extend(
                    call.pulls
                        .iter()
                        .any(|pull| pull.blow_by_m3_s.is_some())
                        .then_some(BLOW_BY),
                );
                needed.extend(
                    call.pulls
                        .iter()
                        .any(|pull| pull.leak_down_fraction.is_some())
                        .then_some(LEAK_DOWN),
                );
                let named: Vec<DutyRecordName> = call
                    .pulls
                    .iter()
                    .filter_map(|pull| pull.duty_record.clone())
                    .collect();
                Some(self.expected(component, call.profile.as_ref(), &named, &needed)?)
            }
            None => None,
        };
        let numbers = numbers(&call.pulls);
        let (doses, unmatched) = doses(&call.pulls, &numbers, expected.as_ref());
        let measured: Vec<Measured> = [
            priors::blow_by(call, expected.as_ref()),
            priors::leak_down(call, expected.as_ref()),
        ]
        .into_iter()
        .flatten()
        .collect();
        let fall = fall(&doses, &measured)?;
        let mut assessment = assess(call, &numbers, &doses, &measured, &fall, expected.as_ref())?;
        if let Some(why) = unmatched {
            assessment.findings.push(warning(
                "pulls.duty_record",
                why,
                "a record for each pull, one less, or one of the whole day",
                "name the record that ends with each reading; the usual pull was taken",
            ));
        }
        Ok(assessment)
    }
}

/// The belief after all readings. Their errors follow the level, so it is fitted twice: at what was read, then at the level
/// fitted.
fn fall(doses: &Doses, measured: &[Measured]) -> Result<Fall, LedgerError> {
    let of = |level: &dyn Fn(usize, usize, f64) -> f64| {
        let series = measured.iter().enumerate();
        let series =
            series.map(|(s, one)| one.series(&doses.at, |index, reading| level(s, index, reading)));
        Fall::of(doses.ln_scale, &series.collect::<Vec<_>>()).map_err(|error| not_fitted(&error))
    };
    let first = of(&|_, _, reading| reading)?;
    of(&|series, index, _| {
        first
            .level(series, doses.at.get(index).copied().unwrap_or_default())
            .mean()
    })
}

fn not_fitted(error: &StatisticsError) -> LedgerError {
    LedgerError::invalid(crate::FieldViolation::new(
        "pulls",
        &error.to_string(),
        "readings that a fall can be fitted to: of blow-by, or of leak-down hot with one orifice",
        "correct or add readings",
    ))
}

fn assess(
    call: &AssessSeating,
    numbers: &[f64],
    doses: &Doses,
    measured: &[Measured],
    fall: &Fall,
    expected: Option<&Expected>,
) -> Result<SeatingAssessment, LedgerError> {
    let Some(main) = measured.first() else {
        return Err(not_fitted(&StatisticsError::TooFew {
            what: "comparable readings",
            found: 0,
            needed: 1,
        }));
    };
    let now = doses.at.last().copied().unwrap_or_default();
    let end = fall.level(0, f64::INFINITY);
    let level_now = fall.level(0, now).mean().max(0.0);
    let resolution = std::f64::consts::SQRT_2 * main.sd_at(level_now);
    let seated_share = quantiles(|p| fall.share_quantile(now, p));
    let pulls_to_seated = quantiles(|p| {
        let dose = -fall.scale_quantile(p) * libm::log1p(-SEATED_SHARE);
        ((dose - now) / doses.of_pull).max(0.0)
    });
    let predicted_end = expected.and_then(|expected| match main.kind {
        Kind::BlowBy => expected.end?.blow_by,
        Kind::LeakDown => expected.end?.leak_down,
    });
    let of_blow_by = |value: Option<f64>| value.filter(|_| main.kind == Kind::BlowBy);
    let case = Case {
        measured: main,
        seated_probability: fall.probability_done(now, SEATED_SHARE),
        seated_share,
        end: end.clone(),
        next_fall: spread(&fall.change(0, now, now + doses.of_pull)),
        resolution,
        pulls_to_seated,
        expected_end: of_blow_by(call.expected_end_m3_s).or(predicted_end.map(|q| q.p50)),
        limit: of_blow_by(
            call.limit_m3_s
                .or(expected.and_then(|expected| expected.limit_m3_s)),
        ),
    };
    let (decision, reason) = case.decide();
    let fit = (main.kind == Kind::BlowBy)
        .then(|| fit(main, doses))
        .flatten();
    let end_of = |kind: Kind| {
        let series = measured.iter().position(|one| one.kind == kind)?;
        Some(spread(&fall.level(series, f64::INFINITY)))
    };
    Ok(SeatingAssessment {
        component: expected.map(|expected| expected.component.clone()),
        component_type: expected
            .map(|expected| expected.component_type.clone())
            .unwrap_or_default(),
        decision,
        reason,
        seated_share,
        seated_probability: case.seated_probability,
        end_blow_by_m3_s: end_of(Kind::BlowBy),
        end_leak_down_fraction: end_of(Kind::LeakDown),
        next_fall: case.next_fall,
        resolution,
        fall_unit: if main.kind == Kind::BlowBy {
            "m3/s".into()
        } else {
            "1".into()
        },
        pulls_to_seated,
        scale_pulls: quantiles(|p| fall.scale_quantile(p) / doses.of_pull),
        pulls: pulls(call, numbers, doses, measured, fall, expected),
        least_squares: fit,
        predicted_end_blow_by_m3_s: expected
            .and_then(|expected| expected.end?.blow_by)
            .map(from_engine_to_engine),
        cost: expected.and_then(|expected| cost(expected, numbers)),
        assumptions: assumptions(doses, measured, expected),
        findings: guards(call, measured, doses, fit.as_ref()),
        cautions: CAUTIONS
            .iter()
            .map(ToString::to_string)
            .chain(
                expected
                    .map(|expected| expected.cautions.clone())
                    .unwrap_or_default(),
            )
            .collect(),
    })
}

/// Reading by reading.
fn pulls(
    call: &AssessSeating,
    numbers: &[f64],
    doses: &Doses,
    measured: &[Measured],
    fall: &Fall,
    expected: Option<&Expected>,
) -> Vec<SeatingPull> {
    let levels = |kind: Kind, index: usize| {
        let series = measured.iter().position(|one| one.kind == kind)?;
        let one = measured.get(series)?;
        let level = one
            .levels
            .iter()
            .find(|(at, _)| *at == index)
            .map(|(_, level)| *level);
        let mixture = fall.level(series, *doses.at.get(index)?);
        Some((level, one.sd_at(mixture.mean().max(0.0)), spread(&mixture)))
    };
    let pull = |index: usize| {
        let record = doses.records.get(index).copied().flatten();
        let record = record.and_then(|record| expected?.records.get(record));
        // The first reading before any record is predicted by the start.
        let start = || expected?.start.filter(|_| index == 0 && record.is_none());
        let predicted = record.map(|(_, readings)| *readings).or_else(start);
        let blow_by = levels(Kind::BlowBy, index);
        let leak_down = levels(Kind::LeakDown, index);
        let read = blow_by.and_then(|(level, _, _)| level);
        SeatingPull {
            number: numbers.get(index).copied().unwrap_or_default(),
            duty_record: record.map(|(name, _)| name.clone()),
            blow_by_m3_s: read,
            blow_by_sd_m3_s: read.and(blow_by).map(|(_, sd, _)| sd),
            fitted_blow_by_m3_s: blow_by.map(|(_, _, fitted)| fitted),
            predicted_blow_by_m3_s: predicted.and_then(|readings| readings.blow_by),
            leak_down_fraction: leak_down.and_then(|(level, _, _)| level),
            fitted_leak_down_fraction: leak_down.map(|(_, _, fitted)| fitted),
            predicted_leak_down_fraction: predicted.and_then(|readings| readings.leak_down),
            seated_share: doses.at.get(index).map_or(Quantiles::default(), |dose| {
                quantiles(|p| fall.share_quantile(*dose, p))
            }),
            predicted_seated_share: predicted.map(|readings| readings.share),
        }
    };
    (0..call.pulls.len()).map(pull).collect()
}

/// The fit without prior; doses are brought to pulls.
fn fit(measured: &Measured, doses: &Doses) -> Option<SeatingLeastSquares> {
    let series = measured.series(&doses.at, |_, reading| reading);
    if series.readings.len() < READINGS_TO_FIT {
        return None;
    }
    let readings = series.readings.iter().map(|reading| FallReading {
        dose: reading.dose / doses.of_pull,
        ..*reading
    });
    let readings: Vec<FallReading> = readings.collect();
    // A level that does not fall has no fit, and the decision speaks of it.
    let found = least_squares(&readings)
        .ok()
        .filter(|found| found.drop > 0.0)?;
    Some(SeatingLeastSquares {
        end_m3_s: found.end,
        end_se_m3_s: found.end_se,
        start_m3_s: found.end + found.drop,
        scale_pulls: found.scale,
        ln_scale_se: found.ln_scale_se,
        chi_squared: found.chi_squared,
        degrees_of_freedom: readings.len() - 3,
    })
}

fn cost(expected: &Expected, numbers: &[f64]) -> Option<BreakInCost> {
    let cost = expected.cost?;
    let pulls = numbers.last().copied().unwrap_or_default().max(1.0);
    Some(BreakInCost {
        life_events_per_pull: cost.life_events / pulls,
        ..cost
    })
}

fn assumptions(doses: &Doses, measured: &[Measured], expected: Option<&Expected>) -> Vec<String> {
    let mut list = vec![format!("before the readings, seating by {}", doses.source)];
    list.extend(measured.iter().map(|one| one.source.clone()));
    list.push(
        "stop from 95 % seated with 80 % probability, when the next pull is expected to change less than one error of a \
         difference of two readings (assumed)"
            .into(),
    );
    if expected.is_none_or(|expected| expected.cost.is_none()) {
        list.push(
            "a break-in day counts 0.3 to 0.6 of an event of life (common practice, no source): record its pulls as duty, and \
             give the unit an event profile, to have it counted"
                .into(),
        );
    }
    list
}
