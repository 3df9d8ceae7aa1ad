//! The life card: one page for the customer.

use super::{advised, build_sheet::title_of, gather, words};
use crate::{
    CliError,
    commands::Session,
    names, numbers,
    out::Look,
    show::{action_word, worst_first},
};
use ringland_proto::v1::{Action, Consequence, MechanismPrediction, Prediction, Unit};
use ringland_sheets::{Block, Cell, Column, Fact, Range, Section, Sheet, Table};

/// Mechanisms less likely than this to come first are not watched for.
const WORTH_WATCHING: f64 = 0.1;

pub(super) async fn of(unit: &str, session: &Session) -> Result<Sheet, CliError> {
    let unit = gather::unit(&names::unit(unit), session).await?;
    let build = gather::build(names::id(&unit.name), session).await?;
    let (predicted, without) = installed(&build.name, session).await?;
    let mut facts = vec![
        Fact::new("unit", names::id(&unit.name)),
        Fact::new("assembled", words::date(build.assembly_time.as_ref())),
        Fact::new(
            "an event is",
            format!("one as in profile {}", profile(&predicted)),
        ),
    ];
    let mut labels: Vec<_> = unit.labels.iter().collect();
    labels.sort();
    facts.extend(
        labels
            .into_iter()
            .map(|(name, value)| Fact::new(name, value)),
    );
    let mut sections = stops(&predicted, &session.out.look);
    sections.push(Section::new(
        "When to bring it back",
        back(&predicted, &session.out.look),
    ));
    sections.push(Section::new(
        "What is left",
        vec![Block::Table(lives(&predicted))],
    ));
    sections.push(Section::new(
        "What to watch for",
        vec![Block::List(watch(&predicted))],
    ));
    sections.push(Section::new(
        "Tell us, with the log, after",
        vec![Block::List(tell(&unit))],
    ));
    if !without.is_empty() {
        sections.push(Section::new("Not known", vec![Block::List(without)]));
    }
    Ok(Sheet {
        title: "Life card".into(),
        subject: title_of(&unit.display_name, &unit.name),
        facts,
        sections,
        cautions: words::cautions(&predicted),
        signatures: vec!["handed over by".into(), "received by".into()],
        ..Sheet::default()
    })
}

/// The predictions of what is in a build, worst first, and who has none.
pub(super) async fn installed(
    build: &str,
    session: &Session,
) -> Result<(Vec<Prediction>, Vec<String>), CliError> {
    let there = gather::contents(build, session).await?;
    let there = there.into_iter().filter(|part| part.remove_time.is_none());
    let components: Vec<String> = there.map(|part| part.component).collect();
    let (predicted, without) = gather::predictions(&components, "", session).await?;
    Ok((worst_first(predicted.into_values().collect()), without))
}

fn profile(predictions: &[Prediction]) -> String {
    let first = predictions.first();
    first
        .map_or("-", |first| names::id(&first.profile))
        .to_owned()
}

/// Parts that must not run, before anything else.
pub(super) fn stops(predictions: &[Prediction], look: &Look) -> Vec<Section> {
    let alarms: Vec<Block> = predictions
        .iter()
        .filter_map(|each| {
            let advice = each.advice.as_ref()?;
            let stop = advice.action() == Action::Stop || !each.overruled_by.is_empty();
            stop.then(|| {
                let part = names::id(&each.component);
                let said = advised::sentence(each, look);
                Block::Alarm(format!("{part}: {}: {said}", action_word(advice)))
            })
        })
        .collect();
    if alarms.is_empty() {
        return Vec::new();
    }
    vec![Section::new("First", alarms)]
}

