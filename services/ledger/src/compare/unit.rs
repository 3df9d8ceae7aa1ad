//! What limits a unit, and which change moves its earliest limit.

use super::{
    alternatives::{check, label_of},
    component::channel_notes,
    effects::{Candidate, Study},
    parts::{Part, PartLives, name_in},
    verdict,
};
use crate::{
    Alternative, ChangeTarget, CompareUnitRequest, ComparedTreatment, ComponentLimit, LedgerError,
    ProfileName, Reason, UnitCandidate, UnitChange, UnitComparison, UnitComponentLife,
    ledger::Ledger,
    predict::{Drawing, Event, warning},
    violations::Violations,
};
use ringland_host::contract::{Card, Finding};
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};

const MOST_CANDIDATES: usize = 64;
const MOST_CHANGES: usize = 16;
const MOST_STEPS: u32 = 5;
const USUAL_STEPS: u32 = 3;
/// Forecasts of changed components in one comparison, before combinations.
const MOST_FORECASTS: usize = 400;

impl Ledger {
    /// Tells what limits a unit, and ranks changes by what they do to its earliest limit. Nothing is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::FailedPrecondition`] when there is
    /// no profile or nothing is installed, [`LedgerError::ResourceExhausted`] when there is too much to try, and the
    /// store's. A component or a candidate that fails, fails alone.
    pub fn compare_unit(
        &self,
        request: &CompareUnitRequest,
    ) -> Result<UnitComparison, LedgerError> {
        let drawing = self.check_unit_comparison(request)?;
        let event = self.event_of_profile(&self.profile_of_unit(request)?)?;
        let parts = self.parts_of(&request.unit, request.draws.basis)?;
        let of_catalogue;
        let asked = if request.candidates.is_empty() {
            of_catalogue = self.whole_catalogue(&parts)?;
            &of_catalogue
        } else {
            &request.candidates
        };
        let candidates = resolve(&parts, asked)?;
        let mut study = Study::new(self, &parts, &candidates, &event, &drawing);
        let base = study.base()?;
        let now = study.earliest(&base);
        let steps = request.steps.unwrap_or(USUAL_STEPS) as usize;
        let found = study.run(&base, steps)?;
        let earliest = now.limit(name_in(&parts), &event.profile);
        let best = found.candidates.first().filter(|_| found.helps);
        let best = best.and_then(|best| Some((best.label.as_str(), best.effect.as_ref().ok()?)));
        let prior_only = base.iter().flatten().all(|part| part.prior_only);
        let components = parts.iter().zip(base).enumerate();
        let components: Vec<UnitComponentLife> = components
            .map(|(index, (part, drawn))| UnitComponentLife {
                component: part.component.clone(),
                component_type: part.component_type.clone(),
                position: part.position.clone(),
                life: drawn.map(|drawn| limit_of(part, &drawn, now.share_of(index))),
            })
            .collect();
        Ok(UnitComparison {
            unit: request.unit.clone(),
            profile: event.profile.name.clone(),
            basis: request.draws.basis,
            horizon_events: drawing.horizon_events,
            samples: drawing.samples,
            notes: notes(&parts, &components, &event),
            cautions: cautions(&parts),
            components,
            verdict: verdict::of_unit(&earliest, best, found.candidates.len(), prior_only),
            earliest,
            candidates: found.candidates,
            steps: found.steps,
        })
    }

    /// What is wrong with the call itself, all at once.
    fn check_unit_comparison(&self, request: &CompareUnitRequest) -> Result<Drawing, LedgerError> {
        let mut violations = Violations::default();
        let drawing = self.drawing(&request.draws, vec![0.0], &mut violations);
        let count = request.candidates.len();
        if count > MOST_CANDIDATES {
            violations.add("candidates", count, "at most 64", "send several calls");
        }
        if let Some(steps) = request
            .steps
            .filter(|steps| !(1..=MOST_STEPS).contains(steps))
        {
            violations.add("steps", steps, "1 to 5", "leave it out for 3");
        }
        for (index, candidate) in request.candidates.iter().take(MOST_CANDIDATES).enumerate() {
            let at = format!("candidates[{index}].");
            let count = candidate.changes.len();
            if !(1..=MOST_CHANGES).contains(&count) {
                let remedy = "name what changes";
                violations.add(format!("{at}changes"), count, "1 to 16", remedy);
            }
            if candidate.label.chars().count() > 100 {
                let expected = "at most 100 characters";
                violations.add(
                    format!("{at}label"),
                    &candidate.label,
                    expected,
                    "shorten it",
                );
            }
            for (number, change) in candidate.changes.iter().take(MOST_CHANGES).enumerate() {
                let at = format!("{at}changes[{number}].alternative.");
                check(&mut violations, &at, &change.alternative);
            }
        }
        violations.into_result()?;
        Ok(drawing)
    }

    fn profile_of_unit(&self, request: &CompareUnitRequest) -> Result<ProfileName, LedgerError> {
        if let Some(profile) = &request.profile {
            return Ok(profile.clone());
        }
        let unit = self.get_unit(&request.unit)?;
        unit.event_profile.ok_or_else(|| {
            let text = format!(
                "profile is not given, and {} has no event_profile; name a profile, or give the unit one",
                unit.name
            );
            LedgerError::precondition(Reason::ProfileMissing, &unit.name, text)
        })
    }

