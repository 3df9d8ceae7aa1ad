//! Which dose the model gives to each reading: its seating dose after the record that the reading ends.

use super::expected::{Expected, Readings};
use crate::BreakInPull;
use ringland_mechanics::statistics::{correction::Belief, normal};

/// Doses of the readings and what is believed of the scale, both in one unit.
pub(super) struct Doses {
    /// At each reading.
    pub(super) at: Vec<f64>,
    /// Of one pull.
    pub(super) of_pull: f64,
    /// The dose over which what is not seated falls to 1/e.
    pub(super) ln_scale: Belief,
    /// Index of the record matched with each reading.
    pub(super) records: Vec<Option<usize>>,
    /// Where it comes from.
    pub(super) source: String,
}

/// Without a record: a pull's scale in pulls. 90 % between 0.3 and 4.5. Assumed: an untreated pack seats in one to two
/// pulls, a plateau-honed one in four to five (common practice, no source).
const USUAL_SCALE_PULLS: f64 = 1.2;
const USUAL_LN_SD: f64 = 0.8;
/// A model's own spread is not believed to be less. Assumed.
const LEAST_LN_SD: f64 = 0.3;
/// Share beyond which the model's dose cannot be told any more.
const MOST_SHARE: f64 = 1.0 - 1e-9;

/// Doses by the model where records were matched, else in pulls. The second is why not, if that is worth telling.
pub(super) fn doses(
    pulls: &[BreakInPull],
    numbers: &[f64],
    expected: Option<&Expected>,
) -> (Doses, Option<String>) {
    let in_pulls = |source: &str| Doses {
        at: numbers.to_vec(),
        of_pull: 1.0,
        ln_scale: Belief {
            mean: libm::log(USUAL_SCALE_PULLS),
            sd: USUAL_LN_SD,
        },
        records: vec![None; pulls.len()],
        source: format!(
            "{source}: what is not seated falls to 1/e over {USUAL_SCALE_PULLS} pulls (0.3 to 4.5; assumed, from common practice)"
        ),
    };
    let Some(expected) = expected else {
        return (in_pulls("no component"), None);
    };
    if expected.records.is_empty() {
        return (
            in_pulls("no duty record of the break-in is in the ledger"),
            None,
        );
    }
    let records = matched(pulls, expected);
    let model: Vec<f64> = expected
        .records
        .iter()
        .map(|(_, readings)| dose(readings.share.p50))
        .collect();
    let mut anchors: Vec<(f64, f64)> = records
        .iter()
        .zip(numbers)
        .filter_map(|(record, number)| Some((*number, *model.get((*record)?)?)))
        .collect();
    if anchors.first().is_some_and(|(number, _)| *number > 0.0) {
        let start = expected
            .start
            .map_or(0.0, |readings| dose(readings.share.p50));
        anchors.insert(0, (0.0, start));
    }
    let rising = anchors.len() >= 2
        && anchors
            .windows(2)
            .all(|pair| matches!(pair, [a, b] if b.1 > a.1));
    let (Some(first), Some(last), true) = (anchors.first(), anchors.last(), rising) else {
        let why = format!(
            "{} duty records of the break-in do not fit {} readings",
            expected.records.len(),
            pulls.len()
        );
        return (in_pulls(&why), Some(why));
    };
    let of_pull = (last.1 - first.1) / (last.0 - first.0);
    let ln_sd = expected
        .records
        .last()
        .map_or(USUAL_LN_SD, |(_, readings)| ln_sd(readings));
    let doses = Doses {
        at: numbers
            .iter()
            .map(|number| interpolated(&anchors, *number, of_pull))
            .collect(),
        of_pull,
        ln_scale: Belief {
            mean: 0.0,
            sd: ln_sd.max(LEAST_LN_SD),
        },
        records,
        source: format!(
            "the model's seating after {}: {of_pull:.2} of its seating doses a pull, by a factor of {:.1} either way (90 %)",
            told(expected.records.len(), pulls),
            libm::exp(normal::quantile(0.95) * ln_sd.max(LEAST_LN_SD)),
        ),
    };
    (doses, None)
}

/// Records named by the call; else one after the other if there are as many as readings, or one less with the first
/// reading taken before any pull; else a single one for the last reading.
fn matched(pulls: &[BreakInPull], expected: &Expected) -> Vec<Option<usize>> {
    let index_of = |pull: &BreakInPull| {
        let named = pull.duty_record.as_ref()?;
        expected.records.iter().position(|(name, _)| name == named)
    };
    if pulls.iter().any(|pull| pull.duty_record.is_some()) {
        return pulls.iter().map(index_of).collect();
    }
    let (readings, records) = (pulls.len(), expected.records.len());
    let in_order = |skip: usize| (0..readings).map(|i| i.checked_sub(skip)).collect();
    if records == readings {
        in_order(0)
    } else if records + 1 == readings {
        in_order(1)
    } else if records == 1 {
        (1..=readings)
            .map(|i| (i == readings).then_some(0))
            .collect()
    } else {
        vec![None; readings]
    }
}

