//! The program against enumeration of every choice.

use super::{
    arcs::{arcs_of, may_run, stops_of},
    bound::{at_least, limits},
    descent::search,
    optimise::optimise,
    program::{Choice, Level, Part, Program, Renewal, Shelf, Spell, SpellEvent, Stop},
};
use proptest::{collection::vec, prelude::*};

const COSTS: [f64; 2] = [22_000.0, 4_500.0];

/// A part that wears out by a Weibull law of this shape and characteristic life; even ones can hurt people.
fn spell(age: f64, (shape, scale): (f64, f64), severities: &[f64], which: usize) -> Spell {
    // A sure end has a finite hazard, as in what is drawn.
    let hazard =
        |from: f64, to: f64| ((to / scale).powf(shape) - (from / scale).powf(shape)).min(20.7);
    let mut used = age;
    let mut alive = 1.0;
    let events = severities.iter().map(|severity| {
        let h = hazard(used, used + severity);
        used += severity;
        let end = alive * (1.0 - (-h).exp());
        alive -= end;
        SpellEvent {
            cost: end * COSTS[which % 2],
            hazard: [h, if which.is_multiple_of(2) { h } else { 0.0 }],
            any_hazard: h,
            used: [used / scale; 3],
        }
    });
    Spell {
        events: events.collect(),
    }
}

#[derive(Clone, Debug)]
struct Given {
    severities: Vec<f64>,
    /// Shape, scale, age, price, level, limit in events.
    parts: Vec<(f64, f64, f64, f64, usize, usize)>,
    levels: [f64; 2],
    cap: f64,
    stock: u32,
    available_min: f64,
}

/// A part needs level 0, which level 1 serves too; or level 1; or none.
fn program(given: &Given) -> Program {
    let events = given.severities.len();
    let stops: Vec<Stop> = (0..events)
        .map(|before_event| Stop {
            before_event,
            levels: vec![0, 1],
            available_min: (before_event == 1).then_some(given.available_min),
        })
        .collect();
    let part = |(which, (shape, scale, age, price, level, limit)): (
        usize,
        &(f64, f64, f64, f64, usize, usize),
    )| {
        let law = (*shape, *scale);
        let new =
            (0..events).map(|start| (start, spell(0.0, law, &given.severities[start..], which)));
        Part {
            present: spell(*age, law, &given.severities, which),
            present_may_run: *limit,
            new: new.collect(),
            renewal: Some(Renewal {
                price: *price,
                fitting_cost: 40.0,
                fitting_min: 60.0,
                levels: match level {
                    0 => Some(vec![0, 1]),
                    1 => Some(vec![1]),
                    _ => None,
                },
                may_run: (0..events).map(|start| (start, start + limit)).collect(),
            }),
        }
    };
    let parts: Vec<Part> = given.parts.iter().enumerate().map(part).collect();
    Program {
        events,
        shelves: vec![Shelf {
            parts: (0..parts.len()).collect(),
            stops: vec![0, 1],
            stock: given.stock,
        }],
        stops,
        levels: given
            .levels
            .iter()
            .map(|cost| Level {
                cost: *cost,
                labour_min: 200.0,
            })
            .collect(),
        parts,
        caps: [given.cap, 0.5 * given.cap],
    }
}

/// Every set of stops of every part, every set of levels at every stop that serves them at least cost.
fn enumerate(program: &Program) -> Vec<Choice> {
    let mut choices = vec![Vec::new()];
    for part in &program.parts {
        let stops = stops_of(program, part);
        let sets: Vec<Vec<usize>> = (0..1_u32 << stops.len())
            .map(|bits| {
                (0..stops.len())
                    .filter(|i| bits >> i & 1 == 1)
                    .map(|i| stops[i])
                    .collect()
            })
            .collect();
        choices = choices
            .iter()
            .flat_map(|before: &Vec<Vec<usize>>| {
                sets.iter().map(|set| {
                    let mut replaced = before.clone();
                    replaced.push(set.clone());
                    replaced
                })
            })
            .collect();
    }
    let choices = choices.into_iter().map(|replaced| Choice {
        open: open(program, &replaced),
        replaced,
    });
    choices.filter(|choice| allowed(program, choice)).collect()
}

/// Level 1 serves all; level 0 only its own.
fn open(program: &Program, replaced: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let needs = |stop: usize| {
        let at = program
            .parts
            .iter()
            .zip(replaced)
            .filter(|(_, stops)| stops.contains(&stop));
        let levels: Vec<Vec<usize>> = at
            .filter_map(|(part, _)| part.renewal.as_ref()?.levels.clone())
            .collect();
        let serves = |open: &[usize]| {
            levels
                .iter()
                .all(|need| need.iter().any(|level| open.contains(level)))
        };
        let sets: [&[usize]; 4] = [&[], &[0], &[1], &[0, 1]];
        let cost = |set: &&[usize]| {
            set.iter()
                .map(|level| program.levels[*level].cost)
                .sum::<f64>()
        };
        let serving = sets.into_iter().filter(|set| serves(set));
        serving
            .min_by(|a, b| cost(a).total_cmp(&cost(b)))
            .unwrap()
            .to_vec()
    };
    (0..program.stops.len()).map(needs).collect()
}

