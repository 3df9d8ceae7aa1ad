//! A prediction: what is left, what ends it, why, how sure, what to do next.

use super::{finding::findings, readings::readings};
use crate::{
    names, numbers,
    out::{Look, caution, heading},
    table::{item, pairs, table},
    times,
};
use ringland_proto::v1::{
    Action, Advice, Consequence, MechanismPrediction, Prediction, RemainingLife, Use,
};

/// How much is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// What is left, what ends it, why, how sure, what to do next.
    Brief,
    /// What a reader needs.
    Usual,
    /// Besides that: readings without a limit, what the model leaves out, condition, provenance.
    Full,
}

/// Mechanisms less likely than this to come first are not explained.
const WORTH_EXPLAINING: f64 = 0.1;
/// Causes shown for each mechanism.
const CAUSES: usize = 5;
/// 95 % quantile of a standard normal distribution.
const Z95: f64 = 1.644_853_626_951_472_7;

/// A prediction as text. Cautions are part of it, but for the brief form, whose caller shows those of all.
pub fn prediction(prediction: &Prediction, look: &Look, detail: Detail) -> String {
    if detail == Detail::Brief {
        let mut parts = vec![head(prediction, look)];
        parts.extend(why(prediction, look).into_iter().take(1));
        let limiting = prediction
            .mechanisms
            .iter()
            .filter(|mechanism| mechanism.mechanism == prediction.limiting_mechanism);
        parts.push(how_sure(limiting, look));
        return parts.join("\n");
    }
    let mut parts = vec![head(prediction, look), mechanisms(prediction, look)];
    parts.extend(why(prediction, look));
    parts.extend(readings(&prediction.readings, look, detail));
    parts.push(how_sure(prediction.mechanisms.iter(), look));
    if !prediction.notes.is_empty() {
        parts.push(format!(
            "{}\n{}",
            heading("Notes"),
            findings(&prediction.notes, look)
        ));
    }
    if detail == Detail::Full {
        parts.extend(list("The model leaves out", &prediction.leaves_out, look));
        parts.extend(provenance(prediction, look));
    }
    parts.push(cautions(&prediction.cautions, look));
    parts.join("\n")
}

/// Cautions, or a plain sentence when a model gives none.
pub fn cautions(cautions: &[String], look: &Look) -> String {
    let usual = "a prediction advises: limits of the part's maker, rules of the sanctioning body and \
                 findings at the part come first";
    let mut lines: Vec<&str> = cautions.iter().map(String::as_str).collect();
    if lines.is_empty() {
        lines.push(usual);
    }
    let lines = lines
        .into_iter()
        .map(|line| caution(&item(look, line)))
        .collect::<Vec<_>>();
    format!("{}\n{}", heading("Cautions"), lines.join("\n"))
}

