//! The teardown sheet: what was predicted beside what is measured.

use super::{
    build_sheet::title_of,
    gather, life_card,
    teardown_lines::{before, doubts},
    words::{self, Units},
};
use crate::{CliError, commands::Session, names, numbers, out::Look};
use ringland_proto::v1::{
    Build, Inspection, MeasuredReading, Prediction, ReadingComparison, ReadingPrediction,
    ThermalState,
};
use ringland_sheets::{Block, Cell, Column, Fact, Range, Section, Sheet, Table};

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
    let mut sections = life_card::stops(
        &predicted.values().cloned().collect::<Vec<_>>(),
        &session.out.look,
    );
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
            "before it was measured, 5 % to 95 %; where nothing was measured, now",
        ),
    ]
}

/// What was measured of a part in a build, with what was said of it.
struct Measured {
    /// Every inspection of the part, oldest first.
    all: Vec<Inspection>,
    /// Those of the build.
    inspections: Vec<Inspection>,
    /// What was predicted at any time.
    stored: Vec<Prediction>,
    comparisons: Vec<ReadingComparison>,
}

impl Measured {
    async fn of(part: &str, build: &Build, session: &Session) -> Result<Self, CliError> {
        let from = build.assembly_time.map_or(i64::MIN, |time| time.seconds);
        let until = build
            .teardown_time
            .map_or(i64::MAX, |time| time.seconds.saturating_add(AFTER_S));
        let all = gather::inspections(part, session).await?;
        let mut inspections = all.clone();
        inspections.retain(|inspection| {
            let time = inspection
                .inspection_time
                .map_or(i64::MIN, |time| time.seconds);
            (from..=until).contains(&time)
        });
        let (mut comparisons, mut stored) = (Vec::new(), Vec::new());
        if !inspections.is_empty() {
            stored = gather::stored_predictions(part, session).await?;
            comparisons = gather::correction(part, session).await?.comparisons;
            comparisons.retain(|one| inspections.iter().any(|each| each.name == one.inspection));
        }
        Ok(Self {
            all,
            inspections,
            stored,
            comparisons,
        })
    }

    fn inspection(&self, name: &str) -> Option<&Inspection> {
        self.inspections.iter().find(|each| each.name == name)
    }

    /// The inspection before one.
    fn before(&self, name: &str) -> Option<&Inspection> {
        let at = self.all.iter().position(|each| each.name == name)?;
        self.all.get(at.checked_sub(1)?)
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
        Units::of_reading(reading, look)
            .spread(&now, reading.instrument_sd)
            .into(),
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
    let units = Units::of_reading(reading, look);
    let inspection = measured.inspection(&one.inspection);
    let earlier = inspection.and_then(|each| before(&measured.stored, each, &one.reading));
    let band = earlier.and_then(|found| found.now);
    let predicted = match &band {
        Some(band) => units.spread(band, reading.instrument_sd),
        None => format!(
            "no prediction was made before; at the model's own rate\n{}",
            units.value(one.predicted, Some(one.measured_sd))
        ),
    };
    let drawn = band.map_or(Cell::Text(String::new()), |band| {
        Cell::Range(Range {
            low: band.p05,
            middle: band.p50,
            high: band.p95,
            limit: reading.limit,
            measured: Some(one.measured),
        })
    });
    let outside = band.is_some_and(|band| !(band.p05..=band.p95).contains(&one.measured));
    vec![
        Cell::Strong(one.label.clone()),
        predicted.into(),
        Cell::Strong(found(one, inspection, &units)),
        drawn,
        words::limit(reading, look).into(),
        how(one, measured).into(),
        taken(one, outside).into(),
    ]
}

/// The mean with its error, and each position where there are several.
fn found(one: &ReadingComparison, inspection: Option<&Inspection>, units: &Units) -> String {
    let mut parts = vec![
        units.value(one.measured, Some(one.measured_sd)),
        format!("(1 sd {})", units.error(one.measured_sd)),
    ];
    let lines: Vec<&MeasuredReading> = inspection
        .iter()
        .flat_map(|each| &each.readings)
        .filter(|line| line.reading == one.reading)
        .collect();
    if lines.len() > 1 {
        parts.extend(lines.into_iter().map(|line| {
            let value = units.value(line.corrected_value, Some(one.measured_sd));
            let first = value.lines().next().unwrap_or_default();
            format!("{}: {first}", line.position)
        }));
    }
    parts.join("\n")
}

/// With which instrument, in which state, by whom, and what is doubtful of any line.
fn how(one: &ReadingComparison, measured: &Measured) -> String {
    let Some(inspection) = measured.inspection(&one.inspection) else {
        return String::new();
    };
    let lines = inspection
        .readings
        .iter()
        .filter(|line| line.reading == one.reading);
    let mut said = Vec::new();
    for line in lines {
        let mut with = match line.instrument.as_str() {
            "" => line.instrument_id.clone(),
            instrument => instrument.to_owned(),
        };
        with += match line.thermal_state() {
            ThermalState::Hot => ", hot",
            ThermalState::Cold => ", cold",
            ThermalState::Unspecified if line.master.is_some() => ", against a master",
            ThermalState::Unspecified => "",
        };
        let earlier = measured.before(&one.inspection);
        let doubts = doubts(line, inspection, earlier, &one.unit);
        for word in std::iter::once(with).chain(doubts.into_iter().map(str::to_owned)) {
            if !word.is_empty() && !said.contains(&word) {
                said.push(word);
            }
        }
    }
    said.push(match inspection.inspected_by.as_str() {
        "" => "WHO?".to_owned(),
        name => name.to_owned(),
    });
    said.push(words::date(inspection.inspection_time.as_ref()));
    said.join("; ")
}

fn taken(one: &ReadingComparison, outside: bool) -> String {
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
    let outside = if outside {
        "OUTSIDE what was predicted, 5 % to 95 %; "
    } else {
        ""
    };
    format!("{outside}{why}, {learnt}{}", past.unwrap_or_default())
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