    /// Every treatment of the catalogue on every type in the unit that it is meant for.
    fn whole_catalogue(&self, parts: &[Part]) -> Result<Vec<UnitCandidate>, LedgerError> {
        let types: BTreeSet<&String> = parts.iter().map(|part| &part.component_type).collect();
        let mut candidates = Vec::new();
        for component_type in types {
            for treatment in self.treatments_for(component_type)? {
                let alternative = Alternative {
                    treatments: vec![ComparedTreatment {
                        treatment,
                        ..ComparedTreatment::default()
                    }],
                    ..Alternative::default()
                };
                candidates.push(UnitCandidate {
                    label: String::new(),
                    changes: vec![UnitChange {
                        target: ChangeTarget::Type(component_type.clone()),
                        alternative,
                    }],
                });
            }
        }
        Ok(candidates)
    }
}

/// Which parts each candidate changes.
fn resolve<'a>(
    parts: &[Part],
    asked: &'a [UnitCandidate],
) -> Result<Vec<Candidate<'a>>, LedgerError> {
    let mut violations = Violations::default();
    let mut candidates = Vec::with_capacity(asked.len());
    for (index, candidate) in asked.iter().enumerate() {
        let mut changes: BTreeMap<usize, Vec<&Alternative>> = BTreeMap::new();
        for (number, change) in candidate.changes.iter().enumerate() {
            let (field, value) = match &change.target {
                ChangeTarget::Component(name) => ("component", name.to_string()),
                ChangeTarget::Type(name) => ("component_type", name.clone()),
            };
            let hit = |part: &Part| match &change.target {
                ChangeTarget::Component(name) => part.component == *name,
                ChangeTarget::Type(name) => part.component_type == *name,
            };
            let hits: Vec<usize> = (0..parts.len()).filter(|part| hit(&parts[*part])).collect();
            if hits.is_empty() {
                let field = format!("candidates[{index}].changes[{number}].{field}");
                let expected = "what is installed in the unit";
                violations.add(
                    field,
                    value,
                    expected,
                    "name one of `components` of the answer",
                );
            }
            for part in hits {
                changes.entry(part).or_default().push(&change.alternative);
            }
        }
        candidates.push(Candidate {
            label: candidate_label(candidate),
            changes,
        });
    }
    violations.into_result()?;
    let forecasts: usize = candidates.iter().map(|each| each.changes.len()).sum();
    if forecasts > MOST_FORECASTS {
        return Err(LedgerError::ResourceExhausted {
            what: "changed components of all candidates together".into(),
            value: forecasts as u64,
            limit: MOST_FORECASTS as u64,
            remedy: "name fewer candidates".into(),
        });
    }
    Ok(candidates)
}

/// The label that was given, or what changes in words: `superfinish on gear set`.
fn candidate_label(candidate: &UnitCandidate) -> String {
    if !candidate.label.is_empty() {
        return candidate.label.clone();
    }
    let changes = candidate.changes.iter().map(|change| {
        let on = match &change.target {
            ChangeTarget::Component(name) => name.component().to_owned(),
            ChangeTarget::Type(name) => name.replace('_', " "),
        };
        format!("{} on {on}", label_of(&change.alternative))
    });
    changes.collect::<Vec<_>>().join(" + ")
}

fn limit_of(part: &Part, drawn: &Arc<PartLives>, first_probability: f64) -> ComponentLimit {
    let (limiting_mechanism, limiting_probability) = match drawn.limiting {
        Some((index, probability)) => (part.mechanism(index).0, probability),
        None => (String::new(), 0.0),
    };
    ComponentLimit {
        life: drawn.life,
        limiting_mechanism,
        limiting_probability,
        first_probability,
    }
}

fn notes(parts: &[Part], components: &[UnitComponentLife], event: &Event) -> Vec<Finding> {
    let mut notes = vec![warning(
        "components".into(),
        "drawn independently of each other".into(),
        "parts of one unit, which share oil, heat and duty",
        "where they are long-lived or short-lived together, the true earliest limit comes later than told".into(),
    )];
    for part in components {
        if let Err(error) = &part.life {
            notes.push(warning(
                part.component.to_string(),
                "has no life".into(),
                "a life of every component",
                format!("the unit's limit leaves it out: {error}"),
            ));
        }
    }
    for part in parts {
        let Ok(subject) = &part.subject else { continue };
        for note in channel_notes(&subject.card, event) {
            if !notes.iter().any(|other| other.field == note.field) {
                notes.push(note);
            }
        }
    }
    notes
}

fn cautions(parts: &[Part]) -> Vec<String> {
    let subjects = parts.iter().filter_map(|part| part.subject.as_ref().ok());
    cautions_of(subjects.map(|subject| &*subject.card))
}

/// Cautions of all cards, each once.
pub(crate) fn cautions_of<'a>(cards: impl Iterator<Item = &'a Card>) -> Vec<String> {
    let mut cautions = Vec::new();
    for card in cards {
        for caution in &card.cautions {
            if !cautions.contains(caution) {
                cautions.push(caution.clone());
            }
        }
    }
    cautions
}
