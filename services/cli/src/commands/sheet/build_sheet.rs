//! The build sheet.

use super::{
    gather,
    words::{self, Units},
};
use crate::{CliError, commands::Session, names, numbers, out::Look};
use ringland_proto::v1::{Build, BuildSheetLine};
use ringland_sheets::{Block, Cell, Column, Fact, Section, Sheet, Table};

/// Lines to fill in when nothing was measured yet.
const BLANK_ROWS: usize = 12;

pub(super) async fn of(place: &str, session: &Session) -> Result<Sheet, CliError> {
    let build = gather::build(place, session).await?;
    let unit = gather::unit(gather::unit_of(&build), session).await?;
    let builds = gather::builds(&unit.name, session).await?;
    let before = builds
        .iter()
        .take_while(|other| other.name != build.name)
        .last();
    let look = &session.out.look;
    let mut labels: Vec<_> = unit.labels.iter().collect();
    labels.sort();
    let mut facts = vec![
        Fact::new("unit", names::id(&unit.name)),
        Fact::new("build", names::short(&build.name)),
        Fact::new("assembled", words::date(build.assembly_time.as_ref())),
    ];
    if build.teardown_time.is_some() {
        facts.push(Fact::new(
            "torn down",
            words::date(build.teardown_time.as_ref()),
        ));
    }
    facts.extend(
        labels
            .into_iter()
            .map(|(name, value)| Fact::new(name, value)),
    );
    let mut sections = vec![Section::new("Parts", parts(&build, session).await?)];
    sections.push(Section::new(
        "Measured at assembly",
        vec![Block::Table(measured(&build.build_sheet, look))],
    ));
    let doubts = doubts(&build, before);
    if !doubts.is_empty() {
        sections.push(Section::new(
            "To settle before it is signed",
            vec![Block::List(doubts)],
        ));
    }
    sections.push(Section::new("Remarks", vec![Block::Lines(4)]));
    Ok(Sheet {
        title: "Build sheet".into(),
        subject: title_of(&unit.display_name, &unit.name),
        facts,
        sections,
        cautions: words::cautions([]),
        signatures: vec!["assembled by".into(), "checked by".into()],
        ..Sheet::default()
    })
}

/// The name for people, or the id.
pub(super) fn title_of(display_name: &str, name: &str) -> String {
    if display_name.is_empty() {
        names::id(name).to_owned()
    } else {
        display_name.to_owned()
    }
}

async fn parts(build: &Build, session: &Session) -> Result<Vec<Block>, CliError> {
    let mut rows = Vec::new();
    for installation in gather::contents(&build.name, session).await? {
        let part = gather::component(&installation.component, session).await?;
        let mut there = words::date(installation.install_time.as_ref());
        if installation.remove_time.is_some() {
            there += " to ";
            there += &words::date(installation.remove_time.as_ref());
        }
        rows.push(vec![
            Cell::Strong(words::type_words(&part.component_type)),
            names::id(&part.name).into(),
            installation.position.into(),
            or_dash(&part.serial).into(),
            or_dash(&part.batch).into(),
            part.treatments.join(", ").into(),
            there.into(),
        ]);
    }
    if rows.is_empty() {
        return Ok(vec![Block::Text("Nothing is installed.".into())]);
    }
    let columns = vec![
        Column::left("part", 1.5),
        Column::left("id", 1.7),
        Column::left("position", 0.8),
        Column::left("serial", 1.5),
        Column::left("batch", 0.9),
        Column::left("treated, in order", 1.6),
        Column::left("in it", 1.2),
    ];
    Ok(vec![Block::Table(Table { columns, rows })])
}

fn or_dash(text: &str) -> &str {
    if text.is_empty() { "-" } else { text }
}

fn measured(lines: &[BuildSheetLine], look: &Look) -> Table {
    let columns = vec![
        Column::left("item", 2.2),
        Column::right("value", 1.2),
        Column::right("error, 1 sd", 1.0),
        Column::left("instrument", 1.3),
        Column::left("part at", 0.9),
        Column::left("by", 0.9),
    ];
    let mut rows: Vec<Vec<Cell>> = lines.iter().map(|line| row(line, look)).collect();
    if rows.is_empty() {
        rows = vec![vec![Cell::Write; columns.len()]; BLANK_ROWS];
    }
    Table { columns, rows }
}

