//! Alternatives of a component side by side.

use super::{
    bounds::{bounds, life, number, quantiles, signed},
    finding::findings,
    prediction::cautions,
    quantity::Shown,
};
use crate::{
    names, numbers,
    out::{Look, heading},
    table::{item, paragraph, table},
};
use ringland_proto::v1::{
    AlternativeForecast, Comparison, ComparisonBasis, Difference, Finding, PowerChange,
    ReadingPrediction,
};

/// Mechanisms less likely than this to come first are for the full form.
const WORTH_SHOWING: f64 = 0.02;

/// A comparison as text.
pub fn comparison(comparison: &Comparison, look: &Look, full: bool) -> String {
    let title = format!(
        "{}  {}",
        names::id(&comparison.component),
        comparison.component_type.replace('_', " ")
    );
    let mut parts = vec![
        heading(&title),
        paragraph(look, &format!("  {}", from_what(comparison))),
        side_by_side(comparison, look, full),
    ];
    parts.extend(readings(&comparison.alternatives, look, full));
    parts.push(heading("Verdict"));
    let verdicts = comparison.differences.iter();
    parts.extend(verdicts.map(|difference| item(look, &difference.verdict)));
    parts.extend(evidence(&comparison.alternatives, look));
    let notes = all_notes(comparison);
    if !notes.is_empty() {
        parts.push(format!("{}\n{}", heading("Notes"), findings(&notes, look)));
    }
    if full && !comparison.leaves_out.is_empty() {
        parts.push(heading("The model leaves out"));
        parts.extend(comparison.leaves_out.iter().map(|line| item(look, line)));
    }
    parts.push(cautions(&comparison.cautions, look));
    parts.join("\n")
}

/// `new parts, events as in profile race-meeting, 512 lives of each up to 200 events`
fn from_what(comparison: &Comparison) -> String {
    format!(
        "{}; events as in profile {}; {} lives of each, up to {} events; P50 (P05 to P95)",
        basis_text(comparison.basis()),
        names::id(&comparison.profile),
        comparison.samples,
        number(comparison.horizon_events)
    )
}

pub(super) fn basis_text(basis: ComparisonBasis) -> &'static str {
    match basis {
        ComparisonBasis::Present => "from what is there now",
        ComparisonBasis::New | ComparisonBasis::Unspecified => "from new parts",
    }
}

fn side_by_side(comparison: &Comparison, look: &Look, full: bool) -> String {
    let alternatives = &comparison.alternatives;
    let mut header = vec![String::new()];
    header.extend(alternatives.iter().map(|each| each.label.clone()));
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut add = |name: &str, cells: Vec<String>| {
        if cells.iter().any(|cell| cell != "-") {
            rows.push(std::iter::once(name.to_owned()).chain(cells).collect());
        }
    };
    let each = |cell: &dyn Fn(&AlternativeForecast) -> String| {
        alternatives.iter().map(cell).collect::<Vec<String>>()
    };
    add("life, events", each(&|a| life(a.life.as_ref())[0].clone()));
    add("life, hours", each(&|a| life(a.life.as_ref())[1].clone()));
    let against = |cell: &dyn Fn(&Difference) -> String| {
        let first = std::iter::once("-".to_owned());
        first
            .chain(comparison.differences.iter().map(cell))
            .collect::<Vec<_>>()
    };
    add(
        "life over the first",
        against(&|d| quantiles(d.life_ratio.as_ref(), &number)),
    );
    add("lives longer", against(&longer));
    add("comes first", each(&|a| limits(a, full)));
    add(
        "risk of the first event",
        each(&|a| numbers::percent(a.risk_next_event)),
    );
    add("time to seat", each(&time_to_seat));
    for (name, cells) in powers(comparison, look) {
        add(&name, cells);
    }
    add(
        "a renewal costs",
        each(&|a| {
            a.cost
                .as_ref()
                .map_or("-".into(), |c| number(c.renewal_price))
        }),
    );
    add(
        "an event costs, in the long run",
        each(&|a| {
            let cost = a.cost.as_ref();
            cost.map_or("-".into(), |cost| bounds(cost.mean.as_ref(), &number))
        }),
    );
    add(
        "an event costs, by drawn life",
        each(&|a| quantiles(a.cost.as_ref().and_then(|c| c.drawn.as_ref()), &number)),
    );
    add("pays", against(&pays));
    add(
        "treatments are worth",
        against(&|d| {
            let payback = d.payback.as_ref();
            quantiles(payback.and_then(|p| p.break_even_drawn.as_ref()), &number)
        }),
    );
    let header: Vec<&str> = header.iter().map(String::as_str).collect();
    table(look, &header, rows)
}

