//! What is wrong with a calendar, all at once.

use crate::{
    CalendarEvent, CalendarInput, LedgerError, Opportunity, keys, ledger::check_text,
    violations::Violations,
};
use std::collections::BTreeSet;

const MOST_EVENTS: usize = 100;
const MOST_OPPORTUNITIES: usize = 100;
const MOST_LEVELS: usize = 20;
const MOST_ROWS: usize = 200;
const LONGEST_WORD: usize = 63;
const LONGEST_TEXT: usize = 255;
const LARGEST_AMOUNT: f64 = 1e12;
/// A year of minutes.
const LONGEST_MIN: f64 = 525_600.0;

pub(super) fn check(content: &CalendarInput) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    let wrong = &mut violations;
    check_text(
        wrong,
        "calendar.display_name",
        &content.display_name,
        LONGEST_TEXT,
    );
    counts(wrong, content);
    events(wrong, &content.events);
    opportunities(wrong, content);
    levels(wrong, content);
    parts(wrong, content);
    rows(wrong, content);
    amounts(wrong, content);
    violations.into_result()
}

fn counts(wrong: &mut Violations, content: &CalendarInput) {
    let count = content.events.len();
    if !(1..=MOST_EVENTS).contains(&count) {
        wrong.add(
            "calendar.events",
            count,
            "1 to 100",
            "list the events of a season",
        );
    }
    for (field, count, most) in [
        (
            "opportunities",
            content.opportunities.len(),
            MOST_OPPORTUNITIES,
        ),
        ("levels", content.levels.len(), MOST_LEVELS),
        ("parts", content.parts.len(), MOST_ROWS),
        ("checks", content.checks.len(), MOST_ROWS),
        ("limits", content.limits.len(), MOST_ROWS),
    ] {
        if count > most {
            let field = format!("calendar.{field}");
            wrong.add(field, count, &format!("at most {most}"), "leave some out");
        }
    }
}

fn events(wrong: &mut Violations, events: &[CalendarEvent]) {
    let codes = events.iter().map(|event| event.code.as_str());
    words(wrong, "events", "code", codes);
    for (index, event) in events.iter().take(MOST_EVENTS).enumerate() {
        let at = format!("calendar.events[{index}].");
        check_text(wrong, &format!("{at}title"), &event.title, LONGEST_TEXT);
        let severities = event.severity_by_type.iter();
        let named = severities.map(|(kind, value)| (format!("severity_by_type.{kind}"), *value));
        for (field, severity) in named.chain([("severity".into(), event.severity)]) {
            if !(severity > 0.0 && severity <= 20.0) {
                let expected = "more than 0, at most 20 events of the profile";
                wrong.add(
                    format!("{at}{field}"),
                    severity,
                    expected,
                    "leave it out for 1",
                );
            }
        }
        if let Some(temp) = event.oil_temp_k.filter(|t| !(250.0..=480.0).contains(t)) {
            let remedy =
                "give the mean oil temperature in kelvin, or leave it out for the profile's";
            wrong.add(format!("{at}oil_temp_k"), temp, "250 to 480 K", remedy);
        }
        if let Err(LedgerError::InvalidArgument { violations, .. }) =
            keys::check_time(&format!("{at}start_time"), event.start_time)
        {
            for violation in violations {
                wrong.push(violation);
            }
        }
        let before = index.checked_sub(1).and_then(|before| events.get(before));
        if before.is_some_and(|before| before.start_time >= event.start_time) {
            let remedy = "put the events in the order of time";
            wrong.add(
                format!("{at}start_time"),
                event.start_time,
                "later than the event before",
                remedy,
            );
        }
    }
}

