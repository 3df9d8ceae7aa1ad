//! The events and stops that are ahead of a unit.

use crate::{
    Calendar, CalendarEvent, LedgerError, ProfileName, Reason, Unit,
    ledger::{DutyRow, Ledger, record_prefix},
    predict::{Event, warning},
    rows,
};
use jiff::{SignedDuration, Timestamp};
use ringland_host::contract::Finding;
use ringland_store::Table;

/// What is ahead of a unit.
pub(super) struct Ahead {
    pub(super) calendar: Calendar,
    pub(super) as_of_time: Option<Timestamp>,
    /// Those that the unit runs, in the order of time.
    pub(super) events: Vec<EventAhead>,
    /// Each profile and oil temperature once.
    pub(super) duties: Vec<Event>,
    pub(super) stops: Vec<StopAhead>,
    pub(super) notes: Vec<Finding>,
}

/// An event to come.
pub(super) struct EventAhead {
    pub(super) event: CalendarEvent,
    pub(super) duty: usize,
    /// Of the profile.
    pub(super) hours: f64,
}

/// A time at which the unit may be torn down.
pub(super) struct StopAhead {
    /// Place among the calendar's opportunities.
    pub(super) opportunity: usize,
    pub(super) after_event: String,
    /// `None`: now.
    pub(super) time: Option<Timestamp>,
    /// The event of those ahead that comes next.
    pub(super) before_event: usize,
}

impl EventAhead {
    /// How many events of its profile it is worth to a type.
    pub(super) fn severity(&self, component_type: &str) -> f64 {
        let of_type = self.event.severity_by_type.get(component_type);
        of_type.copied().unwrap_or(self.event.severity)
    }
}

impl Ledger {
    /// What is ahead of a unit after a time; not given: after its last duty.
    pub(super) fn ahead(
        &self,
        unit: &Unit,
        calendar: Calendar,
        as_of_time: Option<Timestamp>,
    ) -> Result<Ahead, LedgerError> {
        let as_of_time = match as_of_time {
            Some(time) => Some(time),
            None => self.end_of_duty(unit)?,
        };
        let is_ahead =
            |event: &CalendarEvent| as_of_time.is_none_or(|time| event.start_time > time);
        let runs =
            |event: &CalendarEvent| event.units.is_empty() || event.units.contains(&unit.name);
        let mut ahead = Ahead {
            as_of_time,
            events: Vec::new(),
            duties: Vec::new(),
            stops: Vec::new(),
            notes: Vec::new(),
            calendar,
        };
        let mut seen: Vec<(ProfileName, Option<u64>)> = Vec::new();
        let events = ahead.calendar.content.events.clone();
        for event in events.iter().filter(|event| is_ahead(event) && runs(event)) {
            let profile = profile_of(unit, event)?;
            let key = (profile, event.oil_temp_k.map(f64::to_bits));
            let known = seen.iter().position(|other| *other == key);
            let duty = if let Some(known) = known {
                known
            } else {
                let duty = self.duty_of(&key.0, event, &mut ahead.notes)?;
                ahead.duties.push(duty);
                seen.push(key);
                seen.len() - 1
            };
            let hours = ahead
                .duties
                .get(duty)
                .map_or(0.0, |duty| duty.profile.duration_s / 3600.0);
            ahead.events.push(EventAhead {
                event: event.clone(),
                duty,
                hours,
            });
        }
        ahead.stops = stops(&ahead);
        Ok(ahead)
    }

    fn end_of_duty(&self, unit: &Unit) -> Result<Option<Timestamp>, LedgerError> {
        let prefix = record_prefix(&unit.name);
        let Some((_, bytes)) = self.store.last(Table::Duty, &prefix, None)? else {
            return Ok(None);
        };
        let row: DutyRow = rows::decode(&bytes)?;
        Ok(Some(row.record.end_time))
    }

    fn duty_of(
        &self,
        profile: &ProfileName,
        event: &CalendarEvent,
        notes: &mut Vec<Finding>,
    ) -> Result<Event, LedgerError> {
        let plain = self.event_of_profile(profile)?;
        let Some(oil_temp_k) = event.oil_temp_k else {
            return Ok(plain);
        };
        if let Some(warmed) = plain.with_oil_temp(oil_temp_k)? {
            return Ok(warmed);
        }
        notes.push(warning(
            format!("events.{}.oil_temp_k", event.code),
            oil_temp_k.to_string(),
            "a profile with the channel oil_temp_k",
            format!("{profile} has no oil temperature to move: the models' own is assumed"),
        ));
        self.event_of_profile(profile)
    }
}

fn profile_of(unit: &Unit, event: &CalendarEvent) -> Result<ProfileName, LedgerError> {
    let profile = event.profile.clone().or_else(|| unit.event_profile.clone());
    profile.ok_or_else(|| {
        let text = format!(
            "event {} names no profile, and {} has no event_profile; name one in the calendar, or give the unit one",
            event.code, unit.name
        );
        LedgerError::precondition(Reason::ProfileMissing, &unit.name, text)
    })
}

/// Opportunities that are not over and have an event after them.
fn stops(ahead: &Ahead) -> Vec<StopAhead> {
    let content = &ahead.calendar.content;
    let place = |code: &str| content.events.iter().position(|event| event.code == code);
    let is_over = |event: &CalendarEvent| {
        ahead
            .as_of_time
            .is_some_and(|time| event.start_time <= time)
    };
    // The last event that is over; after an earlier one nothing can be done any more.
    let last_over = content.events.iter().rposition(is_over);
    let mut stops = Vec::new();
    for (opportunity, given) in content.opportunities.iter().enumerate() {
        let follows = place(&given.after_event);
        let gone = given
            .time
            .zip(ahead.as_of_time)
            .is_some_and(|(time, now)| time < now);
        if follows < last_over || gone {
            continue;
        }
        let comes_before =
            |event: &EventAhead| follows.is_some_and(|at| place(&event.event.code) <= Some(at));
        let before_event = ahead
            .events
            .iter()
            .filter(|event| comes_before(event))
            .count();
        if before_event >= ahead.events.len() {
            continue;
        }
        let begins = follows
            .and_then(|at| content.events.get(at))
            .map(|event| event.start_time);
        stops.push(StopAhead {
            opportunity,
            after_event: given.after_event.clone(),
            time: given.time.or(begins),
            before_event,
        });
    }
    stops.sort_by_key(|stop| (stop.before_event, place(&stop.after_event)));
    stops
}

/// Days of a lead time as a span.
pub(super) fn days(days: f64) -> SignedDuration {
    SignedDuration::from_secs((days * 86_400.0).round() as i64)
}
