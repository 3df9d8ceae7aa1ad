//! Answers to questions: the verdict first, then figures, why, cautions.

use super::{
    bounds::{bounds, life, number, quantiles, signed},
    finding::findings,
    prediction::{action_word, cautions},
};
use crate::{
    names, numbers,
    out::{Look, alarm, heading},
    table::{item, paragraph, table},
};
use ringland_proto::v1::{
    Advice, Decision, EarliestLimit, Finding, OneMoreEvent, OverRevCost, PartAtSpeed, PartInEvent,
    PartShockCost, RunOrPull, SpeedChange,
};
use tonic_types::pb::Status;

/// Rows of a table of parts.
const MOST_PARTS: usize = 40;

/// Whether to run one more event.
pub fn one_more_event(answer: &OneMoreEvent, look: &Look) -> String {
    let word = match answer.decision() {
        Decision::Unspecified => "",
        Decision::Run => "RUN, AT THE RISK BELOW",
        Decision::LookFirst => "LOOK FIRST",
        Decision::Pull => "PULL IT",
    };
    let word = if answer.decision() == Decision::Pull {
        alarm(word)
    } else {
        heading(word)
    };
    let mut parts = vec![word, paragraph(look, &answer.verdict)];
    let event = format!(
        "  event: {} of profile {}; risk that some part comes to a limit in it {}, that one fails at the unit's cost {}; earliest \
         limit {}",
        times_of(answer.severity),
        names::id(&answer.profile),
        numbers::percent(answer.risk),
        numbers::percent(answer.failure_risk),
        earliest(answer.earliest.as_ref()),
    );
    parts.push(paragraph(look, &event));
    parts.extend(answer.cost.as_ref().map(|cost| weighed(cost, look)));
    parts.push(risks(&answer.parts, look));
    parts.extend(failed(
        answer
            .parts
            .iter()
            .filter_map(|part| part.outlook.as_ref())
            .map(|part| (part.component.as_str(), part.error.as_ref())),
        look,
    ));
    parts.extend(sentences("Why", &answer.why, look));
    parts.push(ending(&answer.notes, &answer.cautions, look));
    parts.join("\n")
}

fn weighed(cost: &RunOrPull, look: &Look) -> String {
    let replaced: Vec<&str> = cost.replaced.iter().map(|name| names::id(name)).collect();
    let text = format!(
        "expected loss of running {}, of pulling {} now {} (life thrown away: {})",
        number(cost.run),
        replaced.join(", "),
        bounds(cost.pull.as_ref(), &number),
        bounds(cost.thrown_away.as_ref(), &number)
    );
    item(look, &text)
}

fn risks(parts: &[PartInEvent], look: &Look) -> String {
    let rows = parts.iter().take(MOST_PARTS).filter_map(|part| {
        let outlook = part.outlook.as_ref().filter(|part| part.error.is_none())?;
        Some(vec![
            names::id(&outlook.component).to_owned(),
            numbers::percent(outlook.risk),
            numbers::percent(outlook.failure_risk),
            life(outlook.life.as_ref())[0].clone(),
            outlook.limiting_label.clone(),
            quantiles(part.unused_share.as_ref(), &share),
            advised(outlook.advice.as_ref()),
        ])
    });
    let header = [
        "component",
        ">risk",
        ">at the unit's cost",
        ">life left, events",
        "ends by",
        ">unused",
        "advice",
    ];
    table(look, &header, rows.collect())
}

/// What a shock cost.
pub fn over_rev_cost(answer: &OverRevCost, look: &Look) -> String {
    let mut parts = vec![
        heading(&format!(
            "{}  {}",
            names::short(&answer.duty_record),
            answer.kind.replace('_', " ")
        )),
        paragraph(look, &answer.verdict),
    ];
    let rows = answer
        .parts
        .iter()
        .take(MOST_PARTS)
        .filter(|part| part.error.is_none());
    let rows = rows.map(shock_row);
    let header = [
        "component",
        ">lost, events",
        ">life left",
        ">without it",
        ">risk",
        ">without it",
        ">price of it",
        "advice",
    ];
    parts.push(table(look, &header, rows.collect()));
    parts.extend(failed(
        answer
            .parts
            .iter()
            .map(|part| (part.component.as_str(), part.error.as_ref())),
        look,
    ));
    parts.extend(slots(&answer.parts, look));
    parts.extend(sentences("Check", &answer.check, look));
    parts.extend(sentences("Why", &answer.why, look));
    parts.push(ending(&answer.notes, &answer.cautions, look));
    parts.join("\n")
}

fn shock_row(part: &PartShockCost) -> Vec<String> {
    let mut name = names::id(&part.component).to_owned();
    if !part.still_installed {
        name += " (out)";
    }
    vec![
        name,
        quantiles(part.lost_events.as_ref(), &few),
        life(part.life.as_ref())[0].clone(),
        life(part.life_without.as_ref())[0].clone(),
        numbers::percent(part.risk),
        numbers::percent(part.risk_without),
        quantiles(part.price.as_ref(), &number),
        advised(part.advice.as_ref()),
    ]
}

