//! A finding at one part reaches the others of its batch: a word with its reason. It changes no life and no rate, for nothing is
//! learnt of a batch from one part.

use super::{
    beside::{Compared, Observed, unfit},
    detection::{method_words, usual_a90_m},
    findings::{figure, warning},
    observe::probability_past,
    standing::{checked, cracks_found, limits_passed, words_of},
    stored::inspected_prefix,
};
use crate::{
    Component, ComponentName, CrackCheck, CrackResult, ErrorKind, Explanation, Inspection,
    InspectionName, LedgerError, evidence::retirement_of, ledger::Ledger, limits::PAST, rows,
};
use jiff::Timestamp;
use ringland_host::contract::{Card, Digest, Finding};
use ringland_store::Table;
use std::collections::BTreeSet;

/// Most findings of a batch that one part is told of: the latest.
const MOST_WORDS: usize = 5;
/// Most parts of a batch that are named in one answer.
const MOST_NAMED: usize = 5;
/// Rows read at once.
const ROWS_AT_ONCE: usize = 500;

/// Something found at a part that its batch may share.
struct Suspicion {
    inspection: InspectionName,
    time: Timestamp,
    what: What,
    text: String,
}

enum What {
    /// A reading by its name.
    Reading(String),
    /// Indices of mechanisms, and the crack length that the look finds nine times of ten.
    Crack(BTreeSet<usize>, f64),
}

impl Ledger {
    /// What was found at other parts of a component's batch and is open for this one. Costs one short read for each component of the
    /// type that was ever inspected, and the inspections of those that are of the batch; nothing where no batch is written down.
    pub(crate) fn batch_words(
        &self,
        component: &Component,
        plugin: Digest,
        card: &Card,
    ) -> Result<Vec<Finding>, LedgerError> {
        let name = &component.name;
        if component.batch.is_empty() || retirement_of(&*self.store, name)?.is_some() {
            return Ok(Vec::new());
        }
        let mut open = Vec::new();
        let others = self.inspected_in_batch(component)?;
        if others.is_empty() {
            return Ok(Vec::new());
        }
        let own = self.inspections_of(name)?;
        for other in others {
            let observed = match self.observed(&other, plugin) {
                Ok(observed) => observed,
                // A model that cannot fold the other part knows no limit of it; what was seen at it stands.
                Err(error) if error.kind() == ErrorKind::FailedPrecondition => Vec::new(),
                Err(error) => return Err(error),
            };
            let inspections = self.inspections_of(&other)?;
            let observed: Vec<&Observed> = observed.iter().collect();
            let found = suspicions(card, &observed, &inspections);
            open.extend(
                found
                    .into_iter()
                    .filter(|one| !one.is_looked_for(card, &own)),
            );
        }
        open.sort_by(|a, b| (b.time, &a.inspection).cmp(&(a.time, &b.inspection)));
        let more = open.len().saturating_sub(MOST_WORDS);
        let shown = open.iter().take(MOST_WORDS);
        let mut words: Vec<Finding> = shown.map(|one| one.word(card, &component.batch)).collect();
        if more > 0 {
            words.push(warning(
                "batch",
                format!("{more} earlier findings at batch {}", component.batch),
                "no open finding at its batch",
                "put the batch aside until each is explained",
            ));
        }
        Ok(words)
    }

    /// What an inspection says of the batch of its part: which other parts in use or on the shelf are of it.
    pub(super) fn batch_findings(
        &self,
        component: &Component,
        card: &Card,
        inspection: &Inspection,
        observed: &Observed,
    ) -> Result<Vec<Finding>, LedgerError> {
        if component.batch.is_empty() {
            return Ok(Vec::new());
        }
        let found = suspicions(card, &[observed], std::slice::from_ref(inspection));
        if found.is_empty() {
            return Ok(Vec::new());
        }
        let mates = self.batch_mates(component)?;
        let named = mates.iter().take(MOST_NAMED).map(ToString::to_string);
        let named = named.collect::<Vec<_>>().join(", ");
        let others = match mates.len() {
            0 => "no other part of it in this ledger".to_owned(),
            n if n > MOST_NAMED => format!("{n} other parts of it in this ledger, first {named}"),
            n => format!("{n} other of it in this ledger: {named}"),
        };
        let said = |one: &Suspicion| {
            warning(
                format!("batch.{}", one.subject(card)),
                format!("batch {}; {others}", component.batch),
                "a finding of this part alone",
                &format!(
                    "put the batch aside, what is on the shelf too: {}, {}",
                    one.look(card),
                    one.until()
                ),
            )
        };
        Ok(found.iter().map(said).collect())
    }

