//! What candidates do to the earliest limit of a unit, one by one and one after another.

use super::{
    earliest::Earliest,
    paired::{Range, odds, quantile_range, quantiles_of},
    parts::{Part, PartLives, alone, name_in},
    shuffled::Shuffled,
    verdict,
};
use crate::{
    Alternative, CandidateEffect, LedgerError, UnitEffect, UnitStep,
    ledger::Ledger,
    predict::{Drawing, Event, quantiles},
};
use std::{collections::BTreeMap, sync::Arc};

/// A candidate, resolved.
pub(super) struct Candidate<'a> {
    pub(super) label: String,
    /// Parts by index, in order.
    pub(super) changes: BTreeMap<usize, Vec<&'a Alternative>>,
}

type Drawn = Result<Arc<PartLives>, LedgerError>;

/// A unit under study.
pub(super) struct Study<'a> {
    pub(super) ledger: &'a Ledger,
    pub(super) parts: &'a [Part],
    pub(super) candidates: &'a [Candidate<'a>],
    pub(super) event: &'a Event,
    pub(super) drawing: &'a Drawing,
    /// Lives of a part with the candidates that change it, in the order of their choice.
    known: BTreeMap<(usize, Vec<usize>), Drawn>,
}

/// A candidate with its effect and how it ranks.
struct Ranked {
    candidate: usize,
    told: CandidateEffect,
    /// Change of the median, of the chances, of the mean; lives beyond the horizon count as the horizon.
    rank: [f64; 3],
}

/// What came of a study.
pub(super) struct Found {
    pub(super) candidates: Vec<CandidateEffect>,
    pub(super) steps: Vec<UnitStep>,
    /// The first of the candidates moves the median.
    pub(super) helps: bool,
}

