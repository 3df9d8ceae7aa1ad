//! What a plan is chosen from: parts, the stops at which they may be replaced, caps, time and stock.

use std::collections::BTreeMap;

/// Which risks have a cap: loss of the unit or worse; an end that can hurt people.
pub(super) const CAPPED: usize = 2;

/// A season of one unit.
#[derive(Clone, Debug, Default)]
pub(super) struct Program {
    /// Events to come.
    pub(super) events: usize,
    /// In the order of time.
    pub(super) stops: Vec<Stop>,
    pub(super) levels: Vec<Level>,
    pub(super) parts: Vec<Part>,
    /// Most risk of each event.
    pub(super) caps: [f64; CAPPED],
    pub(super) shelves: Vec<Shelf>,
}

/// A time at which the unit may be torn down.
#[derive(Clone, Debug, Default)]
pub(super) struct Stop {
    /// The event that comes next.
    pub(super) before_event: usize,
    /// Levels that are possible.
    pub(super) levels: Vec<usize>,
    pub(super) available_min: Option<f64>,
}

/// A level of teardown.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Level {
    /// Labour and what it costs besides.
    pub(super) cost: f64,
    pub(super) labour_min: f64,
}

/// A place in the unit and what may be in it.
#[derive(Clone, Debug, Default)]
pub(super) struct Part {
    /// The part that is there now.
    pub(super) present: Spell,
    /// Events that it may run before a limit.
    pub(super) present_may_run: usize,
    /// A new part that goes in before an event, by that event.
    pub(super) new: BTreeMap<usize, Spell>,
    /// `None`: it is not replaced.
    pub(super) renewal: Option<Renewal>,
}

/// What replacing a part takes.
#[derive(Clone, Debug, Default)]
pub(super) struct Renewal {
    /// Of the part.
    pub(super) price: f64,
    /// Labour of fitting it.
    pub(super) fitting_cost: f64,
    pub(super) fitting_min: f64,
    /// Levels of which one must be open; `None`: it needs none.
    pub(super) levels: Option<Vec<usize>>,
    /// The event before which a new part must come out again, by the event before which it goes in.
    pub(super) may_run: BTreeMap<usize, usize>,
}

impl Renewal {
    /// Part and fitting.
    pub(super) fn cost(&self) -> f64 {
        self.price + self.fitting_cost
    }
}

/// A part from when it is there.
#[derive(Clone, Debug, Default)]
pub(super) struct Spell {
    /// One for each event from the first that it runs.
    pub(super) events: Vec<SpellEvent>,
}

/// A part in one event.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct SpellEvent {
    /// Expected cost of its end in this event.
    pub(super) cost: f64,
    /// Cumulative hazard of each capped risk within the event.
    pub(super) hazard: [f64; CAPPED],
    /// Cumulative hazard of any end.
    pub(super) any_hazard: f64,
    /// Of its life used at the end of the event: 10 %, 50 % and 90 % quantile.
    pub(super) used: [f64; 3],
}

/// Parts of one type that share a shelf.
#[derive(Clone, Debug, Default)]
pub(super) struct Shelf {
    pub(super) parts: Vec<usize>,
    /// Stops that come before an order could.
    pub(super) stops: Vec<usize>,
    pub(super) stock: u32,
}

/// Which parts are replaced at which stops.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Choice {
    /// Stops of each part, rising.
    pub(super) replaced: Vec<Vec<usize>>,
    /// Levels open at each stop.
    pub(super) open: Vec<Vec<usize>>,
}

/// What a choice costs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Cost {
    pub(super) parts: f64,
    /// Of fitting and teardowns, and what these cost besides.
    pub(super) labour: f64,
    pub(super) failures: f64,
}

impl Cost {
    pub(super) fn total(self) -> f64 {
        self.parts + self.labour + self.failures
    }
}

impl Program {
    /// Replaces nothing.
    pub(super) fn nothing(&self) -> Choice {
        Choice {
            replaced: vec![Vec::new(); self.parts.len()],
            open: vec![Vec::new(); self.stops.len()],
        }
    }

    /// A part in each event when it is replaced at these stops, and whether it is a new one then.
    pub(super) fn course<'a>(
        &'a self,
        part: &'a Part,
        replaced: &'a [usize],
    ) -> impl Iterator<Item = (SpellEvent, bool)> + 'a {
        (0..self.events).map(move |event| {
            let starts = replaced.iter().filter_map(|stop| self.stops.get(*stop));
            let last = starts
                .map(|stop| stop.before_event)
                .rfind(|start| *start <= event);
            let (spell, from) = match last {
                Some(start) => (part.new.get(&start), start),
                None => (Some(&part.present), 0),
            };
            let found = spell.and_then(|spell| spell.events.get(event - from));
            (found.copied().unwrap_or_default(), last.is_some())
        })
    }

    /// What a choice costs.
    pub(super) fn cost(&self, choice: &Choice) -> Cost {
        let mut cost = Cost::default();
        for (part, replaced) in self.parts.iter().zip(&choice.replaced) {
            let price = part
                .renewal
                .as_ref()
                .map_or([0.0; 2], |r| [r.price, r.fitting_cost]);
            let times = replaced.len() as f64;
            cost.parts += price[0] * times;
            cost.labour += price[1] * times;
            cost.failures += self
                .course(part, replaced)
                .map(|(event, _)| event.cost)
                .sum::<f64>();
        }
        let open = choice.open.iter().flatten();
        let levels = open.filter_map(|level| self.levels.get(*level));
        cost.labour += levels.map(|level| level.cost).sum::<f64>();
        cost
    }

    /// Cumulative hazard of each event under a choice, all parts together.
    pub(super) fn hazards(&self, choice: &Choice) -> Vec<[f64; CAPPED]> {
        let mut hazards = vec![[0.0; CAPPED]; self.events];
        for (part, replaced) in self.parts.iter().zip(&choice.replaced) {
            for (sum, (event, _)) in hazards.iter_mut().zip(self.course(part, replaced)) {
                for (sum, hazard) in sum.iter_mut().zip(event.hazard) {
                    *sum += hazard;
                }
            }
        }
        hazards
    }

    /// The cap of a risk as a cumulative hazard.
    pub(super) fn cap_hazard(&self, which: usize) -> f64 {
        -libm::log1p(-self.caps.get(which).copied().unwrap_or(1.0))
    }

    /// Whether every event is within the caps, to a part in ten thousand of them.
    pub(super) fn caps_met(&self, choice: &Choice) -> bool {
        let hazards = self.hazards(choice);
        let mut pairs = hazards.iter().flat_map(|event| event.iter().enumerate());
        pairs.all(|(which, hazard)| *hazard <= self.cap_hazard(which) * (1.0 + 1e-4))
    }
}