    /// Components of the same type and batch that were ever inspected, the component itself left out.
    fn inspected_in_batch(&self, component: &Component) -> Result<Vec<ComponentName>, LedgerError> {
        let prefix = inspected_prefix(&component.component_type);
        let mut mates = Vec::new();
        let mut after = None;
        loop {
            let rows =
                self.store
                    .scan(Table::Inspections, &prefix, after.as_deref(), ROWS_AT_ONCE)?;
            let Some((last, _)) = rows.last() else {
                return Ok(mates);
            };
            after = Some(last.clone());
            for (_, bytes) in &rows {
                let name: ComponentName = rows::decode(bytes)?;
                if name != component.name && self.component_row(&name)?.batch == component.batch {
                    mates.push(name);
                }
            }
        }
    }

    /// Other components of the same type and batch that are not retired. Reads every component.
    fn batch_mates(&self, component: &Component) -> Result<Vec<ComponentName>, LedgerError> {
        let mut mates = Vec::new();
        for name in self.components_of_type(&component.component_type)? {
            let alike =
                name != component.name && self.component_row(&name)?.batch == component.batch;
            if alike && retirement_of(&*self.store, &name)?.is_none() {
                mates.push(name);
            }
        }
        Ok(mates)
    }
}

/// What a part's batch may share: a limit measured past where the model did not expect it, a crack, a reading that nobody has
/// explained. What a shop operation made of the part since does not matter here.
fn suspicions(card: &Card, observed: &[&Observed], inspections: &[Inspection]) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for limit in limits_passed(card, observed) {
        let of = observed.iter().find(|o| o.inspection == limit.inspection);
        let unexpected = |c: &Compared| c.reading == limit.reading && is_unexpected(card, c);
        if let Some(of) = of.filter(|of| of.compared.iter().any(unexpected)) {
            found.push(Suspicion {
                inspection: limit.inspection,
                time: of.time,
                what: What::Reading(limit.reading),
                text: limit.text,
            });
        }
    }
    for inspection in inspections {
        let unexplained = inspection.readings.iter();
        for line in unexplained.filter(|line| line.explanation == Explanation::Unexplained) {
            let known = |one: &Suspicion| {
                let same = matches!(&one.what, What::Reading(reading) if *reading == line.reading);
                same && one.inspection == inspection.name
            };
            if found.iter().any(known) {
                continue;
            }
            let (label, unit) = words_of(card, &line.reading);
            found.push(Suspicion {
                inspection: inspection.name.clone(),
                time: inspection.inspection_time,
                what: What::Reading(line.reading.clone()),
                text: format!(
                    "{label} was measured as {} {unit} at {}, too far from everything known, and nobody has explained it",
                    figure(line.corrected_value),
                    inspection.name,
                ),
            });
        }
    }
    found.extend(cracks_of(card, inspections));
    found
}

fn cracks_of(card: &Card, inspections: &[Inspection]) -> Vec<Suspicion> {
    let crack = |finding: crate::OverrulingFinding| {
        let of = inspections.iter().find(|i| i.name == finding.inspection)?;
        let mechanisms = card.mechanisms.iter().enumerate();
        let mechanisms = mechanisms.filter(|(_, m)| finding.mechanisms.contains(&m.name));
        let mechanisms: BTreeSet<usize> = mechanisms.map(|(index, _)| index).collect();
        let looks = of.crack_checks.iter().filter(|check| {
            let here = checked(card, check);
            check.result == CrackResult::Indication && here.iter().any(|m| mechanisms.contains(m))
        });
        let found_by_m = looks.map(a90_m).fold(f64::INFINITY, f64::min);
        Some(Suspicion {
            inspection: finding.inspection,
            time: of.inspection_time,
            what: What::Crack(mechanisms, found_by_m),
            text: finding.text,
        })
    };
    cracks_found(card, inspections)
        .into_iter()
        .filter_map(crack)
        .collect()
}

