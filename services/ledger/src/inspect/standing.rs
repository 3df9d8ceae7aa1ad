//! What inspections of a component have found that still stands: limits measured past, cracks, looks that
//! found none, readings that were told to be no wear.

use super::{
    beside::{Compared, Observed},
    detection::{CleanCheck, method_words, usual_a90_m},
    evidence::Evidence,
    findings::{figure, warning},
};
use crate::{
    ComponentName, CrackCheck, CrackResult, Inspection, InspectionName, LedgerError,
    OverrulingFinding, Rework,
    fold::Folded,
    ledger::{Ledger, rework_prefix},
    limits::PAST,
    rows,
};
use jiff::Timestamp;
use ringland_host::contract::{Card, Finding};
use ringland_store::Table;
use std::collections::BTreeMap;

/// Within one standard deviation of the limit: the guard band of the trade (common practice, no source).
const GUARD: f64 = 0.158_655_253_931_457_05;
/// Clean looks that are counted for one mechanism: the latest.
const MOST_CHECKS: usize = 20;

/// What stands of a component's inspections.
#[derive(Debug, Default)]
pub(crate) struct Standing {
    pub(crate) overruled: Vec<OverrulingFinding>,
    pub(crate) checks: Vec<CleanCheck>,
    pub(crate) shifts: Vec<Shift>,
    pub(crate) notes: Vec<Finding>,
}

/// A reading that was told to be no wear: the part is as it was measured.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Shift {
    pub(crate) inspection: InspectionName,
    pub(crate) time: Timestamp,
    /// Indices on the card.
    pub(crate) reading: usize,
    pub(crate) mechanism: usize,
    pub(crate) measured: f64,
    pub(crate) why: &'static str,
}

/// A reading past its limit and the error of the instrument that said so.
struct PastLimit {
    finding: OverrulingFinding,
    sd: f64,
}

/// A crack and what the method would have found.
struct Crack {
    finding: OverrulingFinding,
    a90_m: f64,
}

impl Ledger {
    /// What stands of a component's own inspections.
    pub(crate) fn standing(
        &self,
        folded: &Folded,
        evidence: &Evidence,
    ) -> Result<Standing, LedgerError> {
        let name = &folded.component.name;
        let own: Vec<&Observed> = evidence
            .observed
            .iter()
            .filter(|(component, _)| component == name)
            .map(|(_, observed)| observed)
            .collect();
        if own.is_empty() {
            return Ok(Standing::default());
        }
        let renewed = self.renewed(name, None)?;
        let card = &*folded.card;
        let mut standing = Standing::default();
        let since: Vec<&Observed> = own.iter().copied().filter(|o| o.time > renewed).collect();
        limits(&mut standing, card, &since);
        shifts(&mut standing, card, &since);
        let inspections = self.inspections_of(name)?;
        cracks(&mut standing, card, &inspections, &own);
        for observed in own.iter().filter(|o| !o.failure.is_empty()) {
            standing.notes.push(warning(
                &observed.inspection,
                &observed.failure,
                "an inspection that the model can be compared with",
                "its readings move nothing",
            ));
        }
        Ok(standing)
    }

    /// When the component was last made another by a shop operation or a revision, before a time if one is given.
    /// Findings of earlier inspections end there.
    pub(super) fn renewed(
        &self,
        component: &ComponentName,
        before: Option<Timestamp>,
    ) -> Result<Timestamp, LedgerError> {
        let prefix = rework_prefix(component);
        let up_to = before.map(|time| {
            let mut key = prefix.clone();
            key.extend_from_slice(&crate::keys::time(time));
            key
        });
        let last = self.store.last(Table::Reworks, &prefix, up_to.as_deref())?;
        let rework: Option<Rework> = last.map(|(_, bytes)| rows::decode(&bytes)).transpose()?;
        let rework = rework.map_or(Timestamp::MIN, |rework| rework.rework_time);
        let revision = self.revision_at(component, before)?.effective_time;
        Ok(rework.max(revision.unwrap_or(Timestamp::MIN)))
    }
}

