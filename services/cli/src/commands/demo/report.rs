//! What the demo tells: the shop, what intake found, how much life is left in every part.

use super::{calendar::Calendar, logs::Recorded, shop::PROFILE};
use crate::{
    CliError, json, numbers,
    out::{Look, Out, heading},
    show::{Detail, all_cautions, findings, prediction, shocks_of, summary, worst_first},
    table::{item, paragraph, table},
};
use ringland_proto::v1::{Action, Finding, Prediction};
use serde_json::json;
use std::collections::{BTreeMap, BTreeSet};

/// Who, what, how much.
pub(super) fn opening(calendar: &Calendar, look: &Look) -> String {
    let season = &calendar.season;
    let text = format!(
        "{} engines and drivelines, {} events, {} logs. The shop, its cars and every number in its logs are invented; \
         the logs have the flaws that real ones have. Each goes over gRPC into a real ledger on disk.",
        season.units.len(),
        season.events.len(),
        calendar.logs.len()
    );
    let engines = season
        .units
        .iter()
        .map(|unit| vec![unit.id.clone(), unit.note.clone()]);
    format!(
        "{}\n{}\n{}",
        heading(&season.shop.name),
        paragraph(look, &text),
        table(look, &["unit", "its parts"], engines.collect())
    )
}

/// Everything that came out.
pub(super) fn show(
    calendar: &Calendar,
    records: &[Recorded],
    predictions: &[Prediction],
    full: bool,
    out: Out,
) -> Result<(), CliError> {
    if out.json {
        let records: Vec<_> = records
            .iter()
            .map(|recorded| recorded.record.clone())
            .collect();
        return out.json(&json!({
            "duty_records": json::list("duty_records", "DutyRecord", &records)?["duty_records"],
            "predictions": json::list("predictions", "Prediction", predictions)?["predictions"],
        }));
    }
    let look = &out.look;
    out.text("")?;
    out.text(&heading("What engines and drivelines did"))?;
    out.text(&engines(calendar, records, look))?;
    out.text("")?;
    out.text(&heading("What intake found wrong in the logs"))?;
    out.text(&flaws(records, look))?;
    out.text(&noted(records, look))?;
    let shocks = shocks_of(
        records
            .iter()
            .map(|r| (r.log.plan.file.as_str(), &r.record)),
        look,
    );
    if let Some(shocks) = shocks {
        out.text("")?;
        out.text(&heading("What hurt"))?;
        out.text(&shocks)?;
    }
    let title = format!("Life left now, worst first; an event is profile {PROFILE}");
    out.text("")?;
    out.text(&heading(&title))?;
    for unit in &calendar.season.units {
        let own = parts_of(&unit.id, predictions);
        out.text("")?;
        out.text(&heading(&unit.id))?;
        out.text(&summary(&own, look))?;
        for each in explained(&own, full) {
            let detail = if full { Detail::Usual } else { Detail::Brief };
            out.text("")?;
            out.text(&prediction(each, look, detail))?;
        }
    }
    out.text("")?;
    out.text(&all_cautions(predictions, look))
}

fn parts_of(unit: &str, predictions: &[Prediction]) -> Vec<Prediction> {
    let unit = format!("units/{unit}");
    let own = predictions.iter().filter(|each| each.unit == unit);
    worst_first(own.cloned().collect())
}

/// What is explained of an engine's parts, worst first: the worst, what must be replaced, and its rings, which an engine is freshened
/// for; or all.
fn explained(own: &[Prediction], full: bool) -> impl Iterator<Item = &Prediction> {
    let picked = move |(place, each): &(usize, &Prediction)| {
        let replaced = each
            .advice
            .as_ref()
            .is_some_and(|advice| advice.action >= Action::Replace as i32);
        full || *place == 0 || replaced || each.component_type == "ring_pack"
    };
    own.iter().enumerate().filter(picked).map(|(_, each)| each)
}

