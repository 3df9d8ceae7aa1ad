//! The season review: use, predicted beside found, what treatments showed, what was fitted.

use super::{
    build_sheet::title_of,
    coverage::{self, Measured},
    digits, gather, groups, prices, words,
};
use crate::{CliError, commands::Session, names, numbers};
use ringland_proto::v1::{Component, DutyRecord, Unit};
use ringland_sheets::{Block, Cell, Column, Section, Sheet, Table};
use std::{
    collections::{BTreeMap, BTreeSet},
    path::Path,
};

/// What is known of one unit.
struct Season {
    unit: Unit,
    records: Vec<DutyRecord>,
    hours: f64,
    events: f64,
    /// Logs that do not tell how many events they are.
    untold: usize,
    builds: usize,
    /// Parts in the order in which they came, each with what its inspections taught.
    parts: Vec<(Component, Measured)>,
    /// Those that were in its first build.
    at_first: BTreeSet<String>,
}

pub(super) async fn of(
    units: &[String],
    prices: Option<&Path>,
    session: &Session,
) -> Result<Sheet, CliError> {
    let prices = match prices {
        Some(file) => prices::read(file, &gather::component_types(session).await?)?,
        None => BTreeMap::new(),
    };
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
    let look = &session.out.look;
    let mut counts = coverage::Counts::new();
    for season in &seasons {
        let parts = season.parts.iter().map(|(_, measured)| measured);
        let name = title_of(&season.unit.display_name, &season.unit.name);
        let heading = format!("Predicted and found, {name}");
        let blocks = coverage::blocks(parts, &season.records, &mut counts, look);
        sections.push(Section::new(heading, blocks));
    }
    sections.push(Section::new(
        "Whether predictions held so far",
        vec![Block::List(coverage::said(&counts))],
    ));
    let parts = seasons
        .iter()
        .flat_map(|season| &season.parts)
        .map(|(component, _)| component);
    let compared = groups::said(parts, session).await?;
    if !compared.is_empty() {
        sections.push(Section::new(
            "Treated against untreated, all lives of the ledger",
            vec![Block::List(compared)],
        ));
    }
    sections.push(Section::new(
        "What the shop's own readings taught",
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
                    let measured = measured(&component, session).await?;
                    parts.push((component, measured));
                }
            }
        }
        Ok(Self {
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
            records,
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
            numbers::count(season.records.len()).into(),
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

/// What was measured of a part, with what had been predicted.
async fn measured(component: &Component, session: &Session) -> Result<Measured, CliError> {
    let name = component.name.as_str();
    let taught = gather::correction(name, session).await?;
    let (mut inspections, mut stored) = (Vec::new(), Vec::new());
    if !taught.comparisons.is_empty() {
        inspections = gather::inspections(name, session).await?;
        stored = gather::stored_predictions(name, session).await?;
    }
    Ok(Measured {
        component: component.name.clone(),
        component_type: component.component_type.clone(),
        taught,
        inspections,
        stored,
    })
}

/// The rates that readings have moved, and what that does not prove.
fn taught(seasons: &[Season]) -> Vec<String> {
    let mut lines = Vec::new();
    for season in seasons {
        for (component, measured) in &season.parts {
            let taught = &measured.taught;
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
                    digits::factor(rate.median, rate.ln_sd),
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