fn longer(difference: &Difference) -> String {
    let mut text = numbers::percent(difference.probability_longer);
    if difference.probability_equal > 0.0 {
        text += ", as long ";
        text += &numbers::percent(difference.probability_equal);
    }
    if difference.probability_open > 0.0 {
        text += ", open ";
        text += &numbers::percent(difference.probability_open);
    }
    text
}

fn pays(difference: &Difference) -> String {
    let Some(payback) = &difference.payback else {
        return "-".into();
    };
    let mut text = format!("with {}", numbers::percent(payback.probability_pays));
    if payback.probability_open > 0.0 {
        text += ", open ";
        text += &numbers::percent(payback.probability_open);
    }
    text
}

/// Seating is a matter of minutes: events by the hours that the life has for each.
fn time_to_seat(alternative: &AlternativeForecast) -> String {
    let events = alternative.seating.as_ref().and_then(|s| s.events.as_ref());
    let life = alternative.life.as_ref();
    let [of_events, of_hours] = [life.and_then(|l| l.events), life.and_then(|l| l.hours)]
        .map(|quantiles| quantiles.unwrap_or_default().p95);
    if of_events <= 0.0 {
        return quantiles(events, &|events| format!("{} events", number(events)));
    }
    let seconds = 3600.0 * of_hours / of_events;
    quantiles(events, &|events| numbers::duration(seconds * events))
}

/// The mechanisms by how often they come first.
fn limits(alternative: &AlternativeForecast, full: bool) -> String {
    let mut mechanisms: Vec<_> = alternative.mechanisms.iter().collect();
    mechanisms.sort_by(|a, b| b.first_probability.total_cmp(&a.first_probability));
    let mut lines: Vec<String> = mechanisms
        .into_iter()
        .filter(|m| full || m.first_probability >= WORTH_SHOWING)
        .map(|m| format!("{} {}", m.label, numbers::percent(m.first_probability)))
        .collect();
    if alternative.beyond_horizon_probability > 0.0 {
        let beyond = numbers::percent(alternative.beyond_horizon_probability);
        lines.push(format!("nothing within the horizon {beyond}"));
    }
    lines.join("\n")
}

/// Friction powers now and at the furthest time ahead, with their change.
fn powers(comparison: &Comparison, look: &Look) -> Vec<(String, Vec<String>)> {
    let Some(first) = comparison.differences.first() else {
        return Vec::new();
    };
    let furthest = first
        .power_changes
        .iter()
        .map(|c| c.events)
        .fold(0.0, f64::max);
    let shown = first
        .power_changes
        .iter()
        .filter(|c| c.events <= 0.0 || c.events >= furthest);
    shown
        .map(|change| {
            let when = if change.events > 0.0 {
                format!("after {} events", number(change.events))
            } else {
                "now".into()
            };
            let unit = Shown::choose("W", change.first_w.abs(), look.system);
            let text = |watt: f64| {
                let cells = unit
                    .iter()
                    .map(|unit| unit.with_symbol(&numbers::significant(unit.value(watt), 3)));
                cells.collect::<Vec<_>>().join(", ")
            };
            let of = |difference: &Difference| -> Option<PowerChange> {
                let changes = difference.power_changes.iter();
                let mut same = changes.filter(|c| {
                    c.reading == change.reading && c.events.total_cmp(&change.events).is_eq()
                });
                same.next().cloned()
            };
            let others = comparison.differences.iter().map(|difference| {
                of(difference).map_or("-".into(), |c| {
                    let percent = 100.0 * (c.alternative_w / c.first_w - 1.0);
                    format!("{} ({} %)", text(c.alternative_w), signed(percent))
                })
            });
            let cells = std::iter::once(text(change.first_w)).chain(others);
            (format!("{}, {when}", change.label), cells.collect())
        })
        .collect()
}

