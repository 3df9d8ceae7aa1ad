//! Lines of an inspection beside what the model expected.

use super::{
    answers::SURPRISE,
    observe::{Probe, probability_past},
    written::looks_like_leak_down,
};
use crate::{
    Explanation, Inspection, InspectionName, LedgerError, MeasuredReading, ThermalState,
    fold::Past, ledger::Ledger,
};
use jiff::Timestamp;
use ringland_host::contract::{Card, Duty, LimitSide, ReadingField};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A rate of which less than this is known, as standard deviation of ln(rate), is not known.
const NOTHING_KNOWN_LN_SD: f64 = 3.0;
/// Growth backwards beyond so many standard deviations is a mistake of measuring.
const SUSPECT_SD: f64 = 3.0;

/// An inspection as its model sees it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Observed {
    pub(crate) inspection: InspectionName,
    pub(crate) time: Timestamp,
    /// Use of the component by then.
    pub(crate) hours: f64,
    /// Where the component was.
    pub(crate) unit: String,
    pub(crate) position: String,
    /// What had been done to it.
    pub(crate) treatments: String,
    pub(crate) compared: Vec<Compared>,
    /// Why nothing could be compared; empty if it could.
    pub(crate) failure: String,
}

/// Lines of one reading, instrument and explanation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Compared {
    pub(crate) reading: String,
    pub(crate) instrument_id: String,
    pub(crate) explanation: Explanation,
    pub(crate) lines: usize,
    /// Mean of the lines, and its error.
    pub(crate) measured: f64,
    pub(crate) measured_sd: f64,
    /// The worst line, and the error of one line.
    pub(crate) worst: f64,
    pub(crate) line_sd: f64,
    pub(crate) predicted: f64,
    /// What it would read without any growth of the mechanism that it informs.
    pub(crate) without_growth: f64,
    pub(crate) limit: Option<f64>,
    pub(crate) probability_past: Option<f64>,
    /// The mechanism that it informs.
    pub(crate) mechanism: Option<String>,
    pub(crate) ln_rate: Option<f64>,
    pub(crate) ln_sd: Option<f64>,
    pub(crate) bias_slope: f64,
    /// Which way worse is: 1 or -1; 0 when it does not answer to the rate.
    pub(crate) worse: f64,
    /// What an earlier reading that was told to be no wear adds to it.
    pub(crate) offset: f64,
    /// Whether it was taken in the state that it counts in.
    pub(crate) comparable: bool,
    /// Why it is not learnt, whatever its explanation; empty if it may be.
    pub(crate) unfit: String,
    /// Where it tells nothing of the rate: how far it is from what is expected, in its own standard deviations.
    #[serde(default)]
    pub(crate) off_sd: Option<f64>,
}

impl Compared {
    /// What this reading, told to be no wear, adds to later ones; nothing where it is better than expected.
    fn shifts_by(&self) -> Option<f64> {
        if !self.explanation.moves_condition() {
            return None;
        }
        let by = self.measured - (self.predicted - self.offset);
        Some(if by * self.worse > 0.0 { by } else { 0.0 })
    }

    /// Whether it tells nothing of the rate and yet is too far off for its instrument: no wear that is expected does that.
    pub(super) fn far_without_a_rate(&self) -> bool {
        let far = self.off_sd.is_some_and(|off| libm::fabs(off) > SURPRISE);
        far && self.explanation == Explanation::Wear
    }

    /// Whether its rate may be learnt.
    pub(crate) fn fit(&self) -> bool {
        self.explanation == Explanation::Wear && self.unfit.is_empty() && self.ln_rate.is_some()
    }
}

impl Ledger {
    /// Compares an inspection's readings with the model's.
    pub(super) fn beside(
        &self,
        past: &Past,
        inspection: &Inspection,
        offsets: &BTreeMap<String, f64>,
    ) -> Result<Vec<Compared>, LedgerError> {
        let Some(event) = &past.last_duty else {
            return Ok(Vec::new());
        };
        let mut groups: BTreeMap<(usize, Explanation, &str), Vec<&MeasuredReading>> =
            BTreeMap::new();
        for line in &inspection.readings {
            let at = past
                .card
                .readings
                .iter()
                .position(|r| r.name == line.reading);
            if let Some(at) = at {
                let key = (at, line.explanation, line.instrument_id.as_str());
                groups.entry(key).or_default().push(line);
            }
        }
        groups
            .into_iter()
            .map(|((at, _, _), lines)| {
                let offset = offsets.get(&past.card.readings[at].name);
                let offset = offset.copied().unwrap_or(0.0);
                self.lines_beside((past, event), at, &lines, offset)
            })
            .collect()
    }