impl<'a> Study<'a> {
    pub(super) fn new(
        ledger: &'a Ledger,
        parts: &'a [Part],
        candidates: &'a [Candidate<'a>],
        event: &'a Event,
        drawing: &'a Drawing,
    ) -> Self {
        Self {
            ledger,
            parts,
            candidates,
            event,
            drawing,
            known: BTreeMap::new(),
        }
    }

    /// Every part as the unit has it.
    pub(super) fn base(&mut self) -> Result<Vec<Drawn>, LedgerError> {
        let parts = 0..self.parts.len();
        parts.map(|part| self.lives(part, &[])).collect()
    }

    /// Ranks the candidates, then adds the best that helps, again and again.
    pub(super) fn run(&mut self, base: &[Drawn], steps: usize) -> Result<Found, LedgerError> {
        let mut ranked = self.ranked(base, &[])?;
        let mut chosen = Vec::new();
        let mut told = Vec::new();
        let mut found = None;
        while told.len() < steps {
            let best = ranked.first().filter(|best| best.helps());
            let step = best.and_then(|best| {
                let effect = best.told.effect.as_ref().ok()?;
                Some((best.candidate, step(&best.told.label, effect)))
            });
            let next = step.as_ref().map(|(candidate, _)| *candidate);
            if found.is_none() {
                found = Some((next.is_some(), std::mem::take(&mut ranked)));
            }
            let Some((candidate, step)) = step else { break };
            told.push(step);
            chosen.push(candidate);
            if told.len() < steps && chosen.len() < self.candidates.len() {
                ranked = self.ranked(base, &chosen)?;
            } else {
                ranked.clear();
            }
        }
        let (helps, ranked) = found.unwrap_or((false, ranked));
        Ok(Found {
            candidates: ranked.into_iter().map(|each| each.told).collect(),
            steps: told,
            helps,
        })
    }

    /// The candidates that are not chosen yet by what they add to those that are, best first, failed last.
    fn ranked(&mut self, base: &[Drawn], chosen: &[usize]) -> Result<Vec<Ranked>, LedgerError> {
        let before = self.unit(base, chosen)?;
        let mut ranked = Vec::new();
        for candidate in (0..self.candidates.len()).filter(|index| !chosen.contains(index)) {
            ranked.push(self.try_on(base, (&before.0, &before.1), chosen, candidate)?);
        }
        ranked.sort_by(|one, other| {
            let failed = |each: &Ranked| each.told.effect.is_err();
            let pairs = one.rank.iter().zip(&other.rank);
            let by_rank = pairs
                .map(|(a, b)| b.total_cmp(a))
                .find(|order| order.is_ne());
            failed(one)
                .cmp(&failed(other))
                .then(by_rank.unwrap_or(std::cmp::Ordering::Equal))
        });
        Ok(ranked)
    }

    /// The unit with the chosen candidates: its parts and its earliest limit.
    fn unit(
        &mut self,
        base: &[Drawn],
        chosen: &[usize],
    ) -> Result<(Vec<Drawn>, Earliest), LedgerError> {
        let mut parts = Vec::with_capacity(base.len());
        for part in 0..base.len() {
            parts.push(self.lives(part, chosen)?);
        }
        let earliest = self.earliest(&parts);
        Ok((parts, earliest))
    }

    pub(super) fn earliest(&self, parts: &[Drawn]) -> Earliest {
        let lives: Vec<Option<&Shuffled>> = parts
            .iter()
            .map(|part| part.as_deref().ok().map(|part| &part.shuffled))
            .collect();
        let samples = self.drawing.samples as usize;
        Earliest::of(&lives, samples, self.drawing.horizon_events)
    }

    fn try_on(
        &mut self,
        base: &[Drawn],
        before: (&[Drawn], &Earliest),
        chosen: &[usize],
        candidate: usize,
    ) -> Result<Ranked, LedgerError> {
        let label = self.candidates[candidate].label.clone();
        let with: Vec<usize> = chosen.iter().copied().chain([candidate]).collect();
        let (parts, after) = self.unit(base, &with)?;
        let changed: Vec<usize> = self.candidates[candidate].changes.keys().copied().collect();
        let failure = changed.iter().find_map(|part| parts[*part].as_ref().err());
        let (effect, rank) = if let Some(error) = failure {
            (Err(error.clone()), [f64::NEG_INFINITY; 3])
        } else {
            let effect = self.effect(before, (&parts, &after), &changed);
            let rank = rank_of(before.1, &after, &effect);
            (Ok(effect), rank)
        };
        Ok(Ranked {
            candidate,
            told: CandidateEffect { label, effect },
            rank,
        })
    }

    fn effect(
        &self,
        (parts_before, before): (&[Drawn], &Earliest),
        (parts_after, after): (&[Drawn], &Earliest),
        changed: &[usize],
    ) -> UnitEffect {
        let (one, other) = (before.ranges(), after.ranges());
        let changes: Vec<Range> = other.iter().zip(&one).map(|(b, a)| *b - *a).collect();
        let pairs = || {
            changed.iter().filter_map(|part| {
                let before = parts_before[*part].as_deref().ok()?;
                Some((before, parts_after[*part].as_deref().ok()?))
            })
        };
        let horizon = self.drawing.horizon_events;
        let mut evidence = Vec::new();
        let mut notes = Vec::new();
        for (_, part) in pairs() {
            for each in &part.variant.evidence {
                if !evidence.contains(each) {
                    evidence.push(each.clone());
                }
            }
            for each in &part.variant.notes {
                if !notes.contains(each) {
                    notes.push(each.clone());
                }
            }
        }
        let prices = pairs().map(|(before, after)| {
            let added = after.variant.treatments_price?;
            Some(added - before.variant.treatments_price?)
        });
        UnitEffect {
            components: changed
                .iter()
                .map(|part| self.parts[*part].component.clone())
                .collect(),
            earliest: after.limit(name_in(self.parts), &self.event.profile),
            median_change_events: (after.median() - before.median()).bounds(),
            change_events: quantiles_of(&changes),
            later: odds(&one, &other, false),
            own_life_ratios: pairs()
                .map(|(before, after)| own_ratio(before, after, horizon).bounds())
                .collect(),
            price: prices.sum::<Option<f64>>(),
            evidence,
            notes,
        }
    }

    /// Lives of a part with those of the chosen candidates that change it.
    fn lives(&mut self, part: usize, chosen: &[usize]) -> Result<Drawn, LedgerError> {
        let changing = chosen
            .iter()
            .copied()
            .filter(|candidate| self.candidates[*candidate].changes.contains_key(&part));
        let key = (part, changing.collect::<Vec<usize>>());
        if let Some(known) = self.known.get(&key) {
            return Ok(known.clone());
        }
        let alternatives: Vec<&Alternative> = key
            .1
            .iter()
            .filter_map(|candidate| self.candidates[*candidate].changes.get(&part))
            .flatten()
            .copied()
            .collect();
        let (event, drawing) = (self.event, self.drawing);
        let lives = self
            .ledger
            .part_lives(&self.parts[part], &alternatives, event, drawing);
        let lives = alone(lives)?.map(Arc::new);
        self.known.insert(key, lives.clone());
        Ok(lives)
    }
}

impl Ranked {
    /// Whether the median comes later, and later more often than earlier.
    fn helps(&self) -> bool {
        self.told.effect.is_ok() && self.rank[0] > 0.0 && self.rank[1] > 0.0
    }
}

fn rank_of(before: &Earliest, after: &Earliest, effect: &UnitEffect) -> [f64; 3] {
    let mean = |unit: &Earliest| unit.events.iter().sum::<f64>() / unit.events.len().max(1) as f64;
    [
        quantiles(&after.events).p50 - quantiles(&before.events).p50,
        effect.later.more - effect.later.less,
        mean(after) - mean(before),
    ]
}

/// What a part gains by itself.
fn own_ratio(before: &PartLives, after: &PartLives, horizon: f64) -> Range {
    if after.variant.is_as(&before.variant) {
        return Range::known(1.0);
    }
    let pairs = after.shuffled.events.iter().zip(&before.shuffled.events);
    let ratios: Vec<Range> = pairs
        .map(|(b, a)| Range::life(*b, horizon).over(Range::life(*a, horizon)))
        .collect();
    quantile_range(&ratios, 0.5)
}

fn step(label: &str, effect: &UnitEffect) -> UnitStep {
    UnitStep {
        label: label.into(),
        earliest: effect.earliest.clone(),
        median_change_events: effect.median_change_events,
        text: verdict::of_step(label, effect.median_change_events, &effect.earliest),
    }
}
