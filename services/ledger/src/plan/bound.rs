//! What no plan can cost less than, however the plan was found: a bound by Lagrange multipliers. What couples the parts (caps,
//! teardowns, time, shelves) is given prices instead of being held; then every part goes its own best way, and what that costs, less
//! what the prices promised, is below every choice that keeps to the limits (weak duality; Fisher, Management Science 27, 1981). Prices
//! follow what is overdrawn, in steps after B. T. Polyak (1969).

use super::{
    arcs::Arc,
    descent::{arcs_on, best_path},
    program::{CAPPED, Choice, Part, Program},
};

/// Rounds of prices.
const ROUNDS: usize = 1500;
/// Rounds without a better bound after which steps are halved.
const PATIENCE: usize = 30;

/// A bound for every choice that keeps the caps, or in events where this one passes them takes no more risk than it.
pub(super) fn at_least(program: &Program, arcs: &[Vec<Arc>], found: &Choice) -> f64 {
    let market = Market {
        program,
        arcs,
        limits: limits(program, found),
    };
    let cost = program.cost(found).total();
    let mut prices = Prices::none(program);
    let mut best = f64::NEG_INFINITY;
    let mut step = 1.0;
    let mut waited = 0;
    for _ in 0..ROUNDS {
        let Some(reply) = market.reply(&prices) else {
            break;
        };
        waited += 1;
        if reply.bound > best {
            (best, waited) = (reply.bound, 0);
        }
        if waited > PATIENCE {
            (step, waited) = (0.5 * step, 0);
        }
        let slope: f64 = reply.overdrawn.all().map(|over| over * over).sum();
        if slope <= 0.0 || best >= cost {
            break;
        }
        prices.follow(&reply.overdrawn, step * (cost - reply.bound) / slope);
    }
    best.min(cost)
}

/// The cumulative hazard that each event may have: the cap's, or where a choice has more, what it has.
pub(super) fn limits(program: &Program, choice: &Choice) -> Vec<[f64; CAPPED]> {
    let limit = |hazards: [f64; CAPPED]| {
        std::array::from_fn(|which| hazards[which].max(program.cap_hazard(which)))
    };
    program.hazards(choice).into_iter().map(limit).collect()
}

/// Prices, or how much of what they are for is overdrawn.
struct Prices {
    /// Of all the risk that an event may have.
    caps: Vec<[f64; CAPPED]>,
    /// Of a part's share in a teardown, by stop and part.
    teardowns: Vec<Vec<f64>>,
    /// Of all the time at a stop.
    time: Vec<f64>,
    /// Of a piece from a shelf.
    shelves: Vec<f64>,
}

impl Prices {
    fn none(program: &Program) -> Self {
        Self {
            caps: vec![[0.0; CAPPED]; program.events],
            teardowns: vec![vec![0.0; program.parts.len()]; program.stops.len()],
            time: vec![0.0; program.stops.len()],
            shelves: vec![0.0; program.shelves.len()],
        }
    }

    fn all(&self) -> impl Iterator<Item = &f64> {
        let caps = self.caps.iter().flatten();
        let teardowns = self.teardowns.iter().flatten();
        caps.chain(teardowns).chain(&self.time).chain(&self.shelves)
    }

    /// No price is ever below nothing.
    fn follow(&mut self, overdrawn: &Self, step: f64) {
        let caps = self.caps.iter_mut().flatten();
        let teardowns = self.teardowns.iter_mut().flatten();
        let others = self.time.iter_mut().chain(&mut self.shelves);
        let all = caps.chain(teardowns).chain(others);
        for (price, over) in all.zip(overdrawn.all()) {
            *price = (*price + step * over).max(0.0);
        }
    }
}

/// What prices leave: the bound, and what they leave overdrawn.
struct Reply {
    bound: f64,
    overdrawn: Prices,
}

struct Market<'a> {
    program: &'a Program,
    arcs: &'a [Vec<Arc>],
    limits: Vec<[f64; CAPPED]>,
}