fn row(line: &BuildSheetLine, look: &Look) -> Vec<Cell> {
    let units = Units::choose(&line.item, &line.unit, line.value, look);
    let written = |text: &str| match text {
        "" => Cell::Write,
        text => text.into(),
    };
    vec![
        Cell::Text(line.item.replace('_', " ")),
        units.value(line.value, Some(line.instrument_sd)).into(),
        match line.instrument_sd {
            sd if sd > 0.0 => Cell::Text(units.error(sd)),
            _ => Cell::Write,
        },
        written(&line.instrument),
        match line.temperature_k {
            Some(temp_k) => Units::choose("", "K", temp_k, look)
                .value(temp_k, None)
                .into(),
            None => Cell::Write,
        },
        written(&line.measured_by),
    ]
}

/// What is missing, and what stands there exactly as in the build before.
fn doubts(build: &Build, before: Option<&Build>) -> Vec<String> {
    let mut doubts = Vec::new();
    for line in &build.build_sheet {
        let item = line.item.replace('_', " ");
        let missing: Vec<&str> = [
            (line.instrument.is_empty(), "the instrument"),
            (line.instrument_sd <= 0.0, "its error"),
            (line.temperature_k.is_none(), "the part's temperature"),
            (line.measured_by.is_empty(), "who measured"),
        ]
        .into_iter()
        .filter_map(|(missing, what)| missing.then_some(what))
        .collect();
        if !missing.is_empty() {
            doubts.push(format!("{item}: {} is not written", missing.join(", ")));
        }
    }
    if let Some(before) = before {
        let copied: Vec<String> = build
            .build_sheet
            .iter()
            .filter(|line| before.build_sheet.iter().any(|old| same(line, old)))
            .map(|line| line.item.replace('_', " "))
            .collect();
        if !copied.is_empty() {
            doubts.push(format!(
                "to the last digit as in {}: {}; measure again if it was carried over",
                names::short(&before.name),
                copied.join(", ")
            ));
        }
    }
    if let Some(before) = before {
        let lines = |build: &Build| build.build_sheet.len();
        if lines(build) < lines(before) {
            doubts.push(format!(
                "{} lines, {} in the build before",
                numbers::count(lines(build)),
                numbers::count(lines(before))
            ));
        }
    }
    doubts
}

fn same(line: &BuildSheetLine, old: &BuildSheetLine) -> bool {
    line.item == old.item && line.value.total_cmp(&old.value).is_eq()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(item: &str, value: f64) -> BuildSheetLine {
        BuildSheetLine {
            item: item.into(),
            value,
            unit: "m".into(),
            instrument: "feeler gauge".into(),
            instrument_sd: 1e-5,
            temperature_k: Some(293.15),
            measured_by: "builder".into(),
        }
    }

    #[test]
    fn what_is_missing_or_copied_is_said() {
        let build = |lines: &[BuildSheetLine]| Build {
            name: "units/a/builds/b".into(),
            build_sheet: lines.to_vec(),
            ..Build::default()
        };
        let old = build(&[line("gap", 4.1e-4), line("lash", 2e-4)]);
        assert!(
            doubts(
                &build(&[line("gap", 4.2e-4), line("lash", 2.1e-4)]),
                Some(&old)
            )
            .is_empty()
        );
        let bare = BuildSheetLine {
            instrument: String::new(),
            temperature_k: None,
            ..line("gap", 4.1e-4)
        };
        let said = doubts(&build(&[bare]), Some(&old));
        assert!(
            said[0].contains("the instrument, the part's temperature"),
            "{said:?}"
        );
        assert!(
            said[1].contains("to the last digit") && said[1].contains("gap"),
            "{said:?}"
        );
        assert!(said[2].contains("1 lines, 2"), "{said:?}");
    }
}