fn opportunities(wrong: &mut Violations, content: &CalendarInput) {
    let mut seen = BTreeSet::new();
    for (index, opportunity) in content
        .opportunities
        .iter()
        .take(MOST_OPPORTUNITIES)
        .enumerate()
    {
        let at = format!("calendar.opportunities[{index}].");
        let Opportunity {
            after_event,
            time,
            levels,
            available_min,
        } = opportunity;
        let follows = content
            .events
            .iter()
            .position(|event| event.code == *after_event);
        if !after_event.is_empty() && follows.is_none() {
            let remedy = "name an event, or leave it empty for before the first";
            wrong.add(
                format!("{at}after_event"),
                after_event,
                "the code of an event of the calendar",
                remedy,
            );
        }
        if !seen.insert(after_event) {
            let remedy = "give one opportunity for the time between two events";
            wrong.add(
                format!("{at}after_event"),
                after_event,
                "each event once",
                remedy,
            );
        }
        let next = follows.map_or(0, |index| index + 1);
        let not_before = follows
            .and_then(|index| content.events.get(index))
            .map(|e| e.start_time);
        let not_after = content.events.get(next).map(|event| event.start_time);
        if let Some(time) = time
            && (not_before.is_some_and(|begin| *time < begin)
                || not_after.is_some_and(|end| *time > end))
        {
            let expected = "between the event that it follows and the next";
            wrong.add(
                format!("{at}time"),
                time,
                expected,
                "correct it, or leave it out",
            );
        }
        unknown_levels(wrong, &format!("{at}levels"), levels, content);
        if let Some(minutes) = available_min.filter(|m| !(0.0..=LONGEST_MIN).contains(m)) {
            wrong.add(
                format!("{at}available_min"),
                minutes,
                "0 to 525600 min",
                "leave it out for no bound",
            );
        }
    }
}

fn levels(wrong: &mut Violations, content: &CalendarInput) {
    words(
        wrong,
        "levels",
        "name",
        content.levels.iter().map(|level| level.name.as_str()),
    );
    for (index, level) in content.levels.iter().take(MOST_LEVELS).enumerate() {
        let at = format!("calendar.levels[{index}].");
        minutes(wrong, &format!("{at}labour_min"), level.labour_min);
        amount(wrong, &format!("{at}cost"), level.cost);
        unknown_levels(wrong, &format!("{at}includes"), &level.includes, content);
    }
}

fn unknown_levels(wrong: &mut Violations, field: &str, names: &[String], content: &CalendarInput) {
    for name in names {
        if !content.levels.iter().any(|level| level.name == *name) {
            wrong.add(
                field,
                name,
                "the name of a level of the calendar",
                "add the level, or correct the name",
            );
        }
    }
}

fn parts(wrong: &mut Violations, content: &CalendarInput) {
    let types = content
        .parts
        .iter()
        .map(|part| part.component_type.as_str());
    words(wrong, "parts", "component_type", types);
    for (index, part) in content.parts.iter().take(MOST_ROWS).enumerate() {
        let at = format!("calendar.parts[{index}].");
        amount(wrong, &format!("{at}price"), part.price);
        minutes(wrong, &format!("{at}fitting_min"), part.fitting_min);
        if !part.level.is_empty() {
            unknown_levels(
                wrong,
                &format!("{at}level"),
                std::slice::from_ref(&part.level),
                content,
            );
        }
        if !(0.0..=3650.0).contains(&part.lead_days) {
            wrong.add(
                format!("{at}lead_days"),
                part.lead_days,
                "0 to 3650 days",
                "correct it",
            );
        }
    }
}

