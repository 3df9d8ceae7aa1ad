//! Plans as text.

use super::{finding::findings, prediction::cautions};
use crate::{
    names,
    numbers::{percent, significant},
    out::{Look, alarm, caution, heading},
    table::{item, pairs, paragraph, table},
    times,
};
use ringland_proto::v1::{
    Override, Plan, PlanCost, PlannedEvent, PlannedPart, PlannedTeardown, ReplacementAge,
};

/// Parts of an event that are named where not all are asked for.
const MOST_PARTS: usize = 3;
/// Risks below this are not worth a name.
const SMALL: f64 = 5e-4;
/// Checks that are shown.
const MOST_CHECKS: usize = 10;
const CAUTION: &str = "It advises. Limits of the part's maker, rules of the sanctioning body and what is found at the part come first.";

/// A plan.
pub fn plan(plan: &Plan, look: &Look, full: bool) -> String {
    let from = match &plan.as_of_time {
        Some(time) => format!("events after {}", times::show(Some(time))),
        None => "all events".into(),
    };
    let from = format!(
        "  {}, revision {}; {from}; {} lives drawn of each part",
        names::id(&plan.calendar),
        plan.calendar_revision,
        plan.samples
    );
    let mut parts = vec![
        heading(names::id(&plan.unit)),
        paragraph(look, &from),
        heading("Verdict"),
        item(look, &plan.verdict),
    ];
    if !plan.standing_limits.is_empty() {
        parts.push(heading("Limits and findings that stand"));
        let standing = plan.standing_limits.iter().map(|limit| {
            let until = match limit.event.as_str() {
                "" => "the plan replaces it in time".into(),
                event => format!("it may not run {event}"),
            };
            alarm(&item(
                look,
                &format!("{}: {}; {until}", names::id(&limit.component), limit.text),
            ))
        });
        parts.extend(standing);
    }
    if !plan.events.is_empty() {
        parts.push(heading("Risk by event"));
        parts.push(events(&plan.events, look));
    }
    if full {
        parts.extend(plan.events.iter().map(|event| every_part(event, look)));
    }
    if !plan.teardowns.is_empty() {
        parts.push(heading("What to replace"));
        parts.extend(plan.teardowns.iter().map(|each| teardown(each, look)));
    }
    parts.push(heading("Expected cost"));
    parts.push(costs(plan, look));
    parts.extend(checks(plan, look));
    if !plan.remedies.is_empty() {
        parts.push(heading("To come under the cap, or to the start"));
        parts.extend(
            plan.remedies
                .iter()
                .map(|remedy| alarm(&item(look, remedy))),
        );
    }
    if !plan.overrides.is_empty() {
        parts.push(heading("Decided other than advised"));
        parts.push(rows_of_overrides(&plan.overrides, look));
    }
    parts.push(format!(
        "{}\n{}",
        heading("Notes"),
        findings(&plan.notes, look)
    ));
    parts.push(cautions(&plan.cautions, look));
    parts.join("\n")
}

fn events(events: &[PlannedEvent], look: &Look) -> String {
    let header = [
        "event",
        "=begins",
        ">risk",
        ">cap",
        ">of it hazard",
        ">any end",
        ">if nothing is done",
        "most of it; life used P50 (P10 to P90)",
    ];
    let rows = events.iter().map(|event| {
        let over = event.risk > event.risk_cap * (1.0 + 1e-6)
            || event.hazard_risk > event.hazard_risk_cap * (1.0 + 1e-6);
        vec![
            event.code.clone(),
            day(event.start_time.as_ref()),
            format!("{}{}", percent(event.risk), if over { " OVER" } else { "" }),
            percent(event.risk_cap),
            percent(event.hazard_risk),
            percent(event.any_end_risk),
            percent(event.risk_of_nothing),
            leading(&event.parts),
        ]
    });
    table(look, &header, rows.collect())
}

fn leading(parts: &[PlannedPart]) -> String {
    let shown = parts
        .iter()
        .filter(|part| part.any_end_risk >= SMALL)
        .take(MOST_PARTS);
    let texts: Vec<String> = shown
        .map(|part| {
            let new = if part.renewed { ", new" } else { "" };
            let any = percent(part.any_end_risk);
            format!(
                "{}{new} {any}, used {}",
                names::id(&part.component),
                used(part)
            )
        })
        .collect();
    texts.join("; ")
}

/// `62 % (48 % to 80 %)`; drawn parts that are past their end have used more than all.
fn used(part: &PlannedPart) -> String {
    let share = |value: f64| format!("{:.0} %", 100.0 * value.min(9.99));
    format!(
        "{} ({} to {})",
        share(part.used_p50),
        share(part.used_p10),
        share(part.used_p90)
    )
}

fn every_part(event: &PlannedEvent, look: &Look) -> String {
    let rows = event.parts.iter().map(|part| {
        vec![
            names::id(&part.component).to_owned(),
            part.position.clone(),
            if part.renewed { "new" } else { "" }.to_owned(),
            percent(part.risk),
            percent(part.any_end_risk),
            used(part),
        ]
    });
    let header = [
        "component",
        "position",
        "",
        ">risk",
        ">any end",
        ">life used",
    ];
    format!(
        "{}\n{}",
        heading(&event.code),
        table(look, &header, rows.collect())
    )
}