fn allowed(program: &Program, choice: &Choice) -> bool {
    let within_limits = program
        .parts
        .iter()
        .zip(&choice.replaced)
        .all(|(part, stops)| {
            let renewal = part.renewal.as_ref().unwrap();
            let starts = stops.iter().map(|stop| program.stops[*stop].before_event);
            let mut reach = part.present_may_run;
            for start in starts {
                if start > reach {
                    return false;
                }
                reach = renewal.may_run[&start];
            }
            reach >= program.events
        });
    let in_stock = program.shelves.iter().all(|shelf| {
        let taken = shelf.parts.iter().map(|part| {
            choice.replaced[*part]
                .iter()
                .filter(|stop| shelf.stops.contains(stop))
                .count()
        });
        taken.sum::<usize>() <= shelf.stock as usize
    });
    let in_time = program.stops.iter().enumerate().all(|(index, stop)| {
        let fitted = choice
            .replaced
            .iter()
            .filter(|stops| stops.contains(&index))
            .count() as f64
            * 60.0;
        let down: f64 = choice.open[index]
            .iter()
            .map(|level| program.levels[*level].labour_min)
            .sum();
        stop.available_min
            .is_none_or(|available| fitted + down <= available)
    });
    within_limits && in_stock && in_time
}

/// How much the caps are passed by in all, in shares of them.
fn excess(program: &Program, choice: &Choice) -> f64 {
    let over = |(which, hazard): (usize, &f64)| (hazard / program.cap_hazard(which) - 1.0).max(0.0);
    program
        .hazards(choice)
        .iter()
        .flat_map(|event| event.iter().enumerate().map(over).collect::<Vec<_>>())
        .sum()
}

