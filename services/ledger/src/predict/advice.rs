//! What to do next. It never replaces a look at the part: a crack that is found or a limit that
//! is measured comes before anything computed here.
//!
//! The rules, of which the strictest that applies is given:
//! 1. A reading is past its limit with more than 50 %: stop where its mechanism costs the unit or can
//!    hurt people, replace otherwise.
//! 2. The risk of a mechanism within the next event is 50 % or more: stop where it can hurt people,
//!    replace otherwise.
//! 3. That risk is at or over the cap for what the end would cost ([`RiskCaps`]): measure, if the
//!    mechanism has a reading, else replace.
//! 4. It comes to the 5 % quantile of its life within the next event: measure, if it has a reading.
//! 5. Otherwise run, for as many events as take a mechanism to the 5 % quantile of its life or, at the
//!    risk of the next event, to its cap, whichever comes first. Wear makes later events riskier than
//!    the next, so the second number is an upper bound; predictions after each event bring it down.

use crate::{Action, Advice, MechanismPrediction, ReadingPrediction, RiskCaps, limits::PAST};
use ringland_host::contract::{Card, Consequence, Mechanism, ReadingField};

const RISK_OF_SURE_END: f64 = 0.5;

/// The strictest advice that applies; of two alike, the one for sooner.
pub(crate) fn advise(
    card: &Card,
    mechanisms: &[MechanismPrediction],
    readings: &[ReadingPrediction],
    caps: &RiskCaps,
) -> Advice {
    let of_readings = readings
        .iter()
        .filter_map(|reading| of_reading(card, reading));
    let pairs = card.mechanisms.iter().zip(mechanisms);
    let of_mechanisms = pairs.map(|(on_card, predicted)| {
        let of = |reading: &&ReadingField| Some(&reading.name) == on_card.reading.as_ref();
        let measured = card.readings.iter().find(of);
        of_mechanism(on_card, predicted, measured, caps)
    });
    let stricter = |best: Advice, next: Advice| {
        let sooner = next.action == best.action && next.within_events < best.within_events;
        if next.action > best.action || sooner {
            next
        } else {
            best
        }
    };
    of_readings
        .chain(of_mechanisms)
        .reduce(stricter)
        .unwrap_or_else(|| Advice {
            action: Action::Run,
            within_events: 0.0,
            reading: String::new(),
            text: "The model of this type predicts no mechanism: judge it by inspection.".into(),
        })
}

fn of_reading(card: &Card, reading: &ReadingPrediction) -> Option<Advice> {
    let (limit, probability) = reading.limit.zip(reading.probability_past_limit)?;
    if probability <= PAST {
        return None;
    }
    let name = Some(&reading.reading);
    let ends = card
        .mechanisms
        .iter()
        .filter(|m| m.reading.as_ref() == name);
    let worst = ends
        .map(|m| m.consequence)
        .max()
        .unwrap_or(Consequence::Nuisance);
    let (action, words) = match worst {
        Consequence::Hazard | Consequence::UnitLoss => (
            Action::Stop,
            "do not run before it has been measured or replaced",
        ),
        Consequence::PowerLoss | Consequence::Nuisance => (Action::Replace, "replace it"),
    };
    let text = format!(
        "{} is {} {} by prediction and past its limit of {} {} with {}: {words}.",
        reading.label,
        figure(reading.now.p50),
        reading.unit,
        figure(limit),
        reading.unit,
        percent(probability),
    );
    Some(Advice {
        action,
        within_events: 0.0,
        reading: reading.reading.clone(),
        text,
    })
}

fn of_mechanism(
    on_card: &Mechanism,
    predicted: &MechanismPrediction,
    measured: Option<&ReadingField>,
    caps: &RiskCaps,
) -> Advice {
    let risk = predicted.risk_next_event;
    let cap = match predicted.consequence {
        Consequence::Nuisance => caps.nuisance,
        Consequence::PowerLoss => caps.power_loss,
        Consequence::UnitLoss => caps.unit_loss,
        Consequence::Hazard => caps.hazard,
    };
    let reading = on_card.reading.clone().unwrap_or_default();
    let measure = measured.map_or("", |reading| reading.label.as_str());
    let (label, shown) = (&predicted.label, percent(risk));
    let costs = match predicted.consequence {
        Consequence::Nuisance => "a nuisance",
        Consequence::PowerLoss => "power",
        Consequence::UnitLoss => "the unit",
        Consequence::Hazard => "more than the part: people can be hurt",
    };
    let over = format!(
        "{label} ends the life within the next event with {shown}, over the cap of {}, and costs {costs}",
        percent(cap)
    );
    let (action, within_events, text) = if risk >= RISK_OF_SURE_END {
        let sure = format!("{label} ends the life within the next event with {shown}");
        match predicted.consequence {
            Consequence::Hazard => (
                Action::Stop,
                0.0,
                format!("{sure}, and people can be hurt: do not run."),
            ),
            _ => (Action::Replace, 0.0, format!("{sure}: replace it.")),
        }
    } else if risk >= cap && on_card.reading.is_some() {
        (
            Action::Measure,
            0.0,
            format!("{over}: measure the {measure} before running on."),
        )
    } else if risk >= cap {
        (
            Action::Replace,
            0.0,
            format!("{over}, and nothing measurable tells more: replace it."),
        )
    } else {
        let to_cap = events_to_cap(risk, cap);
        let p05 = predicted.life.events.p05;
        let reason = if to_cap < p05 {
            format!("the risk of {label} reaches its cap of {}", percent(cap))
        } else {
            format!("{label} comes to the 5 % quantile of its life")
        };
        let within = p05.min(to_cap);
        if p05 < 1.0 && on_card.reading.is_some() {
            let text = format!(
                "{label} comes to the 5 % quantile of its life {} events from now, within the next event \
                 (risk {shown}): measure the {measure} before it.",
                figure(p05)
            );
            (Action::Measure, 0.0, text)
        } else {
            (
                Action::Run,
                within,
                format!("Run for up to {} events: then {reason}.", figure(within)),
            )
        }
    };
    Advice {
        action,
        within_events,
        reading,
        text,
    }
}

/// Events of the same risk until one of them has ended the life with the probability `cap`.
fn events_to_cap(risk: f64, cap: f64) -> f64 {
    if risk <= 0.0 {
        return f64::INFINITY;
    }
    libm::log1p(-cap) / libm::log1p(-risk)
}

fn percent(probability: f64) -> String {
    format!("{} %", figure(probability * 100.0))
}

/// Three figures.
pub(crate) fn figure(value: f64) -> String {
    let size = value.abs();
    if size == 0.0 {
        "0".into()
    } else if (1e-3..1e5).contains(&size) {
        let digits = (2 - libm::floor(libm::log10(size)) as i32).clamp(0, 5) as usize;
        format!("{value:.digits$}")
    } else {
        format!("{value:.2e}")
    }
}

#[cfg(test)]
mod tests;