fn rows(wrong: &mut Violations, content: &CalendarInput) {
    for (index, check) in content.checks.iter().take(MOST_ROWS).enumerate() {
        let at = format!("calendar.checks[{index}].");
        word(wrong, &format!("{at}component_type"), &check.component_type);
        for (field, text) in [("check", &check.check), ("instrument", &check.instrument)] {
            check_text(wrong, &format!("{at}{field}"), text, LONGEST_TEXT);
        }
        if check.check.is_empty() {
            wrong.add(
                format!("{at}check"),
                "empty",
                "a reading, or what to look at",
                "give it",
            );
        }
        if !(check.minutes > 0.0 && check.minutes <= LONGEST_MIN) {
            let expected = "more than 0, at most 525600 min";
            wrong.add(
                format!("{at}minutes"),
                check.minutes,
                expected,
                "say how long it takes",
            );
        }
        if let Some(tells) = check.tells.filter(|tells| !(0.0..=1.0).contains(tells)) {
            wrong.add(
                format!("{at}tells"),
                tells,
                "0 to 1",
                "leave it out for the model card's",
            );
        }
    }
    for (index, limit) in content.limits.iter().take(MOST_ROWS).enumerate() {
        let at = format!("calendar.limits[{index}].");
        word(wrong, &format!("{at}component_type"), &limit.component_type);
        check_text(wrong, &format!("{at}source"), &limit.source, LONGEST_TEXT);
        if limit.source.trim().is_empty() {
            wrong.add(
                format!("{at}source"),
                "empty",
                "where it is written",
                "name the sheet or the rule",
            );
        }
        if limit.most_hours.is_none() && limit.most_events.is_none() {
            wrong.add(
                format!("{at}most_hours"),
                "not set",
                "hours, events or both",
                "give the limit",
            );
        }
        for (field, value) in [
            ("most_hours", limit.most_hours),
            ("most_events", limit.most_events),
        ] {
            if let Some(value) = value.filter(|value| !(*value > 0.0 && *value <= 1e6)) {
                wrong.add(
                    format!("{at}{field}"),
                    value,
                    "more than 0, at most 1e6",
                    "correct it",
                );
            }
        }
    }
}

fn amounts(wrong: &mut Violations, content: &CalendarInput) {
    let costs = &content.failure_costs;
    for (field, value) in [
        ("labour_rate_per_h", content.labour_rate_per_h),
        ("failure_costs.nuisance", costs.nuisance),
        ("failure_costs.power_loss", costs.power_loss),
        ("failure_costs.unit_loss", costs.unit_loss),
        ("failure_costs.hazard", costs.hazard),
        ("failure_costs.did_not_finish", costs.did_not_finish),
    ] {
        amount(wrong, &format!("calendar.{field}"), value);
    }
    let caps = &content.risk_caps;
    for (field, cap) in [("unit_loss", caps.unit_loss), ("hazard", caps.hazard)] {
        if let Some(cap) = cap.filter(|cap| !(*cap > 0.0 && *cap < 1.0)) {
            let field = format!("calendar.risk_caps.{field}");
            wrong.add(
                field,
                cap,
                "more than 0, less than 1",
                "leave it out for the ledger's",
            );
        }
    }
}

fn amount(wrong: &mut Violations, field: &str, value: f64) {
    if !(0.0..=LARGEST_AMOUNT).contains(&value) {
        wrong.add(field, value, "0 to 1e12", "give what it costs");
    }
}

fn minutes(wrong: &mut Violations, field: &str, value: f64) {
    if !(0.0..=LONGEST_MIN).contains(&value) {
        wrong.add(field, value, "0 to 525600 min", "say how long it takes");
    }
}

fn word(wrong: &mut Violations, field: &str, text: &str) {
    if text.is_empty() || text.len() > LONGEST_WORD {
        wrong.add(
            field,
            format!("{text:?}"),
            "1 to 63 bytes",
            "give a short name",
        );
    }
}

/// Short names, each once.
fn words<'a>(wrong: &mut Violations, list: &str, name: &str, texts: impl Iterator<Item = &'a str>) {
    let mut seen = BTreeSet::new();
    for (index, text) in texts.take(MOST_ROWS).enumerate() {
        let field = format!("calendar.{list}[{index}].{name}");
        word(wrong, &field, text);
        if !seen.insert(text) {
            wrong.add(field, text, "each once", "leave one out");
        }
    }
}