    fn lines_beside(
        &self,
        (past, event): (&Past, &Duty),
        at: usize,
        lines: &[&MeasuredReading],
        offset: f64,
    ) -> Result<Compared, LedgerError> {
        let card = &past.card;
        let field = &card.readings[at];
        let first = lines[0];
        let n = lines.len() as f64;
        let mean = |of: &dyn Fn(&MeasuredReading) -> f64| {
            lines.iter().map(|line| of(line)).sum::<f64>() / n
        };
        let variance = n * mean(&|line| line_sd(field, line) * line_sd(field, line));
        let measured = mean(&|line| line.corrected_value);
        let measured_sd = variance.sqrt() / n;
        let worst = lines
            .iter()
            .map(|line| line.corrected_value)
            .reduce(|a, b| {
                if field.limit_side == LimitSide::Below {
                    a.min(b)
                } else {
                    a.max(b)
                }
            })
            .unwrap_or(measured);
        let line_sd = lines
            .iter()
            .find(|line| line.corrected_value.total_cmp(&worst).is_eq())
            .map_or(measured_sd, |line| line_sd(field, line));
        let mechanism = informed(card, field);
        let probe = Probe::new(self, past, event, &past.row.condition);
        let now = probe.read(at, mechanism, 0.0)?;
        let limit = now
            .limit
            .filter(|_| field.limit_side != LimitSide::Unlimited);
        let mut compared = Compared {
            reading: field.name.clone(),
            instrument_id: first.instrument_id.clone(),
            explanation: first.explanation,
            lines: lines.len(),
            measured,
            measured_sd,
            worst,
            line_sd,
            predicted: now.value + offset,
            without_growth: now.value + offset,
            limit,
            probability_past: limit
                .map(|limit| probability_past(worst, line_sd, limit, field.limit_side)),
            mechanism: mechanism.map(|m| card.mechanisms[m].name.clone()),
            ln_rate: None,
            ln_sd: None,
            bias_slope: 0.0,
            worse: 0.0,
            offset,
            comparable: unfit(field, lines).is_empty(),
            unfit: unfit(field, lines),
            off_sd: None,
        };
        let Some(mechanism) = mechanism else {
            return Ok(compared);
        };
        // With the value at the build only the growth since then counts, on top of the model's own zero.
        let zeros: Option<Vec<f64>> = lines.iter().map(|line| line.zero).collect();
        let (target, target_sd, of_instrument) = match zeros {
            Some(zeros) => {
                let growth = measured - zeros.iter().sum::<f64>() / n;
                let at_build = Probe::new(self, past, event, &past.at_build);
                let zero = at_build.read(at, Some(mechanism), 0.0)?.value;
                (
                    zero + growth,
                    measured_sd * std::f64::consts::SQRT_2,
                    growth,
                )
            }
            None => (measured - offset, measured_sd, measured),
        };
        compared.measured_sd = target_sd;
        let off_sd = Some((target - now.value) / target_sd).filter(|off| off.is_finite());
        if let Some(solved) = probe.solve(at, mechanism, target, target_sd)? {
            compared.without_growth = solved.without_growth + offset;
            compared.worse = solved.slope.signum();
            compared.ln_rate = Some(solved.ln_rate);
            compared.ln_sd = Some(solved.ln_sd);
            compared.bias_slope = of_instrument / solved.slope;
            let backwards = (solved.without_growth - target) * solved.slope.signum();
            if compared.unfit.is_empty() && backwards > SUSPECT_SD * target_sd {
                compared.unfit =
                    "it reads better than new beyond the instrument's error: measure again".into();
            }
            if compared.unfit.is_empty() && solved.ln_sd > NOTHING_KNOWN_LN_SD {
                compared.unfit =
                    "growth so far is below the instrument's error and says nothing of the rate"
                        .into();
                compared.off_sd = off_sd;
            }
        } else if compared.unfit.is_empty() {
            compared.unfit = "the reading has not begun to answer to the rate".into();
            compared.off_sd = off_sd;
        }
        Ok(compared)
    }
}

/// What earlier readings that were told to be no wear add to later ones, by reading.
pub(super) fn offsets<'a>(earlier: impl Iterator<Item = &'a Observed>) -> BTreeMap<String, f64> {
    let compared = earlier.flat_map(|observed| &observed.compared);
    compared
        .filter_map(|c| Some((c.reading.clone(), c.shifts_by()?)))
        .collect()
}

/// Index of the mechanism that a reading informs.
pub(super) fn informed(card: &Card, field: &ReadingField) -> Option<usize> {
    let name = field.informs.as_ref()?;
    card.mechanisms.iter().position(|m| m.name == *name)
}

/// Error of one line, one standard deviation.
pub(super) fn line_sd(field: &ReadingField, line: &MeasuredReading) -> f64 {
    let of_card = field
        .instrument_sd
        .hypot(field.instrument_sd_relative * line.value);
    line.instrument_sd.unwrap_or(of_card)
}

pub(super) fn unfit(field: &ReadingField, lines: &[&MeasuredReading]) -> String {
    let hot = lines
        .iter()
        .all(|line| line.thermal_state == ThermalState::Hot);
    if looks_like_leak_down(field) && !hot {
        return "leak-down counts hot, with its state said: repeat it hot".into();
    }
    String::new()
}