/// Limits measured past at a part and not cleared since.
pub(super) fn limits_passed(card: &Card, observed: &[&Observed]) -> Vec<OverrulingFinding> {
    let mut standing = Standing::default();
    limits(&mut standing, card, observed);
    standing.overruled
}

/// Cracks found at a part and not cleared since.
pub(super) fn cracks_found(card: &Card, inspections: &[Inspection]) -> Vec<OverrulingFinding> {
    let mut standing = Standing::default();
    cracks(&mut standing, card, inspections, &[]);
    standing.overruled
}

fn limits(standing: &mut Standing, card: &Card, since: &[&Observed]) {
    let mut past: BTreeMap<String, PastLimit> = BTreeMap::new();
    let mut near: BTreeMap<String, Finding> = BTreeMap::new();
    for observed in since {
        let counted = || observed.compared.iter().filter(|c| c.counts_for_limit());
        for compared in counted() {
            near.remove(&compared.reading);
            let better = past
                .get(&compared.reading)
                .is_some_and(|known| compared.line_sd <= known.sd);
            if better && compared.past() <= PAST {
                past.remove(&compared.reading);
            }
        }
        for compared in counted() {
            // Of two instruments at once the better one is believed.
            let overridden = counted().any(|other| {
                other.reading == compared.reading
                    && other.line_sd < compared.line_sd
                    && other.past() <= PAST
            });
            if compared.past() > PAST && !overridden {
                let known = past_limit(card, observed, compared);
                past.insert(compared.reading.clone(), known);
            } else if compared.past() > GUARD {
                near.insert(compared.reading.clone(), guard(observed, compared));
            }
        }
    }
    standing
        .overruled
        .extend(past.into_values().map(|known| known.finding));
    standing.notes.extend(near.into_values());
}

fn past_limit(card: &Card, observed: &Observed, compared: &Compared) -> PastLimit {
    let ends = card
        .mechanisms
        .iter()
        .filter(|m| m.reading.as_ref() == Some(&compared.reading));
    let (label, unit) = words_of(card, &compared.reading);
    let text = format!(
        "{label} was measured as {} {unit} (worst of {}), past the limit of {} {unit} with {} % by the instrument's \
         error, at {}",
        figure(compared.worst),
        compared.lines,
        figure(compared.limit.unwrap_or_default()),
        figure(100.0 * compared.past()),
        observed.inspection,
    );
    PastLimit {
        sd: compared.line_sd,
        finding: OverrulingFinding {
            inspection: observed.inspection.clone(),
            reading: compared.reading.clone(),
            mechanisms: ends.map(|m| m.name.clone()).collect(),
            probability: compared.past(),
            text,
        },
    }
}

fn guard(observed: &Observed, compared: &Compared) -> Finding {
    warning(
        format!("{}/{}", observed.inspection, compared.reading),
        format!(
            "{}, {} % over the limit by the instrument's error",
            compared.worst,
            figure(100.0 * compared.past())
        ),
        "more than one standard deviation of the instrument from the limit",
        "it is in the guard band: measure again with a better instrument before running on",
    )
}

pub(super) fn words_of(card: &Card, reading: &str) -> (String, String) {
    let field = card.readings.iter().find(|r| r.name == reading);
    field.map_or_else(
        || (reading.into(), String::new()),
        |field| (field.label.clone(), field.unit.clone()),
    )
}

/// The latest shift of each mechanism.
fn shifts(standing: &mut Standing, card: &Card, since: &[&Observed]) {
    let mut latest: BTreeMap<usize, Shift> = BTreeMap::new();
    for observed in since {
        for compared in observed
            .compared
            .iter()
            .filter(|c| c.explanation.moves_condition())
        {
            let reading = card
                .readings
                .iter()
                .position(|r| r.name == compared.reading);
            let mechanism = compared
                .mechanism
                .as_ref()
                .and_then(|name| card.mechanisms.iter().position(|m| m.name == *name));
            let Some((reading, mechanism)) = reading.zip(mechanism) else {
                standing.notes.push(warning(
                    format!("{}/{}", observed.inspection, compared.reading),
                    compared.explanation.words(),
                    "a reading that informs a mechanism",
                    "it moves nothing: no mechanism of the model answers to this reading",
                ));
                continue;
            };
            let shift = Shift {
                inspection: observed.inspection.clone(),
                time: observed.time,
                reading,
                mechanism,
                measured: compared.measured,
                why: compared.explanation.words(),
            };
            latest.insert(mechanism, shift);
        }
    }
    standing.shifts.extend(latest.into_values());
}

