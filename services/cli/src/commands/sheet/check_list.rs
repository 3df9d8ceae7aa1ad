//! The list of checks between events: by a calendar in the order of what each is worth for its minutes, then every part in the
//! order of what is advised and of its risk. Parts alike share a line; whoever is flagged has its own.

use super::{
    advised,
    alike::{Line, Places},
    build_sheet::title_of,
    gather, life_card, week,
    words::{self, Units},
};
use crate::{CliError, commands::Session, names, numbers, out::Look, show::batch_words};
use ringland_proto::v1::{Action, Override, Prediction, ReadingPrediction};
use ringland_sheets::{Block, Cell, Column, Fact, Section, Sheet, Table};
use std::collections::BTreeMap;

/// A reading this likely past its limit stays a line of its own.
const NEAR_LIMIT: f64 = 0.001;

/// By which calendar (empty: none) the week's list is made, and how many minutes there are.
pub(super) struct Week<'a> {
    pub(super) calendar: &'a str,
    pub(super) minutes: Option<f64>,
}

pub(super) async fn of(unit: &str, week: &Week<'_>, session: &Session) -> Result<Sheet, CliError> {
    check(week)?;
    let unit = gather::unit(&names::unit(unit), session).await?;
    let build = gather::build(names::id(&unit.name), session).await?;
    let (predicted, without) = life_card::installed(&build.name, session).await?;
    let positions: BTreeMap<String, String> = gather::contents(&build.name, session)
        .await?
        .into_iter()
        .map(|part| (part.component, part.position))
        .collect();
    let places = Places::of(&predicted, &positions);
    let look = &session.out.look;
    let mut sections = life_card::stops(&predicted, look);
    if !week.calendar.is_empty() {
        let parts = (predicted.as_slice(), &places);
        sections
            .extend(week::sections(&unit.name, week.calendar, week.minutes, parts, session).await?);
    }
    sections.extend(decided(&unit.name, session).await?);
    sections.extend(batches(&predicted));
    sections.push(Section::new(
        "To look at, most pressing part first",
        vec![Block::Table(looks(&predicted, &places, look))],
    ));
    sections.push(Section::new(
        "To measure, most pressing part first",
        vec![
            Block::Text(
                "Measure hot what is compared hot, note the part's temperature for lengths, and write which instrument was used: its error and its bias count.".into(),
            ),
            Block::Table(readings(&predicted, &places, look)),
        ],
    ));
    if !without.is_empty() {
        sections.push(Section::new("Not known", vec![Block::List(without)]));
    }
    sections.push(Section::new("Found besides", vec![Block::Lines(4)]));
    Ok(Sheet {
        title: "Check list between events".into(),
        subject: title_of(&unit.display_name, &unit.name),
        facts: vec![
            Fact::new("unit", names::id(&unit.name)),
            Fact::new("build", names::short(&build.name)),
            Fact::new(
                "order",
                "by what is advised, then by the risk in the next event",
            ),
        ],
        sections,
        cautions: words::cautions(&predicted),
        signatures: vec!["checked by".into()],
        ..Sheet::default()
    })
}

fn check(week: &Week) -> Result<(), CliError> {
    match week.minutes {
        Some(minutes) if !(minutes.is_finite() && minutes > 0.0) => Err(CliError::Usage(format!(
            "--minutes {minutes}: expected minutes above 0, such as 120"
        ))),
        Some(minutes) if week.calendar.is_empty() => Err(CliError::Usage(format!(
            "--minutes {minutes}: expected with --calendar, which says how long each look takes; name one of ringland plan \
             calendar list"
        ))),
        _ => Ok(()),
    }
}

/// What the owner decided other than advised.
async fn decided(unit: &str, session: &Session) -> Result<Option<Section>, CliError> {
    let overrides = gather::overrides(unit, session).await?;
    if overrides.is_empty() {
        return Ok(None);
    }
    let line = |each: &Override| {
        format!(
            "{} by {}: {} (because: {}). No figure on this sheet is moved by it.",
            words::date(each.decision_time.as_ref()),
            each.decided_by,
            each.decision,
            each.reason
        )
    };
    let lines = overrides.iter().map(line).collect();
    Ok(Some(Section::new(
        "Decided other than advised",
        vec![Block::List(lines)],
    )))
}

/// Whether more is advised than to run on.
fn is_flagged(part: &Prediction) -> bool {
    let runs = part
        .advice
        .as_ref()
        .is_some_and(|advice| advice.action() == Action::Run);
    !runs || !part.overruled_by.is_empty()
}

