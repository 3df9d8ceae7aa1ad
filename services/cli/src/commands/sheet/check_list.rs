//! The list of checks between events: by a calendar in the order of what each is worth for its minutes, then every part in the
//! order of what is advised and of its risk.

use super::{build_sheet::title_of, gather, life_card, words};
use crate::{CliError, commands::Session, names, numbers, out::Look};
use ringland_proto::v1::{MakePlanRequest, Override, PlannedCheck, Prediction, ReadingPrediction};
use ringland_sheets::{Block, Cell, Column, Fact, Section, Sheet, Table};

pub(super) async fn of(unit: &str, calendar: &str, session: &Session) -> Result<Sheet, CliError> {
    let unit = gather::unit(&names::unit(unit), session).await?;
    let build = gather::build(names::id(&unit.name), session).await?;
    let (predicted, without) = life_card::installed(&build.name, session).await?;
    let look = &session.out.look;
    let mut sections = life_card::stops(&predicted);
    if !calendar.is_empty() {
        sections.push(worth(&unit.name, calendar, session).await?);
    }
    sections.extend(decided(&unit.name, session).await?);
    sections.push(Section::new(
        "To measure, most pressing part first",
        vec![
            Block::Text(
                "Measure hot what is compared hot, note the part's temperature for lengths, and write which instrument was used: its error and its bias count.".into(),
            ),
            Block::Table(readings(&predicted, look)),
        ],
    ));
    sections.push(Section::new(
        "To look at",
        vec![Block::Table(looks(&predicted))],
    ));
    if !without.is_empty() {
        sections.push(Section::new("Not known", vec![Block::List(without)]));
    }
    sections.push(Section::new("Found besides", vec![Block::Lines(5)]));
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

/// What the plan would look at before the next event, best first.
async fn worth(unit: &str, calendar: &str, session: &Session) -> Result<Section, CliError> {
    let request = MakePlanRequest {
        unit: unit.into(),
        calendar: names::calendar(calendar),
        ..Default::default()
    };
    let plan = session.api.plans().make_plan(request).await?.into_inner();
    let row = |check: &PlannedCheck| {
        vec![
            Cell::Tick,
            Cell::Strong(words::type_words(&check.component_type)),
            format!("{}\n{}", check.check.replace('_', " "), check.instrument).into(),
            numbers::significant(check.minutes, 3).into(),
            numbers::significant(check.value_per_min, 2).into(),
            numbers::percent(check.changes_action).into(),
            Cell::Write,
        ]
    };
    let table = Table {
        columns: vec![
            Column::left("", 0.3),
            Column::left("part", 1.3),
            Column::left("look at, with", 2.6),
            Column::right("minutes", 0.7),
            Column::right("saves a minute", 0.8),
            Column::right("changes what is done", 1.0),
            Column::left("found", 1.3),
        ],
        rows: plan.checks.iter().map(row).collect(),
    };
    let heading = format!(
        "Before the next event, best first (calendar {})",
        names::id(&plan.calendar)
    );
    let blocks = vec![Block::Text(plan.verdict), Block::Table(table)];
    Ok(Section::new(heading, blocks))
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

fn readings(predictions: &[Prediction], look: &Look) -> Table {
    let rows = predictions.iter().flat_map(|part| {
        let limited = part
            .readings
            .iter()
            .filter(|reading| words::is_measured(reading));
        limited.map(|reading| row(part, reading, look))
    });
    Table {
        columns: vec![
            Column::left("", 0.3),
            Column::left("part", 1.3),
            Column::left("reading, instrument", 2.0),
            Column::right("expected, median (5 % to 95 %)", 1.8),
            Column::right("limit", 1.1),
            Column::left("limit dashed", 1.0),
            Column::left("measured", 1.0),
            Column::left("with, at", 0.9),
        ],
        rows: rows.collect(),
    }
}

fn row(part: &Prediction, reading: &ReadingPrediction, look: &Look) -> Vec<Cell> {
    let now = reading.now.unwrap_or_default();
    vec![
        Cell::Tick,
        Cell::Strong(words::type_words(&part.component_type)),
        format!("{}\n{}", reading.label, reading.instrument).into(),
        words::Units::of_reading(reading, look).spread(&now).into(),
        words::limit(reading, look).into(),
        Cell::Range(words::range(reading, None)),
        Cell::Write,
        Cell::Write,
    ]
}

/// What is advised of each part, with its risk.
fn looks(predictions: &[Prediction]) -> Table {
    let row = |part: &Prediction| {
        let ends = life_card::limiting(part);
        vec![
            Cell::Tick,
            Cell::Strong(words::type_words(&part.component_type)),
            numbers::percent(part.risk_next_event).into(),
            ends.map_or(String::new(), |ends| {
                format!("{}: its life ends when {}", ends.label, ends.life_ends_when)
            })
            .into(),
            part.advice
                .as_ref()
                .map_or("", |advice| &advice.text)
                .into(),
            Cell::Write,
        ]
    };
    Table {
        columns: vec![
            Column::left("", 0.3),
            Column::left("part", 1.3),
            Column::right("risk in the next event", 0.9),
            Column::left("most likely to end it", 2.3),
            Column::left("advised", 2.3),
            Column::left("found", 1.2),
        ],
        rows: predictions.iter().map(row).collect(),
    }
}