fn teardown(teardown: &PlannedTeardown, look: &Look) -> String {
    let place = match teardown.after_event.as_str() {
        "" => "Before the first event".to_owned(),
        event => format!("After {event}"),
    };
    let levels = if teardown.levels.is_empty() {
        "no teardown".to_owned()
    } else {
        teardown.levels.join(", ").replace('_', " ")
    };
    let head = format!(
        "{place}: {levels}, {:.0} min; parts {}, labour {}",
        teardown.labour_min,
        money(teardown.parts_cost),
        money(teardown.labour_cost)
    );
    let rows = teardown.replacements.iter().map(|part| {
        vec![
            names::id(&part.component).to_owned(),
            money(part.price),
            part.order_by_time
                .as_ref()
                .map_or("from the shelf".into(), |time| day(Some(time))),
            part.reason.clone(),
        ]
    });
    let header = ["replace", ">price", "=order by", "because otherwise"];
    format!(
        "{}\n{}",
        item(look, &head),
        table(look, &header, rows.collect())
    )
}

fn costs(plan: &Plan, look: &Look) -> String {
    let row = |what: &str, cost: Option<&PlanCost>| {
        let cost = cost.copied().unwrap_or_default();
        let amounts = [cost.parts, cost.labour, cost.failures, cost.total];
        let amounts = amounts.map(money);
        std::iter::once(what.to_owned()).chain(amounts).collect()
    };
    let rows = vec![
        row("this plan", plan.cost.as_ref()),
        row("replace nothing", plan.cost_of_nothing.as_ref()),
    ];
    let header = ["", ">parts", ">labour", ">ends of parts", ">together"];
    let gap = plan.cost.map_or(0.0, |cost| cost.gap);
    let proved = if gap > 1e-4 {
        format!(
            "Another plan within the same limits could save at most {} of it.",
            percent(gap)
        )
    } else {
        "No plan within the same limits costs less.".into()
    };
    format!("{}\n{}", table(look, &header, rows), item(look, &proved))
}

fn checks(plan: &Plan, look: &Look) -> Option<String> {
    if plan.checks.is_empty() {
        return None;
    }
    let rows = plan.checks.iter().take(MOST_CHECKS).map(|check| {
        vec![
            names::id(&check.component).to_owned(),
            format!("{} ({})", check.check, check.instrument),
            format!("{:.0}", check.minutes),
            money(check.value),
            significant(check.value_per_min, 2),
            percent(check.changes_action),
        ]
    });
    let header = [
        "component",
        "look at",
        ">min",
        ">saves on average",
        ">per min",
        ">changes what is done",
    ];
    let heading = heading("What to look at before the next event, best first");
    Some(format!(
        "{heading}\n{}",
        table(look, &header, rows.collect())
    ))
}

/// Overrides.
pub fn overrides(rows: &[Override], look: &Look) -> String {
    if rows.is_empty() {
        return "none".into();
    }
    format!(
        "{}\n{}",
        rows_of_overrides(rows, look),
        caution(&paragraph(look, CAUTION))
    )
}

fn rows_of_overrides(rows: &[Override], look: &Look) -> String {
    let texts = rows.iter().map(|row| {
        let event = match row.event.as_str() {
            "" => String::new(),
            event => format!(", {event}"),
        };
        item(
            look,
            &format!(
                "{} {}{event}: advised: {}; done: {}; by {}: {}",
                times::show(row.decision_time.as_ref()),
                row.subject,
                row.advice,
                row.decision,
                row.decided_by,
                row.reason
            ),
        )
    });
    texts.collect::<Vec<_>>().join("\n")
}

/// An age of replacement.
pub fn replacement_age(found: &ReplacementAge, look: &Look) -> String {
    let number = |value: f64| significant(value, 5);
    let unit = &found.age_unit;
    let age = match (found.age, found.age_low.zip(found.age_high)) {
        (Some(age), Some((low, high))) => {
            format!(
                "{} {unit} ({} to {})",
                number(age),
                number(low),
                number(high)
            )
        }
        (Some(age), None) => format!("{} {unit}", number(age)),
        (None, _) => "none".into(),
    };
    let rows = [
        (
            "law",
            format!(
                "Weibull, shape {}, scale {} {unit}",
                number(found.shape),
                number(found.scale)
            ),
        ),
        ("replace at", age),
        (
            "cost",
            format!("{} for each {unit}", number(found.cost_rate)),
        ),
        (
            "run to the end",
            format!("{} for each {unit}", number(found.run_to_failure_cost_rate)),
        ),
    ];
    let mut parts = vec![pairs(look, &rows), item(look, &found.verdict)];
    if !found.notes.is_empty() {
        parts.push(findings(&found.notes, look));
    }
    parts.push(caution(&paragraph(look, CAUTION)));
    parts.join("\n")
}

/// Without cents from 100 on.
pub(super) fn money(value: f64) -> String {
    if value.abs() >= 100.0 || value == 0.0 {
        format!("{value:.0}")
    } else {
        format!("{value:.2}")
    }
}

/// `2026-04-18`
pub(super) fn day(time: Option<&prost_types::Timestamp>) -> String {
    times::show(time).chars().take(10).collect()
}
