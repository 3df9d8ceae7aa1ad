//! A good choice beside the solver's, or in its place where it fails: part by part the best path with the others as they are, then whole teardowns
//! left out or offered, as long as anything gets better. The same program gives the same choice; how far it can be from the
//! best is told by a bound.

use super::{
    arcs::Arc,
    program::{CAPPED, Choice, Program},
};
use std::collections::BTreeSet;

/// Money for passing a cap by all of it: far more than any plan costs.
const EXCESS_PRICE: f64 = 1e7;
/// Rounds over all parts and stops; each ends earlier when nothing gets better.
const MOST_ROUNDS: usize = 20;
/// Less is no improvement.
const LEAST_GAIN: f64 = 1e-6;

/// The best choice that the search comes to; none when limits, time and shelf leave no way through that it finds.
pub(super) fn search(program: &Program, arcs: &[Vec<Arc>]) -> Option<Choice> {
    let search = Search { program, arcs };
    let mut state = search.begin()?;
    let mut best = search.price(&state);
    for _ in 0..MOST_ROUNDS {
        let before = best;
        for part in 0..program.parts.len() {
            let next = search.with_best(&state, part, &Offer::default());
            search.take(next, &mut state, &mut best);
        }
        for stop in 0..program.stops.len() {
            let elsewhere = (0..program.stops.len()).filter(|other| *other != stop);
            let moved = elsewhere.map(|other| Offer {
                without: Some(stop),
                free: Some(other),
            });
            for offer in [Offer::without(stop), Offer::free(stop)]
                .into_iter()
                .chain(moved)
            {
                let mut next = Some(state.clone());
                for part in 0..program.parts.len() {
                    next = next.and_then(|next| search.with_best(&next, part, &offer));
                }
                search.take(next, &mut state, &mut best);
            }
        }
        if before - best < LEAST_GAIN {
            break;
        }
    }
    Some(search.choice(&state))
}

/// What a choice costs, with the caps that it passes.
pub(super) fn price_of(program: &Program, choice: &Choice) -> f64 {
    let hazards = program.hazards(choice);
    let shares = hazards.iter().flat_map(|event| event.iter().enumerate());
    let over = shares.map(|(which, hazard)| (hazard / program.cap_hazard(which) - 1.0).max(0.0));
    program.cost(choice).total() + EXCESS_PRICE * over.sum::<f64>()
}

/// Stops of each part, rising; none yet for parts that are not placed.
type State = Vec<Option<Vec<usize>>>;

/// What is tried in a move.
#[derive(Clone, Copy, Default)]
struct Offer {
    /// No part may be replaced here.
    without: Option<usize>,
    /// Teardown costs nothing here.
    free: Option<usize>,
}

impl Offer {
    fn without(stop: usize) -> Self {
        Self {
            without: Some(stop),
            free: None,
        }
    }

    fn free(stop: usize) -> Self {
        Self {
            without: None,
            free: Some(stop),
        }
    }
}

struct Search<'a> {
    program: &'a Program,
    arcs: &'a [Vec<Arc>],
}