fn head(prediction: &Prediction, look: &Look) -> String {
    let component = names::id(&prediction.component);
    let title = format!(
        "{component}  {}",
        prediction.component_type.replace('_', " ")
    );
    let place = if prediction.build.is_empty() {
        "not installed".to_owned()
    } else {
        names::short(&prediction.build)
    };
    let life = prediction.life.unwrap_or_default();
    let lines = [
        ("installed in", place),
        ("as of", times::show(prediction.as_of_time.as_ref())),
        ("use so far", usage(prediction.r#use.unwrap_or_default())),
        (
            "use to come",
            format!("events as in profile {}", names::id(&prediction.profile)),
        ),
        ("life left", life_text(&life)),
        ("ends by", limiting(prediction)),
        (
            "next event",
            format!(
                "{} risk that its life ends in it",
                numbers::percent(prediction.risk_next_event)
            ),
        ),
        ("do next", advice(prediction.advice.as_ref())),
    ];
    let found = prediction.overruled_by.iter();
    let found = found.map(|finding| ("found at it", finding.text.clone()));
    let lines: Vec<_> = lines.into_iter().chain(found).collect();
    format!("{}\n{}", heading(&title), pairs(look, &lines))
}

fn usage(used: Use) -> String {
    let mut text = format!(
        "{} logs, {} h, {} events",
        numbers::count(used.duty_records),
        numbers::significant(used.hours, 3),
        numbers::significant(used.events, 3)
    );
    if used.crank_revolutions > 0.0 {
        text += ", ";
        text += &numbers::significant(used.crank_revolutions / 1e6, 3);
        text += " M rev";
    }
    text
}

/// `9.3 events (5.1 to 17), 26 h (14 to 48), 9.4 M rev (5.2 to 17): median, 5 % to 95 %`
fn life_text(life: &RemainingLife) -> String {
    let measures: Vec<String> = life_rows(life)
        .into_iter()
        .map(|(unit, spread)| {
            let text = spread.median_first();
            match text.split_once(" (") {
                Some((median, rest)) => format!("{median} {unit} ({rest}"),
                None => format!("{text} {unit}"),
            }
        })
        .collect();
    format!("{}: P50 (P05 to P95)", measures.join(", "))
}

/// Life in events, hours and revolutions, where it has them.
fn life_rows(life: &RemainingLife) -> Vec<(&'static str, numbers::Spread)> {
    let at_horizon = numbers::at_horizon(life);
    let millions = life.crank_revolutions.map(|revolutions| {
        let [p05, p50, p95] =
            [revolutions.p05, revolutions.p50, revolutions.p95].map(|count| count / 1e6);
        ringland_proto::v1::Quantiles { p05, p50, p95 }
    });
    [
        ("events", life.events),
        ("h", life.hours),
        ("M rev", millions),
    ]
    .into_iter()
    .filter_map(|(unit, quantiles)| Some((unit, numbers::spread(&quantiles?, at_horizon))))
    .collect()
}

fn limiting(prediction: &Prediction) -> String {
    let found = prediction
        .mechanisms
        .iter()
        .find(|mechanism| mechanism.mechanism == prediction.limiting_mechanism);
    let Some(mechanism) = found else {
        return prediction.limiting_mechanism.clone();
    };
    format!(
        "{}, {} likely to come first; life ends when {}",
        mechanism.label,
        numbers::percent(prediction.limiting_probability),
        mechanism.life_ends_when
    )
}

/// What is advised, in a word.
pub fn action_word(advice: &Advice) -> &'static str {
    match advice.action() {
        Action::Unspecified => "",
        Action::Run => "RUN ON",
        Action::Measure => "MEASURE",
        Action::Replace => "REPLACE",
        Action::Stop => "DO NOT RUN",
    }
}

fn advice(advice: Option<&Advice>) -> String {
    let Some(advice) = advice else {
        return "no advice".into();
    };
    let mut text = action_word(advice).to_owned();
    if matches!(advice.action(), Action::Measure | Action::Replace) && advice.within_events > 0.0 {
        text += " within ";
        text += &numbers::significant(advice.within_events, 2);
        text += " events";
    }
    format!("{text}: {}", advice.text)
}

fn consequence(mechanism: &MechanismPrediction) -> &'static str {
    match mechanism.consequence() {
        Consequence::Unspecified => "",
        Consequence::Nuisance => "nuisance",
        Consequence::PowerLoss => "power loss",
        Consequence::UnitLoss => "loss of the unit",
        Consequence::Hazard => "HAZARD",
    }
}