fn readings(predictions: &[Prediction], places: &Places, look: &Look) -> Table {
    let lines = predictions.iter().flat_map(|part| {
        let limited = part
            .readings
            .iter()
            .filter(|reading| words::is_measured(reading));
        limited.map(|reading| line(part, reading, places, look))
    });
    Table {
        columns: vec![
            Column::left("", 0.25),
            Column::left("part", 1.15),
            Column::left("reading, instrument", 3.0),
            Column::right("expected, median (5 % to 95 %)", 2.5),
            Column::right("limit", 1.75),
            Column::right("past it now", 0.75),
            Column::left("measured, with, at", 1.3),
        ],
        rows: places.rows(lines.collect()),
    }
}

fn line(part: &Prediction, reading: &ReadingPrediction, places: &Places, look: &Look) -> Line {
    let now = reading.now.unwrap_or_default();
    let past = reading.probability_past_limit;
    Line {
        component_type: part.component_type.clone(),
        place: places.place(&part.component).to_owned(),
        alone: is_flagged(part) || past.is_some_and(|past| past >= NEAR_LIMIT),
        cells: vec![
            format!("{}; {}", reading.label, reading.instrument).into(),
            Units::of_reading(reading, look)
                .spread(&now, reading.instrument_sd)
                .into(),
            words::limit(reading, look).into(),
            past.map_or("-".to_owned(), numbers::percent).into(),
            Cell::Text(String::new()),
        ],
    }
}

/// What is advised of each part, with its risk.
fn looks(predictions: &[Prediction], places: &Places, look: &Look) -> Table {
    let line = |part: &Prediction| Line {
        component_type: part.component_type.clone(),
        place: places.place(&part.component).to_owned(),
        alone: is_flagged(part),
        cells: vec![
            numbers::percent(part.risk_next_event).into(),
            life_card::limiting(part)
                .map_or(String::new(), |ends| {
                    format!("{}: its life ends when {}", ends.label, ends.life_ends_when)
                })
                .into(),
            advised::sentence(part, look).into(),
            Cell::Text(String::new()),
        ],
    };
    Table {
        columns: vec![
            Column::left("", 0.25),
            Column::left("part", 1.2),
            Column::right("risk, next event", 0.75),
            Column::left("most likely to end it", 3.6),
            Column::left("advised", 3.6),
            Column::left("found", 1.0),
        ],
        rows: places.rows(predictions.iter().map(line).collect()),
    }
}

/// Parts of whose batch something was found elsewhere.
fn batches(predicted: &[Prediction]) -> Option<Section> {
    let words = batch_words(predicted).into_iter();
    let lines: Vec<String> = words
        .map(|word| format!("{}: {}: {}", word.field, word.value, word.remedy))
        .collect();
    (!lines.is_empty()).then(|| Section::new("Found at their batch", vec![Block::List(lines)]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_proto::v1::Finding;

    #[test]
    fn what_was_found_at_a_batch_stands_with_the_part_that_is_told() {
        let note = |field: &str| Finding {
            field: field.into(),
            value: "batch b-7".into(),
            remedy: "put this one aside".into(),
            ..Default::default()
        };
        let mut bolt = Prediction {
            component: "components/rod-bolt-s-1".into(),
            notes: vec![note("event.oil_temp_k")],
            ..Default::default()
        };
        assert_eq!(batches(std::slice::from_ref(&bolt)), None);
        bolt.notes.push(note("batch.permanent_stretch_m"));
        let line = "rod-bolt-s-1: batch b-7: put this one aside".to_owned();
        assert_eq!(
            batches(&[bolt]),
            Some(Section::new(
                "Found at their batch",
                vec![Block::List(vec![line])]
            ))
        );
    }

    #[test]
    fn minutes_need_a_calendar_and_are_above_nothing() {
        let said = |calendar, minutes| {
            check(&Week { calendar, minutes })
                .err()
                .map(|error| error.to_string())
        };
        assert_eq!(said("autumn", Some(120.0)), None);
        assert_eq!(said("", None), None);
        assert!(said("", Some(120.0)).is_some_and(|text| text.contains("--calendar")));
        for minutes in [0.0, -5.0, f64::NAN, f64::INFINITY] {
            assert!(said("autumn", Some(minutes)).is_some_and(|text| text.contains("above 0")));
        }
    }
}