fn some_season() -> impl Strategy<Value = Given> {
    let part = (
        1.5..4.0_f64,
        1.5..8.0_f64,
        0.0..2.0_f64,
        100.0..2000.0_f64,
        0..3_usize,
        2..6_usize,
    );
    (
        vec(0.6..1.4_f64, 3..5),
        vec(part, 1..4),
        [50.0..900.0_f64, 50.0..1500.0_f64],
        0.01..0.6_f64,
        0..4_u32,
        150.0..800.0_f64,
    )
        .prop_map(
            |(severities, parts, levels, cap, stock, available_min)| Given {
                severities,
                parts,
                levels,
                cap,
                stock,
                available_min,
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// The search finds what enumeration of every choice finds: none where there is none; within the caps the cheapest; where no
    /// choice is within the caps, one that passes them no more than must be.
    #[test]
    fn the_search_is_exact_on_small_seasons(given in some_season()) {
        let program = program(&given);
        let choices = enumerate(&program);
        let found = optimise(&program).unwrap();
        let Some(found) = found else {
            prop_assert!(choices.is_empty(), "{} choices were left", choices.len());
            return Ok(());
        };
        prop_assert!(allowed(&program, &found.choice), "{:?}", found.choice);
        let least = choices.iter().map(|choice| excess(&program, choice)).fold(f64::INFINITY, f64::min);
        let passed = excess(&program, &found.choice);
        prop_assert!(passed <= least * (1.0 + 1e-4) + 1e-4, "{passed} {least}");
        let within = choices.iter().filter(|choice| excess(&program, choice) <= passed + 1e-9);
        let best = within.map(|choice| program.cost(choice).total()).fold(f64::INFINITY, f64::min);
        let total = found.cost.total();
        prop_assert!(total <= best * (1.0 + 2e-4) + 1e-6, "{total} {best}");
        if least <= 0.0 {
            prop_assert!(program.caps_met(&found.choice));
            prop_assert!(found.at_least <= best * (1.0 + 1e-6), "{} {best}", found.at_least);
        }
    }
}

/// A season like that of a shop: 13 events, 21 parts, three levels. Bounded by nodes; here that its gap is small and that
/// grouping happens: parts of one level share teardowns.
#[test]
fn a_whole_season_is_planned_with_a_small_gap() {
    let severities = [
        0.6, 0.85, 1.1, 0.95, 1.0, 0.6, 1.2, 1.0, 1.35, 0.6, 0.85, 1.1, 1.05,
    ];
    let parts: Vec<_> = (0..21)
        .map(|i| {
            let x = f64::from(i);
            let scale = 12.0 + 3.0 * (x * 1.7 % 9.0);
            (
                2.5 + x % 3.0,
                scale,
                0.2 * scale,
                150.0 + 70.0 * x,
                i as usize % 2,
                13,
            )
        })
        .collect();
    let given = Given {
        severities: severities.to_vec(),
        parts,
        levels: [400.0, 1500.0],
        cap: 0.25,
        stock: 21,
        available_min: 5000.0,
    };
    let program = program(&given);
    let found = optimise(&program).unwrap().unwrap();
    let total = found.cost.total();
    let gap = (total - found.at_least) / total;
    assert!(gap < 0.02, "{gap}");
    assert!(total < program.cost(&program.nothing()).total());
    let replaced: usize = found.choice.replaced.iter().map(Vec::len).sum();
    let teardowns = found
        .choice
        .open
        .iter()
        .filter(|open| !open.is_empty())
        .count();
    assert!(
        replaced > 2 * teardowns,
        "{replaced} parts in {teardowns} teardowns"
    );
}

#[test]
fn without_a_stop_a_limit_ends_the_season() {
    let given = Given {
        severities: vec![1.0; 4],
        parts: vec![(3.0, 8.0, 0.0, 100.0, 0, 2)],
        levels: [50.0, 90.0],
        cap: 0.5,
        stock: 9,
        available_min: 900.0,
    };
    let mut program = program(&given);
    assert_eq!(may_run(&program, &program.parts[0]), 4);
    program.stops.clear();
    assert_eq!(may_run(&program, &program.parts[0]), 2);
    assert!(optimise(&program).unwrap().is_none());
    program.parts[0].present_may_run = 4;
    assert_eq!(
        optimise(&program).unwrap().unwrap().choice,
        program.nothing()
    );
}

/// Seasons as shops have them: some parts are past their end when they are put in, some never end. The solver must not stumble over
/// numbers that are far apart.
fn some_wide_season() -> impl Strategy<Value = Given> {
    let scale = prop_oneof![0.05..1.0_f64, 3.0..30.0_f64, 100.0..1e4_f64];
    let part = (
        1.5..9.0_f64,
        scale,
        0.0..2.0_f64,
        100.0..2600.0_f64,
        0..3_usize,
        13..14_usize,
    );
    (vec(0.6..1.4_f64, 13), vec(part, 12..22), 0.01..0.3_f64).prop_map(
        |(severities, parts, cap)| Given {
            severities,
            parts,
            levels: [455.0, 1800.0],
            cap,
            stock: 2,
            available_min: 1e5,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn whole_seasons_are_planned_whatever_their_parts(given in some_wide_season()) {
        let program = program(&given);
        let found = optimise(&program).unwrap().unwrap();
        prop_assert!(allowed(&program, &found.choice));
        prop_assert!(found.at_least <= found.cost.total() * (1.0 + 1e-9));
    }

    /// The search that stands in for the solver: never forbidden, never better than the best, its bound never above it.
    #[test]
    fn the_stand_in_finds_what_is_allowed_and_never_more_than_the_best(given in some_season()) {
        let program = program(&given);
        let arcs: Vec<_> = program.parts.iter().map(|part| arcs_of(&program, part)).collect();
        let all = enumerate(&program);
        let best = all.iter().min_by(|one, other| {
            let of = |choice: &Choice| (excess(&program, choice), program.cost(choice).total());
            let (one, other) = (of(one), of(other));
            one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1))
        });
        if let Some(found) = search(&program, &arcs) {
            prop_assert!(allowed(&program, &found));
            let best = best.expect("what is allowed is enumerated");
            let (least, cost) = (program.cost(best).total(), program.cost(&found).total());
            let over = excess(&program, &found) - excess(&program, best);
            prop_assert!(over > -1e-9);
            if over < 1e-9 {
                prop_assert!(cost >= least - 1e-6, "{cost} {least}");
            }
        }
    }

    /// No choice that takes no more risk than some choice in any event, or keeps the caps there, costs less than the bound for that one.
    #[test]
    fn no_choice_costs_less_than_the_bound(given in some_season(), which in any::<prop::sample::Index>()) {
        let program = program(&given);
        let arcs: Vec<_> = program.parts.iter().map(|part| arcs_of(&program, part)).collect();
        let all = enumerate(&program);
        if all.is_empty() {
            return Ok(());
        }
        let one = which.get(&all);
        let bound = at_least(&program, &arcs, one);
        let limits = limits(&program, one);
        let within = |choice: &Choice| program.hazards(choice).iter().flatten().zip(limits.iter().flatten()).all(|(hazard, limit)| hazard <= limit);
        let alike = all.iter().filter(|other| within(other));
        let least = alike.map(|other| program.cost(other).total()).fold(f64::INFINITY, f64::min);
        prop_assert!(bound <= least * (1.0 + 1e-9), "{bound} {least}");
    }
}