/// How many records, and what one for several readings was taken for.
fn told(records: usize, pulls: &[BreakInPull]) -> String {
    match records {
        1 if pulls.len() > 2 => {
            format!(
                "one duty record, taken for all {} readings in equal parts: name records if it is not",
                pulls.len()
            )
        }
        1 => "one duty record".into(),
        many => format!("{many} duty records"),
    }
}

/// Seating dose in units of the scale: the share is 1 - exp(-dose).
fn dose(share: f64) -> f64 {
    -libm::log1p(-share.clamp(0.0, MOST_SHARE))
}

/// Spread of the logarithm of the dose that the model's quantiles tell.
fn ln_sd(readings: &Readings) -> f64 {
    let (low, high) = (dose(readings.share.p05), dose(readings.share.p95));
    if low <= 0.0 || high <= low || readings.share.p95 >= MOST_SHARE {
        return USUAL_LN_SD;
    }
    (libm::log(high) - libm::log(low)) / (2.0 * normal::quantile(0.95))
}

/// Straight between anchors, in steps of a pull beyond them.
fn interpolated(anchors: &[(f64, f64)], number: f64, of_pull: f64) -> f64 {
    let pair = anchors
        .windows(2)
        .find(|pair| matches!(pair, [_, b] if number <= b.0));
    let value = match (pair, anchors.last()) {
        (Some([a, b]), _) => a.1 + (b.1 - a.1) * (number - a.0) / (b.0 - a.0),
        (_, Some(last)) => last.1 + of_pull * (number - last.0),
        (_, None) => number * of_pull,
    };
    value.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{ComponentName, DutyRecordName, Quantiles};

    fn expected(shares: &[f64]) -> Expected {
        let readings = |share: f64| Readings {
            share: Quantiles {
                p05: 0.8 * share,
                p50: share,
                p95: 1.0 - 0.7 * (1.0 - share),
            },
            blow_by: None,
            leak_down: None,
        };
        let name = |i: usize| {
            format!("units/a/dutyRecords/r{i}")
                .parse::<DutyRecordName>()
                .unwrap()
        };
        Expected {
            component: "components/rings".parse::<ComponentName>().unwrap(),
            component_type: "ring_pack".into(),
            start: Some(readings(0.0)),
            records: shares
                .iter()
                .enumerate()
                .map(|(i, s)| (name(i), readings(*s)))
                .collect(),
            end: None,
            limit_m3_s: None,
            cost: None,
            cautions: Vec::new(),
        }
    }

    fn pulls(count: usize) -> (Vec<BreakInPull>, Vec<f64>) {
        (
            vec![BreakInPull::default(); count],
            (0..count).map(|i| i as f64).collect(),
        )
    }

    #[test]
    fn a_record_for_each_pull_gives_its_dose() {
        let (readings, numbers) = pulls(3);
        let (found, why) = doses(&readings, &numbers, Some(&expected(&[0.8, 0.96])));
        assert!(why.is_none());
        assert_eq!(found.records, [None, Some(0), Some(1)]);
        assert!(
            found.at[0].abs() < 1e-12 && (found.at[2] + (0.04_f64).ln()).abs() < 1e-9,
            "{:?}",
            found.at
        );
        let (found, _) = doses(&readings, &numbers, Some(&expected(&[0.5, 0.8, 0.96])));
        assert_eq!(found.records, [Some(0), Some(1), Some(2)]);
    }

    #[test]
    fn one_record_of_the_day_is_shared_evenly() {
        let (readings, numbers) = pulls(5);
        let (found, _) = doses(&readings, &numbers, Some(&expected(&[0.98])));
        let whole = -(0.02_f64).ln();
        for (dose, number) in found.at.iter().zip(numbers) {
            assert!((dose - whole * number / 4.0).abs() < 1e-9, "{:?}", found.at);
        }
    }

    #[test]
    fn what_does_not_fit_is_told() {
        let (readings, numbers) = pulls(6);
        let (found, why) = doses(&readings, &numbers, Some(&expected(&[0.5, 0.8])));
        assert!(why.unwrap().contains("2 duty records"));
        assert!((found.of_pull - 1.0).abs() < 1e-12 && found.at == numbers);
    }
}