/// Readings of all alternatives now, midway and at the end of what was asked for.
fn readings(alternatives: &[AlternativeForecast], look: &Look, full: bool) -> Option<String> {
    let first = alternatives.first()?;
    let ahead = &first.readings.first()?.ahead;
    let mut times: Vec<usize> = vec![ahead.len() / 2, ahead.len().saturating_sub(1)];
    times.dedup();
    times.retain(|index| *index < ahead.len());
    let mut header = vec!["reading".to_owned(), "alternative".into(), "=now".into()];
    header.extend(
        times
            .iter()
            .map(|i| format!("=after {} events", ahead[*i].events)),
    );
    header.extend(["limit", "unit"].map(str::to_owned));
    let mut rows = Vec::new();
    for (index, reading) in first.readings.iter().enumerate() {
        if !full && reading.limit.is_none() {
            continue;
        }
        let of_all: Vec<&ReadingPrediction> = alternatives
            .iter()
            .filter_map(|alternative| alternative.readings.get(index))
            .collect();
        for (alternative, reading) in alternatives.iter().zip(&of_all) {
            rows.push(reading_row(alternative, reading, &of_all, &times, look));
        }
    }
    if rows.is_empty() {
        return None;
    }
    let header: Vec<&str> = header.iter().map(String::as_str).collect();
    Some(format!(
        "{}\n{}",
        heading("Readings over time"),
        table(look, &header, rows)
    ))
}

fn reading_row(
    alternative: &AlternativeForecast,
    reading: &ReadingPrediction,
    all: &[&ReadingPrediction],
    times: &[usize],
    look: &Look,
) -> Vec<String> {
    let values = |reading: &&ReadingPrediction| {
        let ahead = reading.ahead.iter().filter_map(|ahead| ahead.value);
        let quantiles = reading.now.into_iter().chain(ahead);
        let quantiles = quantiles.flat_map(|q| [q.p05, q.p50, q.p95]);
        let quantiles = quantiles.chain(reading.limit).map(f64::abs);
        quantiles.fold(0.0, f64::max)
    };
    let largest = all.iter().map(values).fold(0.0, f64::max);
    // One unit: the table is wide enough without the other.
    let units = Shown::choose(&reading.unit, largest, look.system);
    let Some(unit) = units.first() else {
        return Vec::new();
    };
    let now = reading.now.unwrap_or_default();
    let mut cells = vec![
        reading.label.clone(),
        alternative.label.clone(),
        unit.spread(&now).median_first(),
    ];
    cells.extend(times.iter().map(|index| {
        let value = reading.ahead.get(*index).and_then(|ahead| ahead.value);
        value.map_or("-".into(), |value| unit.spread(&value).median_first())
    }));
    let limit = reading.limit;
    cells.push(limit.map_or("-".into(), |limit| {
        numbers::significant(unit.value(limit), 3)
    }));
    cells.push(unit.symbol().to_owned());
    cells
}

fn evidence(alternatives: &[AlternativeForecast], look: &Look) -> Option<String> {
    let mut lines: Vec<String> = Vec::new();
    for each in alternatives.iter().flat_map(|each| &each.evidence) {
        let grade = super::treatment::grade(each.grade());
        let line = item(
            look,
            &format!("{}: {grade}; {}", each.treatment, each.source),
        );
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    let text = lines.join("\n");
    (!lines.is_empty()).then(|| format!("{}\n{text}", heading("What the treatments rest on")))
}

/// Of the whole and of each alternative, each once.
fn all_notes(comparison: &Comparison) -> Vec<Finding> {
    let mut notes: Vec<Finding> = comparison.notes.clone();
    for alternative in &comparison.alternatives {
        for note in &alternative.notes {
            if !notes.contains(note) {
                notes.push(note.clone());
            }
        }
    }
    notes
}
