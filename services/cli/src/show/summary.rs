//! Several predictions in one table, worst first.

use super::{
    finding::findings,
    prediction::{action_word, cautions},
};
use crate::{names, numbers, out::Look, table::table};
use ringland_proto::v1::{Finding, Prediction, Quantiles};

/// By what is advised, strictest first, then by risk over the next event, then by the low end of life left.
pub fn worst_first(mut predictions: Vec<Prediction>) -> Vec<Prediction> {
    let advised = |each: &Prediction| each.advice.as_ref().map_or(0, |advice| advice.action);
    predictions.sort_by(|one, other| {
        let action = advised(other).cmp(&advised(one));
        action
            .then(other.risk_next_event.total_cmp(&one.risk_next_event))
            .then(events(one).p05.total_cmp(&events(other).p05))
            .then(one.component.cmp(&other.component))
    });
    predictions
}

/// One line a prediction. The caller shows [`all_cautions`] with it.
pub fn summary(predictions: &[Prediction], look: &Look) -> String {
    let rows = predictions.iter().map(row).collect();
    let header = [
        "component",
        "in",
        ">events left, P50 (P05 to P95)",
        "ends by",
        ">next event",
        "do next",
    ];
    table(look, &header, rows)
}

/// What was found at other parts of a batch, by the component that it is said to, as text; none where nothing was.
pub fn of_batches(predictions: &[Prediction], look: &Look) -> Option<String> {
    let said = batch_words(predictions);
    (!said.is_empty()).then(|| findings(&said, look))
}

/// What was found at other parts of a batch; each names the component that it is said to.
pub fn batch_words(predictions: &[Prediction]) -> Vec<Finding> {
    let said = predictions.iter().flat_map(|each| {
        let of_batch = each
            .notes
            .iter()
            .filter(|note| note.field.starts_with("batch"));
        of_batch.map(|note| Finding {
            field: names::id(&each.component).to_owned(),
            ..note.clone()
        })
    });
    said.collect()
}

/// The cautions of several predictions, each once.
pub fn all_cautions(predictions: &[Prediction], look: &Look) -> String {
    let mut all: Vec<String> = Vec::new();
    for line in predictions.iter().flat_map(|each| &each.cautions) {
        if !all.contains(line) {
            all.push(line.clone());
        }
    }
    cautions(&all, look)
}

fn row(prediction: &Prediction) -> Vec<String> {
    let limiting = prediction
        .mechanisms
        .iter()
        .find(|mechanism| mechanism.mechanism == prediction.limiting_mechanism)
        .map_or_else(
            || prediction.limiting_mechanism.clone(),
            |mechanism| mechanism.label.clone(),
        );
    let place = match names::short(&prediction.build) {
        place if place.is_empty() => "-".to_owned(),
        place => place,
    };
    vec![
        names::id(&prediction.component).to_owned(),
        place,
        life_in_events(prediction),
        format!(
            "{limiting} ({})",
            numbers::percent(prediction.limiting_probability)
        ),
        numbers::percent(prediction.risk_next_event),
        prediction
            .advice
            .as_ref()
            .map_or("", action_word)
            .to_owned(),
    ]
}

/// `9.3 (5.1 to 17)`
pub fn life_in_events(prediction: &Prediction) -> String {
    let life = prediction.life.unwrap_or_default();
    numbers::spread(&events(prediction), numbers::at_horizon(&life)).median_first()
}

fn events(prediction: &Prediction) -> Quantiles {
    prediction
        .life
        .and_then(|life| life.events)
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_proto::v1::{Action, Advice};

    #[test]
    fn a_word_of_the_batch_is_said_with_its_component_and_other_notes_are_not() {
        let note = |field: &str| Finding {
            field: field.into(),
            value: "batch b-7".into(),
            ..Default::default()
        };
        let mut told = Prediction {
            component: "components/rod-bolt-s-1".into(),
            notes: vec![note("duty.oil_temp_k")],
            ..Default::default()
        };
        let look = Look {
            system: crate::measures::System::Si,
            width: 120,
        };
        assert_eq!(of_batches(std::slice::from_ref(&told), &look), None);
        told.notes.push(note("batch.permanent_stretch_m"));
        let text = of_batches(&[told], &look).unwrap();
        assert!(text.contains("rod-bolt-s-1: batch b-7"), "{text}");
        assert!(!text.contains("oil_temp"), "{text}");
    }

    #[test]
    fn what_must_not_run_stands_before_what_is_only_risky() {
        let part = |component: &str, action: Action, risk_next_event: f64| Prediction {
            component: component.into(),
            advice: Some(Advice {
                action: action.into(),
                ..Default::default()
            }),
            risk_next_event,
            ..Default::default()
        };
        let sorted = worst_first(vec![
            part("calm", Action::Run, 0.01),
            part("risky", Action::Measure, 0.2),
            part("over-revved", Action::Replace, 0.0),
            part("livelier", Action::Run, 0.02),
        ]);
        let names: Vec<&str> = sorted.iter().map(|each| each.component.as_str()).collect();
        assert_eq!(names, ["over-revved", "risky", "livelier", "calm"]);
    }
}
