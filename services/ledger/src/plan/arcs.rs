//! Stretches between two replacements of a part. A plan of one part is a path of them.

use super::program::{CAPPED, Part, Program, Renewal, SpellEvent, Stop};

/// A part from one replacement to the next.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Arc {
    /// The stop at which it goes in; `None`: it is there now.
    pub(super) from: Option<usize>,
    /// The stop at which it comes out; `None`: it stays.
    pub(super) to: Option<usize>,
    /// The first event that it runs.
    pub(super) first_event: usize,
    /// Ends within it, and the replacement at its end.
    pub(super) cost: f64,
    /// In each event that it runs.
    pub(super) hazard: Vec<[f64; CAPPED]>,
}

/// Every stretch of a part that no limit forbids.
pub(super) fn arcs_of(program: &Program, part: &Part) -> Vec<Arc> {
    let stops = stops_of(program, part);
    let ends = |after: Option<usize>| {
        let later = stops
            .iter()
            .filter(move |stop| after.is_none_or(|after| **stop > after));
        later.copied().map(Some).chain([None])
    };
    let mut arcs: Vec<Arc> = ends(None)
        .filter_map(|to| arc(program, part, None, to))
        .collect();
    for from in &stops {
        arcs.extend(ends(Some(*from)).filter_map(|to| arc(program, part, Some(*from), to)));
    }
    arcs
}

/// Stops at which a part can be replaced.
pub(super) fn stops_of(program: &Program, part: &Part) -> Vec<usize> {
    let Some(renewal) = &part.renewal else {
        return Vec::new();
    };
    let serves = |stop: &Stop| {
        let open = |levels: &Vec<usize>| levels.iter().any(|level| stop.levels.contains(level));
        renewal.levels.as_ref().is_none_or(open)
    };
    let stops = program.stops.iter().enumerate();
    stops
        .filter(|(_, stop)| serves(stop))
        .map(|(index, _)| index)
        .collect()
}

/// How many events a part can run without passing a limit, replaced as often as there are stops.
pub(super) fn may_run(program: &Program, part: &Part) -> usize {
    let mut reached = part.present_may_run.min(program.events);
    for stop in stops_of(program, part) {
        let start = program
            .stops
            .get(stop)
            .map_or(usize::MAX, |stop| stop.before_event);
        if start <= reached {
            let limit = part
                .renewal
                .as_ref()
                .and_then(|renewal| renewal.may_run.get(&start));
            reached = reached.max(limit.copied().unwrap_or(start).min(program.events));
        }
    }
    reached
}

fn arc(program: &Program, part: &Part, from: Option<usize>, to: Option<usize>) -> Option<Arc> {
    let event_of = |stop: usize| program.stops.get(stop).map(|stop| stop.before_event);
    let first_event = from.map_or(Some(0), event_of)?;
    let end = to
        .map_or(Some(program.events), event_of)?
        .min(program.events);
    let (spell, limit) = if from.is_none() {
        (&part.present, part.present_may_run)
    } else {
        let limit = part.renewal.as_ref()?.may_run.get(&first_event)?;
        (part.new.get(&first_event)?, *limit)
    };
    if end > limit {
        return None;
    }
    let ran: &[SpellEvent] = spell.events.get(..end.checked_sub(first_event)?)?;
    let failures: f64 = ran.iter().map(|event| event.cost).sum();
    let renewal = part.renewal.as_ref().filter(|_| to.is_some());
    Some(Arc {
        from,
        to,
        first_event,
        cost: failures + renewal.map_or(0.0, Renewal::cost),
        hazard: ran.iter().map(|event| event.hazard).collect(),
    })
}