impl Market<'_> {
    /// `None` where a part has no way through.
    fn reply(&self, prices: &Prices) -> Option<Reply> {
        let mut reply = Reply {
            bound: 0.0,
            overdrawn: Prices::none(self.program),
        };
        for part in 0..self.program.parts.len() {
            self.best_way(part, prices, &mut reply)?;
        }
        for stop in 0..self.program.stops.len() {
            self.teardowns(stop, prices, &mut reply);
        }
        self.supply(prices, &mut reply);
        Some(reply)
    }

    /// A part by itself: what it costs, what it takes.
    fn best_way(&self, part: usize, prices: &Prices, reply: &mut Reply) -> Option<()> {
        let arcs = self.arcs.get(part)?;
        let weight = |arc: &Arc| self.weight(part, arc, prices);
        let path = best_path(arcs, self.program.stops.len(), &|arc| Some(weight(arc)))?;
        for arc in arcs_on(arcs, &path) {
            reply.bound += weight(arc);
            let overdrawn = &mut reply.overdrawn;
            let events = overdrawn
                .caps
                .iter_mut()
                .zip(&self.limits)
                .skip(arc.first_event);
            for ((over, limit), hazard) in events.zip(&arc.hazard) {
                for which in 0..CAPPED {
                    over[which] += hazard[which] / limit[which];
                }
            }
            let Some(to) = arc.to else { continue };
            if self.levels(part).is_some() {
                overdrawn.teardowns[to][part] += 1.0;
            }
            overdrawn.time[to] += self.fitting_share(part, to);
            for shelf in self.shelves(part, to) {
                overdrawn.shelves[shelf] += 1.0;
            }
        }
        Some(())
    }

    /// What a stretch costs with the prices of the risk that it brings and of what its end takes.
    fn weight(&self, part: usize, arc: &Arc, prices: &Prices) -> f64 {
        let events = prices.caps.iter().zip(&self.limits).skip(arc.first_event);
        let risk: f64 = events
            .zip(&arc.hazard)
            .map(|((price, limit), hazard)| {
                let each = (0..CAPPED).map(|which| price[which] * hazard[which] / limit[which]);
                each.sum::<f64>()
            })
            .sum();
        let end = arc.to.map_or(0.0, |to| {
            let shelves = self.shelves(part, to).map(|shelf| prices.shelves[shelf]);
            prices.teardowns[to][part]
                + prices.time[to] * self.fitting_share(part, to)
                + shelves.sum::<f64>()
        });
        arc.cost + risk + end
    }

    /// Levels that parts pay for open.
    fn teardowns(&self, stop: usize, prices: &Prices, reply: &mut Reply) {
        let levels = self.program.stops.get(stop).map(|stop| &stop.levels);
        for level in levels.into_iter().flatten() {
            let serves = |part: &usize| {
                self.levels(*part)
                    .is_some_and(|levels| levels.contains(level))
            };
            let served: Vec<usize> = (0..self.program.parts.len()).filter(serves).collect();
            let paid: f64 = served
                .iter()
                .map(|part| prices.teardowns[stop][*part])
                .sum();
            let Some(level) = self.program.levels.get(*level) else {
                continue;
            };
            let time = self.share_of_time(level.labour_min, stop);
            let left = level.cost + prices.time[stop] * time - paid;
            if left < 0.0 {
                reply.bound += left;
                reply.overdrawn.time[stop] += time;
                for part in served {
                    reply.overdrawn.teardowns[stop][part] -= 1.0;
                }
            }
        }
    }

    /// What there is of everything that has a price.
    fn supply(&self, prices: &Prices, reply: &mut Reply) {
        let overdrawn = &mut reply.overdrawn;
        for (price, over) in prices
            .caps
            .iter()
            .flatten()
            .zip(overdrawn.caps.iter_mut().flatten())
        {
            reply.bound -= price;
            *over -= 1.0;
        }
        for (stop, over) in overdrawn.time.iter_mut().enumerate() {
            reply.bound -= prices.time[stop];
            *over -= 1.0;
        }
        for (index, shelf) in self.program.shelves.iter().enumerate() {
            let stock = f64::from(shelf.stock);
            reply.bound -= stock * prices.shelves[index];
            overdrawn.shelves[index] -= stock;
        }
    }

    fn levels(&self, part: usize) -> Option<&Vec<usize>> {
        let part: &Part = self.program.parts.get(part)?;
        part.renewal.as_ref()?.levels.as_ref()
    }

    /// Shelves that a part at a stop takes from.
    fn shelves(&self, part: usize, stop: usize) -> impl Iterator<Item = usize> {
        let shelves = self.program.shelves.iter().enumerate();
        shelves
            .filter(move |(_, shelf)| shelf.parts.contains(&part) && shelf.stops.contains(&stop))
            .map(|(index, _)| index)
    }

    fn fitting_share(&self, part: usize, stop: usize) -> f64 {
        let renewal = self
            .program
            .parts
            .get(part)
            .and_then(|part| part.renewal.as_ref());
        renewal.map_or(0.0, |renewal| self.share_of_time(renewal.fitting_min, stop))
    }

    /// Of the time at a stop; nothing where it is not limited.
    fn share_of_time(&self, minutes: f64, stop: usize) -> f64 {
        let available = self
            .program
            .stops
            .get(stop)
            .and_then(|stop| stop.available_min);
        available.map_or(0.0, |available| minutes / available.max(1.0))
    }
}
