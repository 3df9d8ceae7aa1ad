//! Power lost since the seated state, as measured and by the parts' models.

use super::{finding::findings, prediction::cautions, quantity::Shown, seating::percent};
use crate::{
    names, numbers,
    out::{Look, heading},
    table::{item, pairs, table},
};
use ringland_proto::v1::{PowerFadeAssessment, PredictedFade, Quantiles};

/// An assessment as text.
pub fn power_fade(found: &PowerFadeAssessment, look: &Look) -> String {
    let mut parts = vec![head(found, look)];
    parts.extend(pulls(found, look));
    parts.extend(found.predicted.as_ref().map(|fade| predicted(fade, look)));
    for (title, lines) in [
        ("Left out", &found.left_out),
        ("Taken for granted", &found.assumptions),
    ] {
        if !lines.is_empty() {
            let lines = lines
                .iter()
                .map(|line| item(look, line))
                .collect::<Vec<_>>();
            parts.push(format!("{}\n{}", heading(title), lines.join("\n")));
        }
    }
    if !found.findings.is_empty() {
        parts.push(format!(
            "{}\n{}",
            heading("Notes"),
            findings(&found.findings, look)
        ));
    }
    parts.push(cautions(&found.cautions, look));
    parts.join("\n")
}

fn head(found: &PowerFadeAssessment, look: &Look) -> String {
    let mut lines = vec![
        ("build", names::short(&found.build)),
        (
            "age",
            format!(
                "{} events as in profile {}",
                numbers::significant(found.age_events, 3),
                names::id(&found.profile)
            ),
        ),
        ("in short", found.text.clone()),
    ];
    if let Some(fade) = &found.measured {
        lines.push((
            "measured",
            format!(
                "{} lost, {} an event",
                percent(fade.loss_fraction_now),
                percent(fade.loss_fraction_per_event)
            ),
        ));
        lines.push((
            "to the limit",
            until(fade.events_to_limit, fade.horizon_events),
        ));
    }
    if let Some(fade) = &found.predicted {
        lines.push((
            "predicted",
            format!("{} lost", percent(fade.loss_fraction_now)),
        ));
        lines.push((
            "to the limit",
            until(fade.events_to_limit, fade.horizon_events),
        ));
    }
    if let Some(both) = &found.comparison {
        let text = format!(
            "{} measured beyond predicted; more is lost than predicted with {}",
            percent(both.excess_fraction),
            numbers::percent(both.more_probability)
        );
        lines.push(("difference", text));
    }
    let title = format!("{}  power", names::id(&found.unit));
    format!("{}\n{}", heading(&title), pairs(look, &lines))
}

fn until(events: Option<Quantiles>, horizon: f64) -> String {
    let events = events.unwrap_or_default();
    let at_least = [events.p05, events.p50, events.p95].map(|value| value >= horizon);
    format!(
        "{} events until the limit of loss",
        numbers::spread(&events, at_least).median_first()
    )
}

fn pulls(found: &PowerFadeAssessment, look: &Look) -> Option<String> {
    let largest = found
        .pulls
        .iter()
        .map(|pull| pull.corrected_power_w)
        .reduce(f64::max)?;
    let units = Shown::choose("W", largest, look.system);
    let unit = units.first()?;
    let power = format!(">{}, corrected", unit.symbol());
    let header = [">events", ">factor", &power, ">lost", "=by the trend"];
    let rows = found.pulls.iter().map(|pull| {
        vec![
            numbers::significant(pull.events, 3),
            format!("{:.3}", pull.correction_factor),
            format!("{:.1}", unit.value(pull.corrected_power_w)),
            pull.loss_fraction
                .map_or("-".into(), |share| format!("{:.2} %", 100.0 * share)),
            percent(pull.fitted_loss_fraction),
        ]
    });
    Some(format!(
        "{}\n{}",
        heading("Pulls"),
        table(look, &header, rows.collect())
    ))
}

fn predicted(fade: &PredictedFade, look: &Look) -> String {
    let rows = fade.components.iter().map(|part| {
        let causes = part
            .drivers
            .iter()
            .map(|driver| format!("{} {}", numbers::percent(driver.share), driver.label));
        vec![
            names::id(&part.component).to_owned(),
            percent(part.loss_fraction_now),
            percent(part.loss_fraction_next),
            part.mechanism.clone(),
            causes.collect::<Vec<_>>().join("\n"),
        ]
    });
    let header = [
        "component",
        "=lost now, P50 (P05 to P95)",
        "=after an event",
        "by",
        "from",
    ];
    format!(
        "{}\n{}",
        heading("Predicted by part"),
        table(look, &header, rows.collect())
    )
}
