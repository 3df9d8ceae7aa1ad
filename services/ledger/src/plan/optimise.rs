//! The choice of least expected cost, as a mixed-integer program: for each part a path of stretches, coupled by the levels
//! that teardowns open once for all, by time, by the shelf and by the caps of every event.

use super::{
    arcs::{Arc, arcs_of},
    bound::{at_least, limits},
    descent::{price_of, search},
    program::{CAPPED, Choice, Cost, Program},
};
use crate::LedgerError;
use microlp::{
    ComparisonOp, Error, LinearExpr, OptimizationDirection, Problem, SolveOptions, SolveOutcome,
    Variable,
};

/// Nodes of the search; by nodes and not by time, so that every machine answers the same.
const MOST_NODES: u64 = 3000;
/// The search ends when no more than this share of the cost is not proved.
const GAP: f64 = 1e-4;
/// What is said to be the same number within the solver.
const TOLERANCE: f64 = 1e-6;
/// Shares of a limit that do not count; small numbers beside large ones make the solver's matrices singular.
const NOTHING: f64 = 1e-6;
/// As much as that where only a bound is asked for, which leaving out small shares can only lower.
const NOTHING_FOR_A_BOUND: f64 = 1e-4;

/// The choice and how near it is to the best.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) choice: Choice,
    pub(super) cost: Cost,
    /// No choice that keeps the caps, or takes no more risk than this one in events where it passes them, costs less.
    pub(super) at_least: f64,
}

/// The best choice. `None` when limits, time and shelf leave none, whatever the risk. When the caps leave none, the one
/// that passes them least, and of those the cheapest.
///
/// # Errors
/// Where the search beside it finds none either: [`LedgerError::ResourceExhausted`] when the solver ran out of nodes,
/// [`LedgerError::Internal`] when it failed.
pub(super) fn optimise(program: &Program) -> Result<Option<Found>, LedgerError> {
    let model = Model::new(program);
    // Numbers that are far apart make the solver's matrices singular, or hide the way through; a wide season may need more
    // nodes than there are. What stands in for it is no worse for being asked too.
    let beside = search(program, &model.arcs);
    let (choice, proved) = match (exact(&model), beside) {
        (Ok(Some(found)), Some(beside))
            if price_of(program, &beside) < price_of(program, &found.choice) =>
        {
            (beside, f64::NEG_INFINITY)
        }
        (Ok(Some(found)), _) => (found.choice, found.at_least),
        (Ok(None) | Err(_), Some(beside)) => (beside, f64::NEG_INFINITY),
        (Ok(None), None) => return Ok(None),
        // A solver that failed has not shown that there is none.
        (Err(error), None) => return Err(error),
    };
    Ok(Some(polished(&model, choice, proved)))
}

/// The cheapest choice that keeps the caps, or where this one passes them takes no more risk than it, and how far that is proved: with
/// these limits alone the solver's task is a small one.
fn polished(model: &Model, choice: Choice, proved: f64) -> Found {
    let program = model.program;
    let cost = program.cost(&choice);
    let mut found = Found {
        at_least: proved.max(at_least(program, &model.arcs, &choice)),
        choice,
        cost,
    };
    let limits = limits(program, &found.choice);
    let solved = solve(&model.problem(Aim::Within(&limits)));
    // The best of these costs no more than what is known to be one: if the solver fails or says otherwise, the other bound stands.
    if let Ok(Some(better)) = solved.map(|solved| solved.map(|solved| model.found(&solved)))
        && better.cost.total() <= cost.total() * (1.0 + TOLERANCE)
    {
        found.at_least = found.at_least.max(better.at_least);
        if price_of(program, &better.choice) < price_of(program, &found.choice) {
            (found.choice, found.cost) = (better.choice, better.cost);
        }
    }
    found.at_least = found.at_least.min(found.cost.total());
    found
}

/// By the solver.
fn exact(model: &Model) -> Result<Option<Found>, LedgerError> {
    if let Some(solved) = solve(&model.problem(Aim::Cost([0.0; CAPPED])))? {
        return Ok(Some(model.found(&solved)));
    }
    let Some(least) = solve(&model.problem(Aim::Excess))? else {
        return Ok(None);
    };
    // As much over the caps in all as must be, and no more.
    let over = least.excess.map(|sum| sum * (1.0 + TOLERANCE) + TOLERANCE);
    let solved = solve(&model.problem(Aim::Cost(over)))?;
    Ok(Some(model.found(solved.as_ref().unwrap_or(&least))))
}

/// What is made least.
#[derive(Clone, Copy)]
enum Aim<'a> {
    /// Cost, with the caps passed by at most this much in all, in shares of each cap.
    Cost([f64; CAPPED]),
    /// What the caps are passed by.
    Excess,
    /// Cost, with no more hazard in any event than this.
    Within(&'a [[f64; CAPPED]]),
}

/// A program with its stretches.
struct Model<'a> {
    program: &'a Program,
    arcs: Vec<Vec<Arc>>,
}