impl Search<'_> {
    /// Parts one after the other, those that must come out soonest first.
    fn begin(&self) -> Option<State> {
        let mut order: Vec<usize> = (0..self.program.parts.len()).collect();
        order.sort_by_key(|part| self.program.parts.get(*part).map(|p| p.present_may_run));
        let start: State = vec![None; self.program.parts.len()];
        let place = |state: State, part| self.with_best(&state, part, &Offer::default());
        order.into_iter().try_fold(start, place)
    }

    fn take(&self, next: Option<State>, state: &mut State, best: &mut f64) {
        let Some(next) = next else { return };
        let price = self.price(&next);
        if price < *best - LEAST_GAIN {
            (*state, *best) = (next, price);
        }
    }

    /// What a state costs, caps included.
    fn price(&self, state: &State) -> f64 {
        price_of(self.program, &self.choice(state))
    }

    fn choice(&self, state: &State) -> Choice {
        let stops = 0..self.program.stops.len();
        Choice {
            replaced: state
                .iter()
                .map(|stops| stops.clone().unwrap_or_default())
                .collect(),
            open: stops
                .map(|stop| self.open(stop, &at(state, stop, None)))
                .collect(),
        }
    }

    /// Levels that serve some parts at a stop at little cost: one for all, or each part's cheapest.
    fn open(&self, stop: usize, parts: &[usize]) -> Vec<usize> {
        let needs: Vec<&Vec<usize>> = parts
            .iter()
            .filter_map(|part| {
                self.program
                    .parts
                    .get(*part)?
                    .renewal
                    .as_ref()?
                    .levels
                    .as_ref()
            })
            .collect();
        if needs.is_empty() {
            return Vec::new();
        }
        let possible = self
            .program
            .stops
            .get(stop)
            .map(|stop| stop.levels.as_slice());
        let possible = possible.unwrap_or_default();
        let cheapest = |of: &dyn Fn(&usize) -> bool| {
            let fitting = possible.iter().copied().filter(|level| of(level));
            fitting.min_by(|one, other| {
                self.level_cost(&[*one])
                    .total_cmp(&self.level_cost(&[*other]))
            })
        };
        let one = cheapest(&|level| needs.iter().all(|need| need.contains(level)));
        let mut each: Vec<usize> = Vec::new();
        for need in &needs {
            if !need.iter().any(|level| each.contains(level)) {
                each.extend(cheapest(&|level| need.contains(level)));
            }
        }
        each.sort_unstable();
        match one {
            Some(one) if self.level_cost(&[one]) <= self.level_cost(&each) => vec![one],
            _ => each,
        }
    }

    fn level_cost(&self, levels: &[usize]) -> f64 {
        let found = levels
            .iter()
            .filter_map(|level| self.program.levels.get(*level));
        found.map(|level| level.cost).sum()
    }

    /// Whether there is time for some parts at a stop.
    fn in_time(&self, stop: usize, parts: &[usize]) -> bool {
        let available = self
            .program
            .stops
            .get(stop)
            .and_then(|stop| stop.available_min);
        let fitted: f64 = parts
            .iter()
            .filter_map(|part| Some(self.program.parts.get(*part)?.renewal.as_ref()?.fitting_min))
            .sum();
        let open = self.open(stop, parts);
        let levels = open
            .iter()
            .filter_map(|level| self.program.levels.get(*level));
        let down: f64 = levels.map(|level| level.labour_min).sum();
        available.is_none_or(|available| fitted + down <= available)
    }

    /// Stops at which a part's shelf is empty: the others have taken what no order can bring.
    fn sold_out(&self, state: &State, part: usize) -> (BTreeSet<usize>, usize) {
        let mut out = BTreeSet::new();
        let mut left = usize::MAX;
        for shelf in self
            .program
            .shelves
            .iter()
            .filter(|shelf| shelf.parts.contains(&part))
        {
            let others = shelf.parts.iter().filter(|other| **other != part);
            let taken: usize = others
                .filter_map(|other| state.get(*other)?.as_ref())
                .map(|stops| {
                    stops
                        .iter()
                        .filter(|stop| shelf.stops.contains(stop))
                        .count()
                })
                .sum();
            let stock = (shelf.stock as usize).saturating_sub(taken);
            left = left.min(stock);
            if stock == 0 {
                out.extend(shelf.stops.iter().copied());
            }
        }
        (out, left)
    }

    /// A state with one part on its best path, the others as they are.
    fn with_best(&self, state: &State, part: usize, offer: &Offer) -> Option<State> {
        let (sold_out, left) = self.sold_out(state, part);
        let mut path = self.path(state, part, offer, &sold_out);
        if path
            .as_ref()
            .is_some_and(|path| self.taken_from_shelf(part, path) > left)
        {
            // More than the shelf has: nothing from the shelf then.
            let shelves = self
                .program
                .shelves
                .iter()
                .filter(|shelf| shelf.parts.contains(&part));
            let stops: BTreeSet<usize> = shelves
                .flat_map(|shelf| shelf.stops.iter().copied())
                .collect();
            path = self.path(state, part, offer, &stops);
        }
        let mut next = state.clone();
        *next.get_mut(part)? = Some(path?);
        Some(next)
    }

    /// The best path of a part that is not replaced at some stops.
    fn path(
        &self,
        state: &State,
        part: usize,
        offer: &Offer,
        barred: &BTreeSet<usize>,
    ) -> Option<Vec<usize>> {
        let hazards = self.hazards_of_others(state, part);
        let entry: Vec<Option<f64>> = (0..self.program.stops.len())
            .map(|stop| {
                let there = at(state, stop, Some(part));
                let with: Vec<usize> = there.iter().copied().chain([part]).collect();
                let barred = barred.contains(&stop) || offer.without == Some(stop);
                if barred || !self.in_time(stop, &with) {
                    return None;
                }
                let teardown = |parts: &[usize]| self.level_cost(&self.open(stop, parts));
                Some(match offer.free {
                    Some(free) if free == stop => 0.0,
                    _ => teardown(&with) - teardown(&there),
                })
            })
            .collect();
        let weight = |arc: &Arc| {
            let teardown = arc.to.map_or(Some(0.0), |to| *entry.get(to)?)?;
            Some(arc.cost + teardown + EXCESS_PRICE * self.excess(arc, &hazards))
        };
        best_path(self.arcs.get(part)?, self.program.stops.len(), &weight)
    }

    /// Hazards of each event of the parts that are placed, but for one.
    fn hazards_of_others(&self, state: &State, part: usize) -> Vec<[f64; CAPPED]> {
        let mut hazards = vec![[0.0; CAPPED]; self.program.events];
        let placed = self.program.parts.iter().zip(state).enumerate();
        for (index, (other, stops)) in placed {
            let Some(stops) = stops.as_ref().filter(|_| index != part) else {
                continue;
            };
            for (sum, (event, _)) in hazards.iter_mut().zip(self.program.course(other, stops)) {
                for (sum, hazard) in sum.iter_mut().zip(event.hazard) {
                    *sum += hazard;
                }
            }
        }
        hazards
    }

    /// How much more an event's caps are passed by with a stretch of a part, in shares.
    fn excess(&self, arc: &Arc, hazards: &[[f64; CAPPED]]) -> f64 {
        let events = arc.hazard.iter().zip(hazards.iter().skip(arc.first_event));
        let over = |share: f64| (share - 1.0).max(0.0);
        events
            .map(|(own, all)| {
                let each = own.iter().zip(all).enumerate();
                each.map(|(which, (own, all))| {
                    let cap = self.program.cap_hazard(which);
                    over((all + own) / cap) - over(all / cap)
                })
                .sum::<f64>()
            })
            .sum()
    }

    fn taken_from_shelf(&self, part: usize, path: &[usize]) -> usize {
        let shelves = self
            .program
            .shelves
            .iter()
            .filter(|shelf| shelf.parts.contains(&part));
        let counts = shelves.map(|shelf| {
            path.iter()
                .filter(|stop| shelf.stops.contains(stop))
                .count()
        });
        counts.max().unwrap_or(0)
    }
}