/// A crack stands until a later look by the same or a better method finds none: no shop operation removes it
/// unseen.
fn cracks(standing: &mut Standing, card: &Card, inspections: &[Inspection], own: &[&Observed]) {
    let mut cracks: BTreeMap<usize, Crack> = BTreeMap::new();
    let mut clean: BTreeMap<usize, Vec<CleanCheck>> = BTreeMap::new();
    for inspection in inspections {
        let hours = own
            .iter()
            .find(|o| o.inspection == inspection.name)
            .map_or(0.0, |o| o.hours);
        for check in &inspection.crack_checks {
            let a90_m = check.a90_m.unwrap_or_else(|| usual_a90_m(check.method));
            for mechanism in checked(card, check) {
                match check.result {
                    CrackResult::Indication => {
                        let finding = crack(card, inspection, check, mechanism);
                        cracks.insert(mechanism, Crack { finding, a90_m });
                    }
                    CrackResult::Clean => {
                        if cracks
                            .get(&mechanism)
                            .is_some_and(|known| a90_m <= known.a90_m)
                        {
                            cracks.remove(&mechanism);
                        }
                        clean.entry(mechanism).or_default().push(CleanCheck {
                            mechanism,
                            a90_m,
                            hours,
                        });
                    }
                }
            }
        }
    }
    for (_, mut checks) in clean {
        let old = checks.len().saturating_sub(MOST_CHECKS);
        standing.checks.extend(checks.drain(old..));
    }
    // One finding of one look, though it may concern several mechanisms.
    for crack in cracks.into_values() {
        let same = |known: &&mut OverrulingFinding| {
            known.inspection == crack.finding.inspection && known.text == crack.finding.text
        };
        match standing.overruled.iter_mut().find(same) {
            Some(known) => known.mechanisms.extend(crack.finding.mechanisms),
            None => standing.overruled.push(crack.finding),
        }
    }
}

/// Mechanisms that a look is meant for.
pub(super) fn checked(card: &Card, check: &CrackCheck) -> Vec<usize> {
    let meant = |(_, m): &(usize, &ringland_host::contract::Mechanism)| {
        if check.mechanisms.is_empty() {
            m.reading.is_none()
        } else {
            check.mechanisms.contains(&m.name)
        }
    };
    card.mechanisms
        .iter()
        .enumerate()
        .filter(meant)
        .map(|(index, _)| index)
        .collect()
}

fn crack(
    card: &Card,
    inspection: &Inspection,
    check: &CrackCheck,
    mechanism: usize,
) -> OverrulingFinding {
    let length = check
        .indication_length_m
        .map_or_else(String::new, |length| {
            format!(" of {} mm", figure(length * 1e3))
        });
    OverrulingFinding {
        inspection: inspection.name.clone(),
        reading: String::new(),
        mechanisms: vec![card.mechanisms[mechanism].name.clone()],
        probability: 1.0,
        text: format!(
            "a crack indication{length} was found by {} at {}",
            method_words(check.method),
            inspection.name
        ),
    }
}

impl Compared {
    fn past(&self) -> f64 {
        self.probability_past.unwrap_or(0.0)
    }

    /// A bias of the instrument or a reading in the wrong state is no state of the part.
    fn counts_for_limit(&self) -> bool {
        let bias = self.explanation == crate::Explanation::InstrumentBias;
        self.probability_past.is_some() && self.comparable && !bias
    }
}