/// A program as the solver has it.
struct Written {
    problem: Problem,
    /// In the order of parts and their stretches.
    arcs: Vec<Vec<Variable>>,
    /// By stop and level.
    open: Vec<Vec<(usize, Variable)>>,
    /// By which capped risk, for each event that may pass its cap.
    excess: [Vec<Variable>; CAPPED],
}

/// Values of the variables, and the bound.
struct Solved {
    arcs: Vec<Vec<bool>>,
    open: Vec<Vec<usize>>,
    excess: [f64; CAPPED],
    at_least: f64,
}

impl<'a> Model<'a> {
    fn new(program: &'a Program) -> Self {
        let arcs = program
            .parts
            .iter()
            .map(|part| arcs_of(program, part))
            .collect();
        Self { program, arcs }
    }

    fn problem(&self, aim: Aim<'_>) -> Written {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let money = if matches!(aim, Aim::Excess) { 0.0 } else { 1.0 };
        let arcs: Vec<Vec<Variable>> = self
            .arcs
            .iter()
            .map(|arcs| {
                arcs.iter()
                    .map(|arc| problem.add_binary_var(money * arc.cost))
                    .collect()
            })
            .collect();
        let mut open = Vec::new();
        for stop in &self.program.stops {
            let level = |level: &usize| {
                let cost = self
                    .program
                    .levels
                    .get(*level)
                    .map_or(0.0, |level| level.cost);
                (*level, problem.add_binary_var(money * cost))
            };
            open.push(stop.levels.iter().map(level).collect());
        }
        let excess_cost = 1.0 - money;
        let passed = match aim {
            Aim::Within(_) => 0,
            Aim::Cost(_) | Aim::Excess => self.program.events,
        };
        let excess = [(); CAPPED].map(|()| {
            (0..passed)
                .map(|_| problem.add_var(excess_cost, (0.0, f64::INFINITY)))
                .collect()
        });
        let mut written = Written {
            problem,
            arcs,
            open,
            excess,
        };
        self.paths(&mut written);
        self.teardowns(&mut written);
        self.shelves(&mut written);
        self.caps(&mut written, aim);
        written
    }

    /// One path through the stops for each part.
    fn paths(&self, written: &mut Written) {
        for (arcs, variables) in self.arcs.iter().zip(&written.arcs) {
            let pairs = || arcs.iter().zip(variables);
            let begins = pairs().filter(|(arc, _)| arc.from.is_none());
            let begins = sum(begins.map(|(_, variable)| (*variable, 1.0)));
            written
                .problem
                .add_constraint(begins, ComparisonOp::Eq, 1.0);
            for stop in 0..self.program.stops.len() {
                let through = pairs().filter_map(|(arc, variable)| {
                    let comes = arc.to == Some(stop);
                    let goes = arc.from == Some(stop);
                    (comes || goes).then_some((*variable, if comes { 1.0 } else { -1.0 }))
                });
                let through: Vec<_> = through.collect();
                if !through.is_empty() {
                    written
                        .problem
                        .add_constraint(sum(through), ComparisonOp::Eq, 0.0);
                }
            }
        }
    }

    /// A replacement needs a level that serves it, and time.
    fn teardowns(&self, written: &mut Written) {
        for (index, stop) in self.program.stops.iter().enumerate() {
            let Some(open) = written.open.get(index) else {
                continue;
            };
            let mut time: Vec<(Variable, f64)> = Vec::new();
            for (level, variable) in open {
                let minutes = self
                    .program
                    .levels
                    .get(*level)
                    .map_or(0.0, |level| level.labour_min);
                time.push((*variable, minutes));
            }
            for (part, (arcs, variables)) in self
                .program
                .parts
                .iter()
                .zip(self.arcs.iter().zip(&written.arcs))
            {
                let Some(renewal) = &part.renewal else {
                    continue;
                };
                let pairs = arcs.iter().zip(variables);
                let ends: Vec<Variable> = pairs
                    .filter(|(arc, _)| arc.to == Some(index))
                    .map(|(_, v)| *v)
                    .collect();
                if ends.is_empty() {
                    continue;
                }
                time.extend(ends.iter().map(|variable| (*variable, renewal.fitting_min)));
                let Some(levels) = &renewal.levels else {
                    continue;
                };
                let serves = open.iter().filter(|(level, _)| levels.contains(level));
                let needs = ends.iter().map(|variable| (*variable, 1.0));
                let needs = needs.chain(serves.map(|(_, variable)| (*variable, -1.0)));
                written
                    .problem
                    .add_constraint(sum(needs), ComparisonOp::Le, 0.0);
            }
            if let Some(available_min) = stop.available_min {
                written
                    .problem
                    .add_constraint(sum(time), ComparisonOp::Le, available_min);
            }
        }
    }

