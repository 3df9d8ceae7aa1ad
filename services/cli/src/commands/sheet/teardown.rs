//! The teardown sheet: what was predicted beside what is measured.

use super::{build_sheet::title_of, gather, life_card, words};
use crate::{CliError, commands::Session, names, numbers, out::Look};
use ringland_proto::v1::{
    Build, Inspection, Prediction, ReadingComparison, ReadingPrediction, ThermalState,
};
use ringland_sheets::{Block, Cell, Column, Fact, Section, Sheet, Table};

/// An inspection this long after a teardown still belongs to it \[s\].
const AFTER_S: i64 = 14 * 24 * 3600;

pub(super) async fn of(place: &str, session: &Session) -> Result<Sheet, CliError> {
    let build = gather::build(place, session).await?;
    let unit = gather::unit(gather::unit_of(&build), session).await?;
    let parts: Vec<String> = gather::contents(&build.name, session)
        .await?
        .into_iter()
        .map(|part| part.component)
        .collect();
    // What left the unit has no event of its own: that of the unit serves.
    let (predicted, without) = gather::predictions(&parts, &unit.event_profile, session).await?;
    let mut sections = life_card::stops(&predicted.values().cloned().collect::<Vec<_>>());
    for part in &parts {
        let measured = Measured::of(part, &build, session).await?;
        if let Some(prediction) = predicted.get(part) {
            sections.push(section(prediction, &measured, &session.out.look));
        }
    }
    if !without.is_empty() {
        sections.push(Section::new("Not known", vec![Block::List(without)]));
    }
    sections.push(Section::new(
        "Decided for each part: reuse, watch, scrap; and why",
        vec![Block::Lines(6)],
    ));
    Ok(Sheet {
        title: "Teardown sheet".into(),
        subject: title_of(&unit.display_name, &unit.name),
        facts: facts(&build),
        sections,
        cautions: words::cautions(predicted.values()),
        signatures: vec!["measured by".into(), "decided by".into()],
        ..Sheet::default()
    })
}

fn facts(build: &Build) -> Vec<Fact> {
    let torn_down = match build.teardown_time.as_ref() {
        Some(time) => words::date(Some(time)),
        None => "not yet".into(),
    };
    vec![
        Fact::new("build", names::short(&build.name)),
        Fact::new("assembled", words::date(build.assembly_time.as_ref())),
        Fact::new("torn down", torn_down),
        Fact::new(
            "predicted",
            "for the use of each part up to its inspection; where nothing was measured, up to now",
        ),
    ]
}

/// What was measured of a part in a build, with what was said of it.
struct Measured {
    inspections: Vec<Inspection>,
    comparisons: Vec<ReadingComparison>,
}

impl Measured {
    async fn of(part: &str, build: &Build, session: &Session) -> Result<Self, CliError> {
        let from = build.assembly_time.map_or(i64::MIN, |time| time.seconds);
        let until = build
            .teardown_time
            .map_or(i64::MAX, |time| time.seconds.saturating_add(AFTER_S));
        let mut inspections = gather::inspections(part, session).await?;
        inspections.retain(|inspection| {
            let time = inspection
                .inspection_time
                .map_or(i64::MIN, |time| time.seconds);
            (from..=until).contains(&time)
        });
        let mut comparisons = Vec::new();
        if !inspections.is_empty() {
            comparisons = gather::correction(part, session).await?.comparisons;
            comparisons.retain(|one| inspections.iter().any(|each| each.name == one.inspection));
        }
        Ok(Self {
            inspections,
            comparisons,
        })
    }
}

fn section(prediction: &Prediction, measured: &Measured, look: &Look) -> Section {
    let mut rows = Vec::new();
    let limited = prediction.readings.iter().filter(|reading| {
        words::is_measured(reading)
            || measured
                .comparisons
                .iter()
                .any(|one| one.reading == reading.reading)
    });
    for reading in limited {
        let of_it = measured
            .comparisons
            .iter()
            .filter(|one| one.reading == reading.reading);
        let found: Vec<Vec<Cell>> = of_it.map(|one| row(reading, one, measured, look)).collect();
        if found.is_empty() {
            rows.push(blank(reading, look));
        }
        rows.extend(found);
    }
    let mut blocks = vec![Block::Table(Table {
        columns: vec![
            Column::left("reading", 1.7),
            Column::right("predicted", 1.5),
            Column::right("measured", 1.2),
            Column::left("box: measured", 1.0),
            Column::right("limit", 1.1),
            Column::left("instrument, state, by", 1.4),
            Column::left("taken as", 1.4),
        ],
        rows,
    })];
    let said: Vec<String> = measured
        .comparisons
        .iter()
        .map(|one| one.text.clone())
        .collect();
    if !said.is_empty() {
        blocks.push(Block::List(said));
    }
    blocks.extend(cracks(measured));
    let heading = format!(
        "{} ({})",
        words::type_words(&prediction.component_type),
        names::id(&prediction.component)
    );
    Section::new(heading, blocks)
}