fn back(predictions: &[Prediction], look: &Look) -> Vec<Block> {
    let earliest = predictions.iter().min_by(|one, other| {
        let low = |each: &Prediction| each.life.unwrap_or_default().events.unwrap_or_default().p05;
        low(one).total_cmp(&low(other))
    });
    let Some(earliest) = earliest else {
        return vec![Block::Text("No part has a prediction.".into())];
    };
    let low = earliest
        .life
        .unwrap_or_default()
        .events
        .unwrap_or_default()
        .p05;
    let when = if low < 1.0 {
        "Bring it back now: the lower figure lies within the next event."
    } else {
        "Bring it back before the lower figure."
    };
    let mut points = vec![format!(
        "The {} is expected first: {} events left, median (5 % to 95 %). {when}",
        words::type_words(&earliest.component_type),
        words::events_left(earliest)
    )];
    let soon = predictions.iter().filter_map(|each| {
        let advice = each.advice.as_ref()?;
        let wanted = matches!(advice.action(), Action::Measure | Action::Replace);
        wanted.then(|| {
            format!(
                "{} ({}): {}",
                words::type_words(&each.component_type),
                names::id(&each.component),
                advised::sentence(each, look)
            )
        })
    });
    points.extend(soon);
    vec![Block::List(points)]
}

fn lives(predictions: &[Prediction]) -> Table {
    let row = |each: &Prediction| {
        let events = each.life.unwrap_or_default().events.unwrap_or_default();
        let range = Range {
            low: events.p05,
            middle: events.p50,
            high: events.p95,
            limit: Some(0.0),
            measured: None,
        };
        vec![
            Cell::Strong(words::type_words(&each.component_type)),
            words::events_left(each).into(),
            Cell::Range(range),
            limiting(each)
                .map_or("-", |mechanism| &mechanism.label)
                .into(),
            numbers::percent(each.risk_next_event).into(),
            each.advice.as_ref().map_or("", action_word).into(),
        ]
    };
    Table {
        columns: vec![
            Column::left("part", 1.4),
            Column::right("events left, median (5 % to 95 %)", 1.5),
            Column::left("from now (dashed)", 1.0),
            Column::left("ends by", 1.8),
            Column::right("risk in the next event", 0.9),
            Column::left("do", 0.9),
        ],
        rows: predictions.iter().map(row).collect(),
    }
}

/// The mechanism that is most likely first.
pub(super) fn limiting(prediction: &Prediction) -> Option<&MechanismPrediction> {
    let mut mechanisms = prediction.mechanisms.iter();
    mechanisms.find(|each| each.mechanism == prediction.limiting_mechanism)
}

fn watch(predictions: &[Prediction]) -> Vec<String> {
    let of = |part: &Prediction| {
        let part_words = words::type_words(&part.component_type);
        let worth = part.mechanisms.iter().filter(|each| {
            each.first_probability >= WORTH_WATCHING
                && matches!(
                    each.consequence(),
                    Consequence::UnitLoss | Consequence::Hazard
                )
        });
        let texts = worth.map(|each| {
            let means = match each.consequence() {
                Consequence::Hazard => "a hazard to people",
                _ => "can cost the unit",
            };
            format!(
                "{part_words}: {} ({means}); its life ends when {}",
                each.label, each.life_ends_when
            )
        });
        texts.collect::<Vec<_>>()
    };
    let mut all: Vec<String> = predictions.iter().flat_map(of).collect();
    if all.is_empty() {
        all.push("Loss of power, oil use, noise and metal in the filter: what ends first here costs power before it costs parts.".into());
    }
    all
}

fn tell(unit: &Unit) -> Vec<String> {
    let thresholds = unit.shock_thresholds.unwrap_or_default();
    let mut all = Vec::new();
    if let Some(speed) = thresholds.over_rev_engine_speed_rad_s {
        all.push(format!(
            "more than {} 1/min, however short: the log at its full rate, before it runs again",
            numbers::count((speed * 30.0 / std::f64::consts::PI).round())
        ));
    }
    all.push("a dip of oil pressure under load, an oil temperature over the limit, detonation, chips in oil or filter: stop, and call before it runs again".into());
    all.push("each event: the logs, oil added, what was changed".into());
    all
}
