//! When the effect of a treatment rests on too little, and what would tell.

use super::effects::Effects;
use super::{LayerBelief, Observation, SHARES, StatisticsError, Subject, unit};
use std::collections::BTreeMap;

/// An effect is called unproven until it has been seen in this many units...
const NEEDED_UNITS: usize = 2;

/// ...and its spread is below this share of what it was before any reading. A convention of ours.
const NEEDED_SHARE: f64 = 0.5;

/// The most further units of each kind that are counted.
const MOST_UNITS: usize = 32;

/// Error of a reading where there is none to go by: that of the model's form alone (assumed).
const USUAL_LN_SD: f64 = 0.15;

/// What is missing, or `None` when the treatment layer of the subject is well enough known.
pub(super) fn sentence(
    prior_ln_sd: f64,
    observations: &[Observation],
    subject: &Subject,
    layer: &LayerBelief,
) -> Result<Option<String>, StatisticsError> {
    let narrow = layer.sd < NEEDED_SHARE * layer.prior_sd;
    if layer.prior_sd == 0.0 || (narrow && layer.units >= NEEDED_UNITS) {
        return Ok(None);
    }
    let found = match layer.units {
        0 => "no treated unit has been measured: nothing is known here of the treatment".to_owned(),
        1 => "one treated unit: nothing is proven of the treatment".to_owned(),
        n => format!("{n} treated units: too few to tell what the treatment does"),
    };
    let more = Design::new(prior_ln_sd, observations, subject, layer).cheapest()?;
    let needed = match more {
        Some(more) => format!("about {} would", more.in_words()),
        None => format!(
            "more than {MOST_UNITS} further treated and as many untreated units would be needed to"
        ),
    };
    Ok(Some(format!(
        "{found}; {needed} bring the spread of its effect below half of what was assumed"
    )))
}

/// Further units.
#[derive(Clone, Copy, Debug)]
struct More {
    treated: usize,
    untreated: usize,
}

impl More {
    fn in_words(self) -> String {
        let treated = match self.treated {
            1 => "1 more treated unit".to_owned(),
            n => format!("{n} more treated units"),
        };
        match self.untreated {
            0 => format!("{treated}, measured alike,"),
            n => format!("{treated} and {n} more untreated, measured alike,"),
        }
    }
}

/// Units as they could be measured next.
struct Design<'a> {
    prior_ln_sd: f64,
    observations: &'a [Observation],
    subject: &'a Subject,
    /// Readings of one unit.
    like: Vec<Observation>,
    treated_units: usize,
    below_sd: f64,
}

impl<'a> Design<'a> {
    fn new(
        prior_ln_sd: f64,
        observations: &'a [Observation],
        subject: &'a Subject,
        layer: &LayerBelief,
    ) -> Self {
        Self {
            prior_ln_sd,
            observations,
            subject,
            like: like(observations, subject),
            treated_units: layer.units,
            below_sd: NEEDED_SHARE * layer.prior_sd,
        }
    }

    /// The fewest further units that suffice: treated ones and as many untreated to go with them, or treated ones
    /// alone if these are fewer.
    fn cheapest(&self) -> Result<Option<More>, StatisticsError> {
        let paired = |n| More {
            treated: n,
            untreated: n,
        };
        let alone = |n| More {
            treated: n,
            untreated: 0,
        };
        let pairs = self.fewest(MOST_UNITS, paired)?;
        let at_most = pairs.map_or(MOST_UNITS, |n| 2 * n - 1);
        if self.suffices(alone(at_most))? {
            return Ok(self.fewest(at_most, alone)?.map(alone));
        }
        Ok(pairs.map(paired))
    }

    /// The least number that suffices. Every unit more only narrows, so that doubling and then halving finds it.
    fn fewest(
        &self,
        at_most: usize,
        more: impl Fn(usize) -> More,
    ) -> Result<Option<usize>, StatisticsError> {
        let (mut too_few, mut enough) = (0, 1);
        while !self.suffices(more(enough))? {
            if enough == at_most {
                return Ok(None);
            }
            (too_few, enough) = (enough, (2 * enough).min(at_most));
        }
        while enough - too_few > 1 {
            let middle = usize::midpoint(too_few, enough);
            if self.suffices(more(middle))? {
                enough = middle;
            } else {
                too_few = middle;
            }
        }
        Ok(Some(enough))
    }

    fn suffices(&self, more: More) -> Result<bool, StatisticsError> {
        let mut all = self.observations.to_vec();
        for n in 0..more.treated {
            all.extend(self.unit(n, &self.subject.treatments));
        }
        for n in 0..more.untreated {
            all.extend(self.unit(more.treated + n, ""));
        }
        let effects = Effects::of(self.prior_ln_sd, SHARES, &all, self.subject)?;
        let sd = effects
            .treatment(self.subject)?
            .map_or(0.0, |belief| belief.sd);
        Ok(sd < self.below_sd && self.treated_units + more.treated >= NEEDED_UNITS)
    }

    /// Readings of a unit that does not exist yet. No id holds a space, so that none is met.
    fn unit(&self, number: usize, treatments: &str) -> impl Iterator<Item = Observation> {
        self.like.iter().map(move |seen| Observation {
            component: format!("further {number} {}", seen.component),
            unit: format!("further {number}"),
            treatments: treatments.into(),
            ..seen.clone()
        })
    }
}

/// The readings of the treated unit with the most of them, of several the first by its id; one reading of the subject
/// where there is none. What was seen does not matter, only with which error.
fn like(observations: &[Observation], subject: &Subject) -> Vec<Observation> {
    let mut by_unit: BTreeMap<(&str, &str), Vec<Observation>> = BTreeMap::new();
    for seen in observations {
        if seen.treatments == subject.treatments {
            by_unit.entry(unit(seen)).or_default().push(seen.clone());
        }
    }
    // The last of equals is chosen.
    let most = by_unit.into_values().rev().max_by_key(Vec::len);
    most.unwrap_or_else(|| {
        let mut errors: Vec<f64> = observations.iter().map(|seen| seen.ln_sd).collect();
        errors.sort_by(f64::total_cmp);
        vec![Observation {
            component: subject.component.clone(),
            unit: subject.unit.clone(),
            position: subject.position.clone(),
            treatments: subject.treatments.clone(),
            instrument: String::new(),
            ln_rate: 0.0,
            ln_sd: errors.get(errors.len() / 2).copied().unwrap_or(USUAL_LN_SD),
            bias_slope: 0.0,
        }]
    })
}