/// What of the conditions differs, in SI.
fn slots(parts: &[PartShockCost], look: &Look) -> Option<String> {
    let rows: Vec<Vec<String>> = parts
        .iter()
        .flat_map(|part| part.condition.iter().map(move |slot| (part, slot)))
        .take(MOST_PARTS)
        .map(|(part, slot)| {
            vec![
                names::id(&part.component).to_owned(),
                slot.label.clone(),
                slot.unit.clone(),
                numbers::significant(slot.with, 5),
                numbers::significant(slot.without, 5),
            ]
        })
        .collect();
    let header = ["component", "condition", "unit", ">as it is", ">without it"];
    (!rows.is_empty()).then(|| {
        let title = heading("What it left in the conditions");
        format!("{title}\n{}", table(look, &header, rows))
    })
}

/// What another speed does.
pub fn speed_change(answer: &SpeedChange, look: &Look) -> String {
    let mut parts = Vec::new();
    for each in &answer.alternatives {
        let rpm = each.change_rad_s * 30.0 / std::f64::consts::PI;
        parts.push(heading(&format!(
            "{}  {} rpm",
            names::id(&answer.unit),
            signed(rpm)
        )));
        parts.push(paragraph(look, &each.verdict));
        let rows = each
            .parts
            .iter()
            .take(MOST_PARTS)
            .filter(|part| part.error.is_none());
        let priced = each.parts.iter().any(|part| part.cost.is_some());
        let mut header = vec![
            "component",
            ">life x",
            "longer, shorter",
            ">life, events",
            ">risk",
            ">before",
        ];
        if priced {
            header.extend([">cost of an event", ">before"]);
        }
        let rows = rows.map(|part| speed_row(part, priced)).collect();
        parts.push(table(look, &header, rows));
        parts.extend(failed(
            each.parts
                .iter()
                .map(|part| (part.component.as_str(), part.error.as_ref())),
            look,
        ));
        if each.cost_change.is_some() {
            let change = bounds(each.cost_change.as_ref(), &signed);
            parts.push(item(
                look,
                &format!("cost of an event by priced parts: {change}"),
            ));
        }
        let limits = each.parts.iter().flat_map(|part| {
            let of = names::id(&part.component);
            part.limits_passed
                .iter()
                .map(move |limit| format!("{of}: {limit}"))
        });
        parts.extend(limits.map(|limit| alarm(&item(look, &limit))));
    }
    let before = format!(
        "  at the present speed: {}",
        earliest(answer.earliest.as_ref())
    );
    parts.push(paragraph(look, &before));
    parts.extend(sentences("Taken for granted", &answer.assumptions, look));
    parts.push(ending(&answer.notes, &answer.cautions, look));
    parts.join("\n")
}

fn speed_row(part: &PartAtSpeed, priced: bool) -> Vec<String> {
    let mut row = vec![
        names::id(&part.component).to_owned(),
        quantiles(part.life_ratio.as_ref(), &number),
        format!(
            "{}, {}",
            numbers::percent(part.probability_longer),
            numbers::percent(part.probability_shorter)
        ),
        life(part.life.as_ref())[0].clone(),
        numbers::percent(part.risk),
        numbers::percent(part.risk_before),
    ];
    if priced {
        let costs = [part.cost, part.cost_before];
        row.extend(
            costs.map(|cost| cost.map_or("-".into(), |cost| bounds(cost.mean.as_ref(), &number))),
        );
    }
    row
}

/// `once`, `1.2 times`
fn times_of(severity: f64) -> String {
    if (severity - 1.0).abs() < 1e-9 {
        "once".into()
    } else {
        format!("{} times", numbers::significant(severity, 3))
    }
}

/// As other numbers; what is little is not shown as nothing.
fn few(value: f64) -> String {
    numbers::significant(value, 2)
}

/// A share in percent.
fn share(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

fn earliest(limit: Option<&EarliestLimit>) -> String {
    format!(
        "{} events",
        life(limit.and_then(|limit| limit.life.as_ref()))[0]
    )
}

fn advised(advice: Option<&Advice>) -> String {
    advice.map_or("-", action_word).to_owned()
}

pub(super) fn sentences(title: &str, lines: &[String], look: &Look) -> Option<String> {
    if lines.is_empty() {
        return None;
    }
    let lines: Vec<String> = lines.iter().map(|line| item(look, line)).collect();
    Some(format!("{}\n{}", heading(title), lines.join("\n")))
}

/// Parts without figures.
fn failed<'a>(
    parts: impl Iterator<Item = (&'a str, Option<&'a Status>)>,
    look: &Look,
) -> Vec<String> {
    let failed = parts.filter_map(|(name, error)| Some((name, error?)));
    failed
        .map(|(name, error)| {
            let text = format!("{}: {}", names::id(name), error.message);
            alarm(&item(look, &text))
        })
        .collect()
}

pub(super) fn ending(notes: &[Finding], caution_lines: &[String], look: &Look) -> String {
    format!(
        "{}\n{}\n{}",
        heading("Notes"),
        findings(notes, look),
        cautions(caution_lines, look)
    )
}