fn mechanisms(prediction: &Prediction, look: &Look) -> String {
    let rows = prediction.mechanisms.iter().map(|mechanism| {
        let life = life_rows(&mechanism.life.unwrap_or_default());
        let column = |cell: &dyn Fn(&(&str, numbers::Spread)) -> String| {
            life.iter().map(cell).collect::<Vec<_>>().join("\n")
        };
        vec![
            mechanism.label.clone(),
            consequence(mechanism).to_owned(),
            column(&|(_, spread)| spread.p05.clone()),
            column(&|(_, spread)| spread.p50.clone()),
            column(&|(_, spread)| spread.p95.clone()),
            column(&|(unit, _)| (*unit).to_owned()),
            numbers::percent(mechanism.first_probability),
            numbers::percent(mechanism.risk_next_event),
        ]
    });
    let header = [
        "mechanism",
        "means",
        ">P05",
        ">P50",
        ">P95",
        "left",
        ">comes first",
        ">next event",
    ];
    format!(
        "{}\n{}",
        heading("Life left by mechanism"),
        table(look, &header, rows.collect())
    )
}

fn why(prediction: &Prediction, look: &Look) -> Vec<String> {
    let explained = prediction.mechanisms.iter().filter(|mechanism| {
        mechanism.mechanism == prediction.limiting_mechanism
            || mechanism.first_probability >= WORTH_EXPLAINING
    });
    let explained = explained.filter(|mechanism| !mechanism.drivers.is_empty());
    explained
        .map(|mechanism| {
            let causes = mechanism.drivers.iter().take(CAUSES).map(|driver| {
                let time = driver
                    .time_share
                    .map(|share| format!(", {} of the time", numbers::percent(share)));
                let share = numbers::percent(driver.share);
                item(
                    look,
                    &format!("{share:>5}  {}{}", driver.label, time.unwrap_or_default()),
                )
            });
            let title = heading(&format!(
                "Why: {} in the next event comes from",
                mechanism.label
            ));
            format!("{title}\n{}", causes.collect::<Vec<_>>().join("\n"))
        })
        .collect()
}

fn how_sure<'a>(mechanisms: impl Iterator<Item = &'a MechanismPrediction>, look: &Look) -> String {
    let lines = mechanisms.filter_map(|mechanism| {
        let rate = mechanism.rate.as_ref()?;
        let width = (Z95 * rate.ln_sd).exp();
        let (low, high) = (rate.median / width, rate.median * width);
        let mut text = format!(
            "{}: rate {} times the model's ({} to {}); {}",
            mechanism.label,
            numbers::significant(rate.median, 2),
            numbers::significant(low, 2),
            numbers::significant(high, 2),
            rate.evidence
        );
        if !rate.unproven.is_empty() {
            text += "; ";
            text += &rate.unproven;
        }
        Some(item(look, &text))
    });
    format!(
        "{}\n{}",
        heading("How sure"),
        lines.collect::<Vec<_>>().join("\n")
    )
}

fn list(title: &str, lines: &[String], look: &Look) -> Option<String> {
    if lines.is_empty() {
        return None;
    }
    let lines = lines
        .iter()
        .map(|line| item(look, line))
        .collect::<Vec<_>>();
    Some(format!("{}\n{}", heading(title), lines.join("\n")))
}

fn provenance(prediction: &Prediction, look: &Look) -> Option<String> {
    let from = prediction.provenance.as_ref()?;
    let lines = [
        ("prediction", prediction.name.clone()),
        (
            "model",
            format!(
                "version {}, sha256 {}",
                from.model_version, from.model_digest
            ),
        ),
        ("specimen", from.specimen_digest.clone()),
        ("duty", from.duty_digest.clone()),
        ("profile", from.profile_digest.clone()),
        ("last record", names::short(&from.last_duty_record)),
        (
            "draws",
            format!("{} lives a mechanism, seed {}", from.samples, from.seed),
        ),
    ];
    let mut slots: Vec<_> = from.condition.iter().collect();
    slots.sort_by(|one, other| one.0.cmp(other.0));
    let rows = slots
        .into_iter()
        .map(|(name, value)| vec![name.clone(), numbers::significant(*value, 4)]);
    let condition = table(look, &["condition (SI)", ">value"], rows.collect());
    Some(format!(
        "{}\n{}\n{condition}",
        heading("Provenance"),
        pairs(look, &lines)
    ))
}