fn engines(calendar: &Calendar, records: &[Recorded], look: &Look) -> String {
    let rows = calendar.season.units.iter().map(|unit| {
        let own = records
            .iter()
            .filter(|recorded| recorded.log.plan.unit == unit.id);
        let (mut logs, mut rows, mut counted_s, mut logged_s, mut revolutions, mut events) =
            (0_i64, 0_i64, 0.0, 0.0, 0.0, 0.0);
        for recorded in own {
            let report = recorded.record.intake_report.clone().unwrap_or_default();
            logs += 1;
            rows += report.rows;
            counted_s += report.counted_duration_s;
            logged_s += report.log_duration_s;
            revolutions += recorded.record.crank_revolutions;
            events += recorded.log.plan.events;
        }
        vec![
            unit.id.clone(),
            numbers::count(logs),
            numbers::count(rows),
            format!("{:.1}", logged_s / 3600.0),
            format!("{:.1}", counted_s / 3600.0),
            format!("{:.2}", revolutions / 1e6),
            format!("{events:.2}"),
        ]
    });
    let header = [
        "unit",
        ">logs",
        ">rows",
        ">hours logged",
        ">hours of use",
        ">M rev",
        ">events",
    ];
    table(look, &header, rows.collect())
}

/// Flaws of one kind over all logs.
#[derive(Default)]
struct Kind {
    logs: BTreeSet<String>,
    channels: BTreeSet<String>,
    count: i64,
    lost_s: f64,
    first: String,
    actions: BTreeSet<String>,
}

/// Flaws of all logs by kind.
fn flaws(records: &[Recorded], look: &Look) -> String {
    let mut kinds: BTreeMap<String, Kind> = BTreeMap::new();
    for recorded in records {
        let report = recorded.record.intake_report.clone().unwrap_or_default();
        let file = &recorded.log.plan.file;
        for flaw in report.flaws {
            let kind = kinds.entry(flaw.kind).or_default();
            if kind.first.is_empty() {
                let row = flaw
                    .rows
                    .first()
                    .map(|row| format!(", row {row}"))
                    .unwrap_or_default();
                kind.first = format!("{file}{row}");
            }
            kind.logs.insert(file.clone());
            kind.channels.insert(flaw.channel);
            kind.count += flaw.count;
            kind.lost_s += flaw.lost_s;
            kind.actions.insert(flaw.action);
        }
    }
    let rows = kinds.iter().map(|(name, kind)| {
        vec![
            name.replace('_', " "),
            some(&kind.channels, "channels"),
            kind.logs.len().to_string(),
            numbers::count(kind.count),
            if kind.lost_s > 0.0 {
                numbers::duration(kind.lost_s)
            } else {
                "-".into()
            },
            kind.first.clone(),
        ]
    });
    let header = [
        "flaw",
        "channel",
        ">logs",
        ">count",
        ">not counted",
        "first in",
    ];
    let done = kinds.iter().map(|(name, kind)| {
        let actions: Vec<&str> = kind.actions.iter().map(String::as_str).collect();
        item(
            look,
            &format!("{}: {}", name.replace('_', " "), actions.join("; ")),
        )
    });
    let done = done.collect::<Vec<_>>().join("\n");
    format!(
        "{}\nWhat was done about it\n{done}",
        table(look, &header, rows.collect())
    )
}

/// Up to two of them, else how many.
fn some(texts: &BTreeSet<String>, what: &str) -> String {
    if texts.len() > 2 {
        return format!("{} {what}", texts.len());
    }
    texts
        .iter()
        .map(String::as_str)
        .collect::<Vec<_>>()
        .join("; ")
}

/// What else intake says, each thing once with the log that it was first said of.
fn noted(records: &[Recorded], look: &Look) -> String {
    let mut said: BTreeMap<String, (Finding, i64)> = BTreeMap::new();
    let mut order = Vec::new();
    for recorded in records {
        let report = recorded.record.intake_report.clone().unwrap_or_default();
        for finding in report.notes.into_iter().chain(report.not_looked_for) {
            let key = format!("{}|{}|{}", finding.field, finding.expected, finding.remedy);
            if let Some((_, logs)) = said.get_mut(&key) {
                *logs += 1;
                continue;
            }
            let field = format!("{}, {}", recorded.log.plan.file, finding.field);
            order.push(key.clone());
            said.insert(key, (Finding { field, ..finding }, 1));
        }
    }
    let list: Vec<Finding> = order
        .iter()
        .filter_map(|key| said.remove(key))
        .map(|(mut finding, logs)| {
            if logs > 1 {
                finding.field = format!("{} (and {} more logs)", finding.field, logs - 1);
            }
            finding
        })
        .collect();
    findings(&list, look)
}