/// The stops of the path of least weight from now to the end.
pub(super) fn best_path(
    arcs: &[Arc],
    stops: usize,
    weight: &dyn Fn(&Arc) -> Option<f64>,
) -> Option<Vec<usize>> {
    // Least weight to reach each stop, with the stop before it.
    let mut reached: Vec<Option<(f64, Option<usize>)>> = vec![None; stops];
    let mut end: Option<(f64, Option<usize>)> = None;
    let mut ordered: Vec<&Arc> = arcs.iter().collect();
    ordered.sort_by_key(|arc| (arc.from, arc.to.map_or(usize::MAX, |to| to)));
    for arc in ordered {
        let before = match arc.from {
            None => Some(0.0),
            Some(from) => reached.get(from).copied().flatten().map(|(sum, _)| sum),
        };
        let Some(sum) = before.zip(weight(arc)).map(|(sum, own)| sum + own) else {
            continue;
        };
        let place = match arc.to {
            Some(to) => reached.get_mut(to)?,
            None => &mut end,
        };
        if place.is_none_or(|(least, _)| sum < least) {
            *place = Some((sum, arc.from));
        }
    }
    let mut path = Vec::new();
    let (_, mut stop) = end?;
    while let Some(at) = stop {
        path.push(at);
        stop = reached.get(at).copied().flatten()?.1;
    }
    path.reverse();
    Some(path)
}

/// The stretches of a path.
pub(super) fn arcs_on<'a>(arcs: &'a [Arc], path: &'a [usize]) -> impl Iterator<Item = &'a Arc> {
    let from = std::iter::once(None).chain(path.iter().copied().map(Some));
    let to = path.iter().copied().map(Some).chain([None]);
    from.zip(to)
        .filter_map(|(from, to)| arcs.iter().find(|arc| arc.from == from && arc.to == to))
}

/// Parts that are replaced at a stop, but for one.
fn at(state: &State, stop: usize, but: Option<usize>) -> Vec<usize> {
    let parts = state.iter().enumerate();
    let there = parts.filter(|(part, stops)| {
        Some(*part) != but && stops.as_ref().is_some_and(|stops| stops.contains(&stop))
    });
    there.map(|(part, _)| part).collect()
}
