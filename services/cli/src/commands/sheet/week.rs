//! The week's list: what the plan would look at before the next event, best first, and what fits in the minutes that there are.

use super::{alike::Places, words};
use crate::{CliError, commands::Session, names, numbers};
use ringland_proto::v1::{MakePlanRequest, PlannedCheck, Prediction};
use ringland_sheets::{Block, Cell, Column, Section, Table};

pub(super) async fn sections(
    unit: &str,
    calendar: &str,
    minutes: Option<f64>,
    (predicted, places): (&[Prediction], &Places),
    session: &Session,
) -> Result<Vec<Section>, CliError> {
    let request = MakePlanRequest {
        unit: unit.into(),
        calendar: names::calendar(calendar),
        ..Default::default()
    };
    let plan = session.api.plans().make_plan(request).await?.into_inner();
    let (fits, left) = divide(&plan.checks, minutes);
    let heading = format!(
        "Before the next event, best first (calendar {})",
        names::id(&plan.calendar)
    );
    let mut blocks = vec![Block::Table(table(&fits, predicted, places))];
    if plan.checks.is_empty() {
        let none = "No look that the calendar names would change what is done.";
        blocks = vec![Block::Text(none.into())];
    } else if fits.is_empty() {
        blocks = vec![Block::Text("No look fits; see below.".into())];
    }
    if let Some(minutes) = minutes {
        blocks.push(Block::Text(format!(
            "These take {} of {} min.",
            numbers::significant(sum(&fits), 3),
            numbers::significant(minutes, 3)
        )));
    }
    let mut sections = vec![Section::new(heading, blocks)];
    if let (Some(minutes), false) = (minutes, left.is_empty()) {
        let heading = format!("Does not fit in {} min", numbers::significant(minutes, 3));
        let said = format!(
            "{} min more. The risk beside each part is run unseen.",
            numbers::significant(sum(&left), 3)
        );
        let blocks = vec![
            Block::Text(said),
            Block::Table(table(&left, predicted, places)),
        ];
        sections.push(Section::new(heading, blocks));
    }
    sections.push(Section::new("The plan", vec![Block::Text(plan.verdict)]));
    Ok(sections)
}

/// Checks that fit into the minutes, taken best first, and those that do not, both in their order. Without minutes all fit.
fn divide(
    checks: &[PlannedCheck],
    minutes: Option<f64>,
) -> (Vec<&PlannedCheck>, Vec<&PlannedCheck>) {
    let mut left = minutes.unwrap_or(f64::INFINITY);
    checks.iter().partition(|check| {
        let fits = check.minutes <= left;
        if fits {
            left -= check.minutes;
        }
        fits
    })
}

fn sum(checks: &[&PlannedCheck]) -> f64 {
    checks.iter().map(|check| check.minutes).sum()
}

fn table(checks: &[&PlannedCheck], predicted: &[Prediction], places: &Places) -> Table {
    let row = |check: &&PlannedCheck| {
        let part = predicted
            .iter()
            .find(|part| part.component == check.component);
        vec![
            Cell::Tick,
            Cell::Strong(words::type_words(&check.component_type)),
            places.place(&check.component).into(),
            format!("{}\n{}", check.check.replace('_', " "), check.instrument).into(),
            numbers::significant(check.minutes, 3).into(),
            numbers::significant(check.value_per_min, 2).into(),
            numbers::percent(check.changes_action).into(),
            part.map_or("-".to_owned(), |part| {
                numbers::percent(part.risk_next_event)
            })
            .into(),
            Cell::Write,
        ]
    };
    Table {
        columns: vec![
            Column::left("", 0.3),
            Column::left("part", 1.1),
            Column::left("where", 1.4),
            Column::left("look at, with", 3.0),
            Column::right("min", 0.5),
            Column::right("saves a minute", 0.9),
            Column::right("changes what is done", 0.9),
            Column::right("part's risk, next event", 0.9),
            Column::left("found", 1.2),
        ],
        rows: checks.iter().map(row).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_best_that_fit_are_taken_and_the_rest_is_told() {
        let checks = [30.0, 150.0, 30.0, 20.0].map(|minutes| PlannedCheck {
            minutes,
            ..Default::default()
        });
        let minutes =
            |of: &[&PlannedCheck]| of.iter().map(|c| c.minutes as i32).collect::<Vec<_>>();
        let (fits, left) = divide(&checks, Some(120.0));
        assert_eq!(minutes(&fits), [30, 30, 20]);
        assert_eq!(minutes(&left), [150]);
        let (fits, left) = divide(&checks, None);
        assert_eq!((fits.len(), left.len()), (4, 0));
        let (fits, left) = divide(&checks, Some(10.0));
        assert_eq!((fits.len(), left.len()), (0, 4));
    }
}
