//! The list of checks between events. Parts are in the order of what is advised and of their risk; a plan with a calendar orders
//! by what a check is worth (`ringland plan make`).

use super::{build_sheet::title_of, gather, life_card, words};
use crate::{CliError, commands::Session, names, numbers, out::Look};
use ringland_proto::v1::{Prediction, ReadingPrediction};
use ringland_sheets::{Block, Cell, Column, Fact, Section, Sheet, Table};

pub(super) async fn of(unit: &str, session: &Session) -> Result<Sheet, CliError> {
    let unit = gather::unit(&names::unit(unit), session).await?;
    let build = gather::build(names::id(&unit.name), session).await?;
    let (predicted, without) = life_card::installed(&build.name, session).await?;
    let look = &session.out.look;
    let mut sections = life_card::stops(&predicted);
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
        words::spread(&reading.unit, &now, look).into(),
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