    /// What no order can bring in time comes from the shelf.
    fn shelves(&self, written: &mut Written) {
        for shelf in &self.program.shelves {
            let of_part = |part: &usize| {
                let arcs = self.arcs.get(*part).zip(written.arcs.get(*part));
                arcs.into_iter()
                    .flat_map(|(arcs, variables)| arcs.iter().zip(variables))
            };
            let taken = shelf.parts.iter().flat_map(of_part);
            let taken = taken.filter(|(arc, _)| arc.to.is_some_and(|to| shelf.stops.contains(&to)));
            let taken: Vec<_> = taken.map(|(_, variable)| (*variable, 1.0)).collect();
            if !taken.is_empty() {
                let stock = f64::from(shelf.stock);
                written
                    .problem
                    .add_constraint(sum(taken), ComparisonOp::Le, stock);
            }
        }
    }

    /// Hazards of parts that are independent add up; each row in shares of what the event may have.
    fn caps(&self, written: &mut Written, aim: Aim<'_>) {
        for which in 0..CAPPED {
            let slacks = written.excess.get(which).cloned().unwrap_or_default();
            for event in 0..self.program.events {
                let (limit, nothing) = match aim {
                    Aim::Within(limits) => (limits[event][which], NOTHING_FOR_A_BOUND),
                    Aim::Cost(_) | Aim::Excess => (self.program.cap_hazard(which), NOTHING),
                };
                let mut row = self.shares(&written.arcs, event, which, limit);
                row.retain(|(_, share)| *share > nothing);
                row.extend(slacks.get(event).map(|slack| (*slack, -1.0)));
                written
                    .problem
                    .add_constraint(sum(row), ComparisonOp::Le, 1.0 + TOLERANCE);
            }
            if let Aim::Cost(over) = aim {
                let all = slacks.iter().map(|slack| (*slack, 1.0));
                written
                    .problem
                    .add_constraint(sum(all), ComparisonOp::Le, over[which]);
            }
        }
    }

    /// What each stretch has of an event's limit.
    fn shares(
        &self,
        variables: &[Vec<Variable>],
        event: usize,
        which: usize,
        limit: f64,
    ) -> Vec<(Variable, f64)> {
        let pairs = self.arcs.iter().zip(variables);
        let pairs = pairs.flat_map(|(arcs, variables)| arcs.iter().zip(variables));
        let shares = pairs.filter_map(|(arc, variable)| {
            let ran = event.checked_sub(arc.first_event)?;
            Some((*variable, arc.hazard.get(ran)?[which] / limit))
        });
        shares.collect()
    }

    fn found(&self, solved: &Solved) -> Found {
        let replaced: Vec<Vec<usize>> = self
            .arcs
            .iter()
            .zip(&solved.arcs)
            .map(|(arcs, taken)| {
                let taken = arcs.iter().zip(taken).filter(|(_, taken)| **taken);
                let mut stops: Vec<usize> = taken.filter_map(|(arc, _)| arc.to).collect();
                stops.sort_unstable();
                stops
            })
            .collect();
        let choice = Choice {
            replaced,
            open: solved.open.clone(),
        };
        let cost = self.program.cost(&choice);
        Found {
            choice,
            cost,
            at_least: solved.at_least.min(cost.total()),
        }
    }
}

fn sum(terms: impl IntoIterator<Item = (Variable, f64)>) -> LinearExpr {
    let mut expression = LinearExpr::empty();
    for (variable, factor) in terms {
        expression.add(variable, factor);
    }
    expression
}

/// `None`: it cannot be met.
fn solve(written: &Written) -> Result<Option<Solved>, LedgerError> {
    let mut options = SolveOptions::default();
    options.node_limit = Some(MOST_NODES);
    options.mip_gap = GAP;
    let outcome = match written.problem.solve_with(options) {
        Ok(outcome) => outcome,
        Err(Error::Infeasible) => return Ok(None),
        Err(error) => {
            return Err(LedgerError::Internal {
                message: format!("the plan's program was not solved: {error}"),
            });
        }
    };
    let at_least = outcome.stats().best_bound;
    let SolveOutcome::Solution(solution) = outcome else {
        return Err(LedgerError::ResourceExhausted {
            what: "nodes of the search for a plan".into(),
            value: MOST_NODES,
            limit: MOST_NODES,
            remedy: "plan fewer events or opportunities at once".into(),
        });
    };
    let taken = |variable: &Variable| solution.var_value(*variable) > 0.5;
    let open = |levels: &Vec<(usize, Variable)>| {
        let open = levels.iter().filter(|(_, variable)| taken(variable));
        open.map(|(level, _)| *level).collect()
    };
    Ok(Some(Solved {
        arcs: written
            .arcs
            .iter()
            .map(|arcs| arcs.iter().map(&taken).collect())
            .collect(),
        open: written.open.iter().map(open).collect(),
        excess: std::array::from_fn(|which| {
            let slacks = written.excess.get(which).into_iter().flatten();
            slacks.map(|slack| solution.var_value(*slack)).sum()
        }),
        at_least: at_least.unwrap_or_else(|| solution.objective()),
    }))
}
