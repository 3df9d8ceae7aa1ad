//! The season review: use, predicted beside found, what treatments showed, what was fitted.

use super::{build_sheet::title_of, gather, words};
use crate::{CliError, commands::Session, names, numbers};
use ringland_proto::v1::{Component, Correction, Unit};
use ringland_sheets::{Block, Cell, Column, Section, Sheet, Table};
use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::Path,
};

/// What is known of one unit.
struct Season {
    unit: Unit,
    records: usize,
    hours: f64,
    events: f64,
    /// Logs that do not tell how many events they are.
    untold: usize,
    builds: usize,
    /// Parts in the order in which they came, each with what its inspections taught.
    parts: Vec<(Component, Correction)>,
    /// Those that were in its first build.
    at_first: BTreeSet<String>,
}

pub(super) async fn of(
    units: &[String],
    prices: Option<&Path>,
    session: &Session,
) -> Result<Sheet, CliError> {
    let prices = prices.map(read_prices).transpose()?.unwrap_or_default();
    let units = if units.is_empty() {
        gather::units(session).await?
    } else {
        let mut found = Vec::new();
        for unit in units {
            found.push(gather::unit(&names::unit(unit), session).await?);
        }
        found
    };
    let mut seasons = Vec::new();
    for unit in units {
        seasons.push(Season::of(unit, session).await?);
    }
    let named = seasons
        .iter()
        .map(|season| title_of(&season.unit.display_name, &season.unit.name));
    let subject = named.collect::<Vec<_>>().join(", ");
    let mut sections = vec![Section::new("Use", vec![Block::Table(used(&seasons))])];
    sections.push(Section::new(
        "Predicted and found",
        found(&seasons, session),
    ));
    sections.push(Section::new(
        "What treatments and the shop's own readings show",
        vec![Block::List(taught(&seasons))],
    ));
    sections.push(Section::new(
        "Fitted after the first build",
        fitted(&seasons, &prices),
    ));
    sections.push(Section::new("For next season", vec![Block::Lines(5)]));
    Ok(Sheet {
        title: "Season review".into(),
        subject,
        sections,
        cautions: words::cautions([]),
        signatures: vec!["reviewed by".into()],
        ..Sheet::default()
    })
}

impl Season {
    async fn of(unit: Unit, session: &Session) -> Result<Self, CliError> {
        let records = gather::records(&unit.name, session).await?;
        let builds = gather::builds(&unit.name, session).await?;
        let (mut seen, mut at_first, mut parts) = (BTreeSet::new(), BTreeSet::new(), Vec::new());
        for (index, build) in builds.iter().enumerate() {
            for part in gather::contents(&build.name, session).await? {
                if index == 0 && part.install_time == build.assembly_time {
                    at_first.insert(part.component.clone());
                }
                if seen.insert(part.component.clone()) {
                    let component = gather::component(&part.component, session).await?;
                    let taught = gather::correction(&part.component, session).await?;
                    parts.push((component, taught));
                }
            }
        }
        Ok(Self {
            records: records.len(),
            hours: records
                .iter()
                .map(|record| record.duration_s / 3600.0)
                .sum(),
            events: records.iter().filter_map(|record| record.events).sum(),
            untold: records
                .iter()
                .filter(|record| record.events.is_none())
                .count(),
            builds: builds.len(),
            unit,
            parts,
            at_first,
        })
    }
}

fn used(seasons: &[Season]) -> Table {
    let row = |season: &Season| {
        vec![
            Cell::Strong(title_of(&season.unit.display_name, &season.unit.name)),
            numbers::count(season.builds).into(),
            numbers::count(season.records).into(),
            numbers::significant(season.hours, 3).into(),
            match season.untold {
                0 => numbers::significant(season.events, 3),
                logs => format!(
                    "{}, without {} logs that do not tell",
                    numbers::significant(season.events, 3),
                    numbers::count(logs)
                ),
            }
            .into(),
        ]
    };
    Table {
        columns: vec![
            Column::left("unit", 2.0),
            Column::right("builds", 0.7),
            Column::right("logs", 0.7),
            Column::right("hours", 0.7),
            Column::right("events, as entered", 1.4),
        ],
        rows: seasons.iter().map(row).collect(),
    }
}

