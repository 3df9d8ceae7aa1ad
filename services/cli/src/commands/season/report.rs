//! What was planted, what should be said, what is said; the bills.

use super::{
    cost::{Bill, bills},
    judge::{Outcome, Verdict},
    play::Played,
};
use crate::{
    CliError,
    commands::demo::calendar::Calendar,
    demo::Tolerance,
    names, numbers,
    out::{Look, Out, caution, heading},
    table::{item, paragraph, table},
};
use ringland_proto::v1::{Consequence, Prediction};
use serde_json::{Value, json};
use std::{collections::BTreeSet, path::Path};

/// Everything that came out.
pub(super) fn show(played: &Played<'_>, calendar: &Calendar, out: Out) -> Result<(), CliError> {
    let bills = bills(&calendar.season, &played.stand.done);
    if out.json {
        return out.json(&as_json(played, &bills));
    }
    let look = &out.look;
    out.text(&heading(&calendar.season.shop.name))?;
    let opening = format!(
        "{} events, {} logs, {} inspections, each over gRPC into a real ledger on disk. Shop, cars and numbers are invented. What is planted in \
         the season, what should be said of it, and what is said: what differs is shown, not tuned.",
        calendar.season.events.len(),
        played.stand.records.len(),
        played.stand.entered.len()
    );
    out.text(&paragraph(look, &opening))?;
    for outcome in &played.outcomes {
        out.text("")?;
        out.text(&of_one(outcome, calendar, look))?;
    }
    out.text("")?;
    out.text(&heading(
        "Risk of the event that followed, worst part of each unit",
    ))?;
    out.text(&risks(played, calendar, look))?;
    out.text("")?;
    out.text(&heading("What the season cost"))?;
    out.text(&costs(&bills, look))?;
    out.text("")?;
    out.text(&summary(played, look))?;
    out.text("")?;
    out.text(&heading("Cautions"))?;
    out.text(&cautions(played, look))
}

fn of_one(outcome: &Outcome, calendar: &Calendar, look: &Look) -> String {
    let planted = &outcome.planted;
    let title = format!(
        "{} ({}), {}",
        planted.event.to_uppercase(),
        calendar.title(&planted.event),
        planted.place
    );
    let rows = outcome.verdicts.iter().map(|verdict| {
        vec![
            stated(verdict),
            said(verdict),
            if verdict.same { "same" } else { "DIFFERS" }.to_owned(),
        ]
    });
    format!(
        "{}\n{}\n{}",
        heading(&title),
        paragraph(look, &planted.happened),
        table(
            look,
            &["should be said", "is said", "beside"],
            rows.collect()
        )
    )
}

fn stated(verdict: &Verdict) -> String {
    let says = &verdict.statement.says;
    let Some(figure) = &verdict.statement.figure else {
        return says.clone();
    };
    let near = match figure.tolerance {
        Tolerance::Within(band) => format!("within {}", trimmed(band)),
        Tolerance::Factor(factor) => format!("within a factor of {}", trimmed(factor)),
    };
    let value = format!("{} {}", trimmed(figure.value), figure.unit);
    format!("{says}: {} ({near})", value.trim_end())
}

fn said(verdict: &Verdict) -> String {
    let unit = verdict
        .statement
        .figure
        .as_ref()
        .map(|figure| figure.unit.as_str());
    let figure = verdict.figure.map(|figure| {
        let whole = (figure - figure.round()).abs() < 1e-9;
        let value = if whole {
            numbers::count(figure.round())
        } else {
            numbers::significant(figure, 3)
        };
        let value = format!("{value} {}", unit.unwrap_or_default());
        value.trim_end().to_owned()
    });
    let said = Some(verdict.said.clone()).filter(|said| !said.is_empty());
    let parts: Vec<String> = figure.into_iter().chain(said).collect();
    let said = parts.join("; ");
    if verdict.why.is_empty() {
        return said;
    }
    format!("{}. Why: {}.", said.trim_end_matches('.'), verdict.why)
}

/// A stated number as it was written.
fn trimmed(value: f64) -> String {
    numbers::count(value)
}

/// For every event what was forecast for the next, by the part most likely to cost its unit or hurt people.
fn risks(played: &Played<'_>, calendar: &Calendar, look: &Look) -> String {
    let units = &calendar.season.units;
    let mut header = vec!["after".to_owned()];
    header.extend(units.iter().map(|unit| unit.id.clone()));
    let header: Vec<&str> = header.iter().map(String::as_str).collect();
    let rows = played.stand.rounds.iter().map(|round| {
        let worst = |unit: &str| {
            let place = format!("units/{unit}");
            let own = round.ready.iter().filter(|one| one.unit == place);
            let worst = own.max_by(|a, b| grave_risk(a).total_cmp(&grave_risk(b)));
            worst.map_or("-".to_owned(), |one| {
                let risk = numbers::percent(grave_risk(one));
                format!("{risk} {}", names::id(&one.component))
            })
        };
        let cells = units.iter().map(|unit| worst(&unit.id));
        std::iter::once(round.event.to_uppercase())
            .chain(cells)
            .collect()
    });
    table(look, &header, rows.collect())
}

