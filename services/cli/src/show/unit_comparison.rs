//! What limits a unit, and what moves it.

use super::{
    bounds::{bounds, life, number, quantiles, signed},
    comparison::basis_text,
    finding::findings,
    prediction::cautions,
};
use crate::{
    names, numbers,
    out::{Look, alarm, heading},
    table::{item, paragraph, table},
};
use ringland_proto::v1::{CandidateEffect, EarliestLimit, UnitComparison, UnitComponentLife};
use tonic_types::pb::Status;

/// A comparison of a unit as text.
pub fn unit_comparison(comparison: &UnitComparison, look: &Look) -> String {
    let from = format!(
        "  {}; events as in profile {}; {} units drawn, up to {} events; P50 (P05 to P95)",
        basis_text(comparison.basis()),
        names::id(&comparison.profile),
        comparison.samples,
        number(comparison.horizon_events)
    );
    let mut parts = vec![
        heading(names::id(&comparison.unit)),
        paragraph(look, &from),
        components(&comparison.components, look),
    ];
    if let Some(earliest) = &comparison.earliest {
        let text = format!(
            "the unit: {} events; {}",
            life(earliest.life.as_ref())[0],
            limits(earliest, 3)
        );
        parts.push(item(look, &text));
    }
    parts.extend(candidates(&comparison.candidates, look));
    if !comparison.steps.is_empty() {
        parts.push(heading("One after another"));
        let steps = comparison.steps.iter().enumerate();
        parts.extend(
            steps.map(|(index, step)| item(look, &format!("{}. {}", index + 1, step.text))),
        );
    }
    parts.push(heading("Verdict"));
    parts.push(item(look, &comparison.verdict));
    parts.push(format!(
        "{}\n{}",
        heading("Notes"),
        findings(&comparison.notes, look)
    ));
    parts.push(cautions(&comparison.cautions, look));
    parts.join("\n")
}

fn components(components: &[UnitComponentLife], look: &Look) -> String {
    let mut sorted: Vec<&UnitComponentLife> = components.iter().collect();
    sorted.sort_by(|a, b| b.first_probability.total_cmp(&a.first_probability));
    let rows = sorted
        .iter()
        .filter(|part| part.error.is_none())
        .map(|part| {
            vec![
                names::id(&part.component).to_owned(),
                life(part.life.as_ref())[0].clone(),
                format!(
                    "{} ({})",
                    part.limiting_mechanism.replace('_', " "),
                    numbers::percent(part.limiting_probability)
                ),
                numbers::percent(part.first_probability),
            ]
        });
    let header = [
        "component",
        ">life, events",
        "ends by",
        ">first of the unit",
    ];
    let mut text = table(look, &header, rows.collect());
    for part in components {
        if let Some(error) = &part.error {
            text.push('\n');
            text += &failed(names::id(&part.component), error, look);
        }
    }
    text
}

fn candidates(candidates: &[CandidateEffect], look: &Look) -> Option<String> {
    if candidates.is_empty() {
        return None;
    }
    let good = candidates.iter().filter(|each| each.error.is_none());
    let (moving, idle): (Vec<_>, Vec<_>) = good.partition(|each| moves(each));
    let priced = moving.iter().any(|each| each.price.is_some());
    let rows = moving.iter().map(|each| {
        let mut row = vec![
            each.label.clone(),
            bounds(each.median_change_events.as_ref(), &signed),
            quantiles(each.change_events.as_ref(), &signed),
            odds(each),
            each.earliest
                .as_ref()
                .map_or_else(String::new, |earliest| limits(earliest, 1)),
            own(each),
        ];
        if priced {
            row.push(each.price.map_or("-".into(), number));
        }
        row
    });
    let mut header = vec![
        "change",
        ">median",
        ">drawn units",
        "later",
        "then the limit is",
        ">own life",
    ];
    if priced {
        header.push(">price");
    }
    let mut parts = vec![heading("What moves the earliest limit, in events")];
    if !moving.is_empty() {
        parts.push(table(look, &header, rows.collect()));
    }
    if !idle.is_empty() {
        let idle: Vec<&str> = idle.iter().map(|each| each.label.as_str()).collect();
        parts.push(item(
            look,
            &format!("moves next to nothing: {}", idle.join(", ")),
        ));
    }
    let failures = candidates
        .iter()
        .filter_map(|each| Some((each, each.error.as_ref()?)));
    parts.extend(failures.map(|(each, error)| failed(&each.label, error, look)));
    Some(parts.join("\n"))
}

/// Whether the limit of one drawn unit in fifty moves, or may.
fn moves(effect: &CandidateEffect) -> bool {
    effect.probability_equal < 0.98
}

/// How often the limit comes later, and whatever else is not "no change".
fn odds(effect: &CandidateEffect) -> String {
    let mut parts = vec![numbers::percent(effect.probability_later)];
    if effect.probability_earlier >= 0.001 {
        parts.push(format!(
            "earlier {}",
            numbers::percent(effect.probability_earlier)
        ));
    }
    if effect.probability_open > 0.0 {
        parts.push(format!(
            "open {}",
            numbers::percent(effect.probability_open)
        ));
    }
    parts.join(", ")
}

/// `x1.9`, or the least and the most of several parts.
fn own(effect: &CandidateEffect) -> String {
    let mut texts: Vec<String> = effect
        .own_life_ratios
        .iter()
        .map(|ratio| format!("x{}", bounds(Some(ratio), &number)))
        .collect();
    texts.sort();
    texts.dedup();
    texts.join(", ")
}

fn limits(earliest: &EarliestLimit, most: usize) -> String {
    let mut texts: Vec<String> = earliest
        .limits
        .iter()
        .take(most)
        .map(|limit| {
            let part = names::id(&limit.component);
            let share = numbers::percent(limit.probability);
            format!("{} of {part} ({share})", limit.label)
        })
        .collect();
    if texts.is_empty() {
        texts.push("nothing within the horizon".into());
    }
    texts.join(", ")
}

fn failed(what: &str, error: &Status, look: &Look) -> String {
    alarm(&item(look, &format!("{what}: {}", error.message)))
}