fn found(seasons: &[Season], session: &Session) -> Vec<Block> {
    let look = &session.out.look;
    let mut rows = Vec::new();
    for season in seasons {
        for (component, taught) in &season.parts {
            for one in &taught.comparisons {
                let largest = one.predicted.abs().max(one.measured.abs());
                let units = words::Units::choose(&one.reading, &one.unit, largest, look);
                let value = |si| units.value(si, Some(one.measured_sd));
                rows.push(vec![
                    Cell::Strong(names::id(&component.name).to_owned()),
                    one.label.clone().into(),
                    value(one.predicted).into(),
                    format!(
                        "{}\n(1 sd {})",
                        value(one.measured),
                        units.error(one.measured_sd)
                    )
                    .into(),
                    one.surprise
                        .map_or("-".to_owned(), |far| format!("{far:+.1}"))
                        .into(),
                    if one.learnt { "learnt" } else { "not learnt" }.into(),
                ]);
            }
        }
    }
    if rows.is_empty() {
        return vec![Block::Text("Nothing was measured.".into())];
    }
    let table = Table {
        columns: vec![
            Column::left("part", 1.6),
            Column::left("reading", 1.8),
            Column::right("predicted", 1.1),
            Column::right("measured", 1.4),
            Column::right("off, in standard deviations", 0.9),
            Column::left("", 0.8),
        ],
        rows,
    };
    vec![
        Block::Text("Predicted at the model's own rate for the use that the part had seen.".into()),
        Block::Table(table),
    ]
}

/// The rates that readings have moved, and what that does not prove.
fn taught(seasons: &[Season]) -> Vec<String> {
    let mut lines = Vec::new();
    for season in seasons {
        for (component, taught) in &season.parts {
            if taught.comparisons.is_empty() {
                continue;
            }
            for mechanism in &taught.mechanisms {
                let Some(rate) = mechanism.rate.as_ref() else {
                    continue;
                };
                if rate.layers.iter().all(|layer| layer.observations == 0) {
                    continue;
                }
                lines.push(format!(
                    "{}, {}: rate {} times the model's, spread {} of its logarithm; {}{}",
                    names::id(&component.name),
                    mechanism.label,
                    numbers::significant(rate.median, 3),
                    numbers::significant(rate.ln_sd, 2),
                    rate.evidence,
                    if rate.unproven.is_empty() {
                        String::new()
                    } else {
                        format!("; {}", rate.unproven)
                    }
                ));
            }
        }
    }
    if lines.is_empty() {
        lines.push("No reading has moved a rate: what models say of treated surfaces is as before, and nothing is proven.".into());
    }
    lines
}

fn fitted(seasons: &[Season], prices: &BTreeMap<String, f64>) -> Vec<Block> {
    let mut rows = Vec::new();
    for season in seasons {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        let later = season
            .parts
            .iter()
            .filter(|(component, _)| !season.at_first.contains(&component.name));
        for (component, _) in later {
            *counts.entry(component.component_type.as_str()).or_default() += 1;
        }
        let name = title_of(&season.unit.display_name, &season.unit.name);
        let mut total = 0.0;
        for (component_type, count) in counts {
            let price = prices.get(component_type).map(|price| price * count as f64);
            total += price.unwrap_or_default();
            rows.push(vec![
                name.clone().into(),
                words::type_words(component_type).into(),
                numbers::count(count).into(),
                price.map_or("price not given".to_owned(), money).into(),
            ]);
        }
        if total > 0.0 {
            rows.push(vec![
                Cell::Strong(name),
                Cell::Strong("together, where a price is given".into()),
                "".into(),
                Cell::Strong(money(total)),
            ]);
        }
    }
    if rows.is_empty() {
        return vec![Block::Text(
            "Nothing was fitted after the first builds.".into(),
        )];
    }
    vec![Block::Table(Table {
        columns: vec![
            Column::left("unit", 1.6),
            Column::left("part", 2.0),
            Column::right("fitted", 0.7),
            Column::right("cost", 1.0),
        ],
        rows,
    })]
}

fn money(amount: f64) -> String {
    numbers::count(amount.round())
}

fn read_prices(file: &Path) -> Result<BTreeMap<String, f64>, CliError> {
    let text = fs::read_to_string(file).map_err(|source| CliError::File {
        path: file.into(),
        source,
    })?;
    let prices: BTreeMap<String, f64> = toml::from_str(&text)
        .map_err(|error| CliError::Usage(format!("{}: {error}", file.display())))?;
    let wrong = prices
        .iter()
        .find(|(_, price)| !(price.is_finite() && **price >= 0.0));
    match wrong {
        Some((name, price)) => Err(CliError::Usage(format!(
            "{}: {name} = {price}: expected a price of 0 or more",
            file.display()
        ))),
        None => Ok(prices),
    }
}