/// Risk of the part's worst mechanism that costs the unit or can hurt people.
fn grave_risk(prediction: &Prediction) -> f64 {
    let grave = prediction
        .mechanisms
        .iter()
        .filter(|one| one.consequence() >= Consequence::UnitLoss);
    grave.map(|one| one.risk_next_event).fold(0.0, f64::max)
}

fn costs(bills: &[Bill], look: &Look) -> String {
    let rows = bills.iter().flat_map(|bill| {
        let line = |(event, label, usd): &(String, String, f64)| {
            vec![
                bill.unit.clone(),
                event.to_uppercase(),
                label.clone(),
                numbers::count(usd),
            ]
        };
        let total = vec![
            bill.unit.clone(),
            String::new(),
            "together".into(),
            numbers::count(bill.total_usd()),
        ];
        bill.lines
            .iter()
            .map(line)
            .chain([total])
            .collect::<Vec<_>>()
    });
    table(look, &["unit", "after", "what", ">$"], rows.collect())
}

fn summary(played: &Played<'_>, look: &Look) -> String {
    let (all, differ) = (played.statements(), played.differ());
    let mut lines = vec![heading(&format!(
        "{} of {all} statements are the same",
        all - differ
    ))];
    for outcome in &played.outcomes {
        let differing = outcome.verdicts.iter().filter(|verdict| !verdict.same);
        lines.extend(differing.map(|verdict| {
            let text = format!(
                "{}, {}: {}",
                outcome.planted.id,
                verdict.statement.id,
                said(verdict)
            );
            item(look, &text)
        }));
    }
    let failed = played.stand.rounds.iter().flat_map(|round| {
        round
            .failed
            .iter()
            .map(|text| format!("after {}, no prediction of {text}", round.event))
    });
    lines.extend(failed.map(|text| caution(&item(look, &text))));
    lines.join("\n")
}

/// Each caution once.
fn cautions(played: &Played<'_>, look: &Look) -> String {
    let last = played.stand.rounds.iter().last();
    let of_parts = last
        .iter()
        .flat_map(|round| round.ready.iter().flat_map(|one| &one.cautions));
    let each: BTreeSet<&String> = of_parts.collect();
    each.into_iter()
        .map(|text| item(look, text))
        .collect::<Vec<_>>()
        .join("\n")
}

fn as_json(played: &Played<'_>, bills: &[Bill]) -> Value {
    let outcomes = played.outcomes.iter().map(|outcome| {
        let planted = &outcome.planted;
        let statements = outcome.verdicts.iter().map(|verdict| {
            let stated = &verdict.statement;
            json!({
                "id": stated.id,
                "says": stated.says,
                "stated": stated.figure.as_ref().map(|figure| figure.value),
                "unit": stated.figure.as_ref().map(|figure| figure.unit.as_str()),
                "within": stated.figure.as_ref().and_then(|figure| match figure.tolerance {
                    Tolerance::Within(band) => Some(band),
                    Tolerance::Factor(_) => None,
                }),
                "within_factor": stated.figure.as_ref().and_then(|figure| match figure.tolerance {
                    Tolerance::Within(_) => None,
                    Tolerance::Factor(factor) => Some(factor),
                }),
                "said": verdict.said,
                "figure": verdict.figure,
                "same": verdict.same,
                "why": verdict.why,
            })
        });
        json!({
            "id": planted.id,
            "event": planted.event,
            "place": planted.place,
            "happened": planted.happened,
            "statements": statements.collect::<Vec<_>>(),
        })
    });
    let bills = bills.iter().map(|bill| {
        let lines = bill.lines.iter().map(|(event, what, usd)| {
            json!({ "event": event, "what": what, "usd": usd })
        });
        json!({ "unit": bill.unit, "total_usd": bill.total_usd(), "lines": lines.collect::<Vec<_>>() })
    });
    let failed = played.stand.rounds.iter().flat_map(|round| &round.failed);
    json!({
        "planted": outcomes.collect::<Vec<_>>(),
        "bills": bills.collect::<Vec<_>>(),
        "not_predicted": failed.collect::<Vec<_>>(),
        "statements": played.statements(),
        "differ": played.differ(),
    })
}

/// Where to look further in what was kept.
pub(super) fn farewell(kept: &Path) -> String {
    format!(
        "{}\n  ringland-server --data-dir {folder} --cache-dir {cache}\n  \
         ringland inspection correction ring-pack-a-1\n  ringland predict --unit engine-b --full",
        heading("Look further"),
        folder = kept.join("ledger").display(),
        cache = kept.join("cache").display(),
    )
}
