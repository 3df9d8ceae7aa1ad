//! The earliest limit of a unit: draw by draw whichever component comes first to any of its limits.

use super::{
    paired::{Range, quantile_range},
    shuffled::Shuffled,
};
use crate::{ComponentName, EarliestLimit, Profile, UnitLimit, predict::remaining_life};
use std::collections::BTreeMap;

const MOST_LIMITS: usize = 10;

/// Drawn units.
pub(crate) struct Earliest {
    pub(crate) events: Vec<f64>,
    /// How often a mechanism of a part comes first; of parts that come at once each has an equal share.
    shares: BTreeMap<(usize, usize), f64>,
    horizon_events: f64,
}

impl Earliest {
    /// Of parts whose draws are independent of each other; those without a life are left out.
    pub(crate) fn of(parts: &[Option<&Shuffled>], samples: usize, horizon_events: f64) -> Self {
        let mut events = Vec::with_capacity(samples);
        let mut shares = BTreeMap::new();
        for draw in 0..samples {
            let of_draw: Vec<(usize, f64, usize)> = parts
                .iter()
                .enumerate()
                .filter_map(|(index, part)| {
                    let part = part.as_ref()?;
                    Some((index, *part.events.get(draw)?, *part.first.get(draw)?))
                })
                .collect();
            let least = of_draw
                .iter()
                .map(|(_, life, _)| *life)
                .fold(horizon_events, f64::min);
            events.push(least);
            if least >= horizon_events {
                continue;
            }
            let first = of_draw
                .iter()
                .filter(|(_, life, _)| life.total_cmp(&least).is_eq());
            let count = first.clone().count() as f64;
            for (part, _, mechanism) in first {
                *shares.entry((*part, *mechanism)).or_insert(0.0) += 1.0 / (count * samples as f64);
            }
        }
        Self {
            events,
            shares,
            horizon_events,
        }
    }

    /// How often a part comes first.
    pub(crate) fn share_of(&self, part: usize) -> f64 {
        let own = self.shares.iter().filter(|((index, _), _)| *index == part);
        own.map(|(_, share)| share).sum()
    }

    pub(crate) fn ranges(&self) -> Vec<Range> {
        let events = self.events.iter();
        events
            .map(|events| Range::life(*events, self.horizon_events))
            .collect()
    }

    pub(crate) fn median(&self) -> Range {
        quantile_range(&self.ranges(), 0.5)
    }

    /// As it is told. `name` gives the component of a part and the name and label of its mechanism.
    pub(crate) fn limit(
        &self,
        name: impl Fn(usize, usize) -> Option<(ComponentName, String, String)>,
        profile: &Profile,
    ) -> EarliestLimit {
        let mut limits: Vec<UnitLimit> = self
            .shares
            .iter()
            .filter_map(|((index, mechanism), probability)| {
                let (component, mechanism, label) = name(*index, *mechanism)?;
                Some(UnitLimit {
                    component,
                    mechanism,
                    label,
                    probability: *probability,
                })
            })
            .collect();
        limits.sort_by(|one, other| other.probability.total_cmp(&one.probability));
        limits.truncate(MOST_LIMITS);
        let beyond = self.events.iter().filter(|at| **at >= self.horizon_events);
        EarliestLimit {
            life: remaining_life(&self.events, profile, self.horizon_events),
            limits,
            beyond_horizon_probability: beyond.count() as f64 / self.events.len().max(1) as f64,
        }
    }
}
