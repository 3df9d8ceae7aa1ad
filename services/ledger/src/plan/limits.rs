//! Limits that no plan passes: those of makers and sanctioning bodies in the calendar, readings past their limit, findings at
//! the part.

use super::{ahead::Ahead, parts::Drawn};
use crate::{LimitOwner, PartLimit};

/// A limit that bars a part from an event on, and why.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Bar {
    /// Events ahead that the part may run before it.
    pub(super) may_run: usize,
    pub(super) text: String,
}

/// Use that limits count.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Usage {
    pub(super) hours: f64,
    pub(super) events: f64,
}

/// Every limit that bars the part that is there before the season is over, the nearest first.
pub(super) fn bars_of_present(
    ahead: &Ahead,
    component_type: &str,
    drawn: &Drawn,
    profile_hours: f64,
) -> Vec<Bar> {
    let now = Usage {
        hours: drawn.hours,
        events: if profile_hours > 0.0 {
            drawn.hours / profile_hours
        } else {
            0.0
        },
    };
    let found = drawn.overruled.iter().map(|finding| Bar {
        may_run: 0,
        text: format!(
            "{}: it must not run before it is replaced or measured anew",
            finding.text
        ),
    });
    let past = drawn.past_limit.iter().map(|reading| Bar {
        may_run: 0,
        text: format!("{reading} is past its limit by prediction: it must not run before it is measured or replaced"),
    });
    let mut bars: Vec<Bar> = found.chain(past).collect();
    for limit in limits_of(ahead, component_type) {
        let may_run = events_within(ahead, limit, component_type, now, 0);
        if may_run < ahead.events.len() {
            bars.push(Bar {
                may_run,
                text: text_of(limit, now),
            });
        }
    }
    bars.sort_by_key(|bar| bar.may_run);
    bars
}

/// The event before which a new part that goes in before the event `start` must come out again.
pub(super) fn new_may_run(ahead: &Ahead, component_type: &str, start: usize) -> usize {
    let limits = limits_of(ahead, component_type);
    let within =
        limits.map(|limit| events_within(ahead, limit, component_type, Usage::default(), start));
    within.min().unwrap_or(ahead.events.len())
}

fn limits_of<'a>(ahead: &'a Ahead, component_type: &'a str) -> impl Iterator<Item = &'a PartLimit> {
    let limits = ahead.calendar.content.limits.iter();
    limits.filter(move |limit| limit.component_type == component_type)
}

/// The first event, counted from `start`, at whose end the limit would be passed. An event counts as one, or as its
/// severity where that is more: of two ways to count, the one that comes to the limit sooner.
fn events_within(
    ahead: &Ahead,
    limit: &PartLimit,
    component_type: &str,
    from: Usage,
    start: usize,
) -> usize {
    let mut used = from;
    for (index, event) in ahead.events.iter().enumerate().skip(start) {
        let count = event.severity(component_type).max(1.0);
        used.events += count;
        used.hours += count * event.hours;
        if passed(limit, used) {
            return index;
        }
    }
    ahead.events.len()
}

/// Whether this use is past a limit, to a millionth of it.
pub(super) fn passed(limit: &PartLimit, used: Usage) -> bool {
    let over = |most: Option<f64>, used: f64| most.is_some_and(|most| used > most * (1.0 + 1e-6));
    over(limit.most_hours, used.hours) || over(limit.most_events, used.events)
}

/// Which limit it is, and where the part stands.
pub(super) fn text_of(limit: &PartLimit, now: Usage) -> String {
    let owner = match limit.owner {
        LimitOwner::Maker => "the part's maker",
        LimitOwner::SanctioningBody => "the sanctioning body",
    };
    let hours = limit
        .most_hours
        .map(|most| format!("{most} h (now {:.1} h)", now.hours));
    let events = limit
        .most_events
        .map(|most| format!("{most} events (now {:.1})", now.events));
    let most: Vec<String> = hours.into_iter().chain(events).collect();
    format!("limit of {owner}, {}: {}", limit.source, most.join(", "))
}