/// Whether a reading past its limit may be of the batch: it measures how the part itself goes on (a torn boot or a hot surface
/// does not), nobody has told it to be of this part alone, and the model did not expect it past its limit by then.
fn is_unexpected(card: &Card, compared: &Compared) -> bool {
    let field = card.readings.iter().find(|r| r.name == compared.reading);
    let Some((field, limit)) = field.zip(compared.limit) else {
        return false;
    };
    let expected = probability_past(
        compared.predicted,
        compared.line_sd,
        limit,
        field.limit_side,
    );
    let of_the_part_alone = compared.explanation.moves_condition()
        || compared.explanation == Explanation::InstrumentBias;
    field.informs.is_some()
        && compared.probability_past.is_some_and(|past| past > PAST)
        && !of_the_part_alone
        && expected <= PAST
}

fn a90_m(check: &CrackCheck) -> f64 {
    check.a90_m.unwrap_or_else(|| usual_a90_m(check.method))
}

impl Suspicion {
    /// Whether another part has been looked at for the same since. A reading that is itself unexplained, or was taken in the wrong
    /// state, tells nothing; nor does a look for cracks by a worse method.
    fn is_looked_for(&self, card: &Card, inspections: &[Inspection]) -> bool {
        let later = inspections
            .iter()
            .filter(|inspection| inspection.inspection_time >= self.time);
        match &self.what {
            What::Reading(reading) => {
                let field = card.readings.iter().find(|r| r.name == *reading);
                let tells = |line: &crate::MeasuredReading| {
                    let said = !matches!(
                        line.explanation,
                        Explanation::Unexplained | Explanation::InstrumentBias
                    );
                    let fit = field.is_some_and(|field| unfit(field, &[line]).is_empty());
                    line.reading == *reading && said && fit
                };
                later.flat_map(|i| &i.readings).any(tells)
            }
            What::Crack(mechanisms, found_by_m) => {
                let clean = later.flat_map(|i| &i.crack_checks).filter(|check| {
                    check.result == CrackResult::Clean && a90_m(check) <= *found_by_m
                });
                let seen: BTreeSet<usize> = clean.flat_map(|check| checked(card, check)).collect();
                mechanisms.is_subset(&seen)
            }
        }
    }

    /// The word to another part of the batch.
    fn word(&self, card: &Card, batch: &str) -> Finding {
        warning(
            format!("batch.{}", self.subject(card)),
            format!("batch {batch}, found at {}", self.inspection),
            "no open finding at its batch",
            &format!(
                "{}: put this one aside with its batch, or {} before it runs, {}; no life or rate is changed by this",
                self.text,
                self.look(card),
                self.until()
            ),
        )
    }

    /// The reading, or the mechanisms of the crack.
    fn subject(&self, card: &Card) -> String {
        match &self.what {
            What::Reading(reading) => reading.clone(),
            What::Crack(mechanisms, _) => {
                let names = mechanisms.iter().filter_map(|m| card.mechanisms.get(*m));
                names
                    .map(|m| m.name.as_str())
                    .collect::<Vec<_>>()
                    .join(", ")
            }
        }
    }

    fn look(&self, card: &Card) -> String {
        match &self.what {
            What::Reading(reading) => format!("measure {} of each", words_of(card, reading).0),
            What::Crack(_, found_by_m) => format!(
                "look for cracks at each by a method that finds {} mm nine times of ten ({} or better)",
                figure(found_by_m * 1e3),
                method_of(*found_by_m)
            ),
        }
    }

    /// What ends the word.
    fn until(&self) -> String {
        match self.what {
            What::Reading(_) => {
                format!(
                    "until {} is explained as of that part alone",
                    self.inspection
                )
            }
            What::Crack(..) => {
                format!("whatever the cause at {} turns out to be", self.inspection)
            }
        }
    }
}

/// The mildest usual method that finds a crack of this length nine times of ten.
fn method_of(a90_m: f64) -> &'static str {
    use crate::CrackMethod::{EddyCurrent, NakedEye, Penetrant, WetFluorescentMagneticParticle};
    let mildest_first = [NakedEye, Penetrant, WetFluorescentMagneticParticle];
    let found = mildest_first.into_iter().find(|m| usual_a90_m(*m) <= a90_m);
    method_words(found.unwrap_or(EddyCurrent))
}