fn blank(reading: &ReadingPrediction, look: &Look) -> Vec<Cell> {
    let now = reading.now.unwrap_or_default();
    vec![
        reading.label.clone().into(),
        words::spread(&reading.unit, &now, look).into(),
        Cell::Write,
        Cell::Range(words::range(reading, None)),
        words::limit(reading, look).into(),
        Cell::Write,
        Cell::Write,
    ]
}

fn row(
    reading: &ReadingPrediction,
    one: &ReadingComparison,
    measured: &Measured,
    look: &Look,
) -> Vec<Cell> {
    let value = words::value(&one.unit, one.measured, Some(one.measured_sd), look);
    let error = words::difference(&one.unit, one.measured_sd, one.measured, look);
    let mut range = words::range(reading, Some(one.measured));
    // What was expected then; the prediction of now has learnt of it already.
    let shift = one.predicted - range.middle;
    range.low += shift;
    range.middle += shift;
    range.high += shift;
    vec![
        Cell::Strong(one.label.clone()),
        format!(
            "{}\nfrom here on {}",
            words::value(&one.unit, one.predicted, None, look),
            words::spread(&reading.unit, &reading.now.unwrap_or_default(), look)
        )
        .into(),
        Cell::Strong(format!("{value}\n(1 sd {error})")),
        Cell::Range(range),
        words::limit(reading, look).into(),
        how(one, measured).into(),
        taken(one).into(),
    ]
}

/// With which instrument, in which state, by whom; what is not written is said.
fn how(one: &ReadingComparison, measured: &Measured) -> String {
    let Some(inspection) = measured
        .inspections
        .iter()
        .find(|each| each.name == one.inspection)
    else {
        return String::new();
    };
    let line = inspection
        .readings
        .iter()
        .find(|line| line.reading == one.reading);
    let line = line.cloned().unwrap_or_default();
    let state = match line.thermal_state() {
        ThermalState::Hot => "hot",
        ThermalState::Cold => "cold",
        ThermalState::Unspecified if line.master.is_some() => "against a master",
        ThermalState::Unspecified => "state not written",
    };
    let known = |text: &str, what: &str| match text {
        "" => format!("{what} not written"),
        text => text.to_owned(),
    };
    format!(
        "{}, {state}, {}, {}",
        known(&line.instrument, "instrument"),
        known(&inspection.inspected_by, "name"),
        words::date(inspection.inspection_time.as_ref())
    )
}

fn taken(one: &ReadingComparison) -> String {
    let name = one.explanation().as_str_name();
    let why = name
        .trim_start_matches("EXPLANATION_")
        .to_lowercase()
        .replace('_', " ");
    let learnt = if one.learnt { "learnt" } else { "not learnt" };
    let past = one
        .probability_past_limit
        .filter(|probability| *probability >= 0.001)
        .map(|probability| format!("; past its limit {}", numbers::percent(probability)));
    format!("{why}, {learnt}{}", past.unwrap_or_default())
}

fn cracks(measured: &Measured) -> Option<Block> {
    let looks: Vec<String> = measured
        .inspections
        .iter()
        .flat_map(|each| {
            let date = words::date(each.inspection_time.as_ref());
            each.crack_checks.iter().map(move |check| {
                let word = |name: &str, prefix: &str| {
                    name.trim_start_matches(prefix).to_lowercase().replace('_', " ")
                };
                format!(
                    "looked for cracks {date}, {}: {}. A clean look lowers the risk by how well the method finds cracks and resets nothing.",
                    word(check.method().as_str_name(), "CRACK_METHOD_"),
                    word(check.result().as_str_name(), "CRACK_RESULT_")
                )
            })
        })
        .collect();
    (!looks.is_empty()).then_some(Block::List(looks))
}
