//! A finding at one part reaches the others of its batch, and nothing but a word does.

use super::{card, explain, input, line, look, looked, record, shop};
use crate::shop::{Shop, at, build, content};
use ringland_host::contract::Finding;
use ringland_ledger::{
    Change, ComponentInput, ComponentName, CrackResult, EndCause, Explanation, InspectionInput,
    LedgerError, Prediction, RecordInspectionResponse, RetireComponent,
};

fn is_of_batch(finding: &Finding) -> bool {
    finding.field.starts_with("batch")
}

/// A part of a batch that has run as the first one has.
fn of_batch(shop: &Shop, id: &str, component_type: &str, batch: &str) -> ComponentName {
    let input = ComponentInput {
        component_type: component_type.into(),
        batch: batch.into(),
        ..ComponentInput::default()
    };
    let name = shop.ledger.create_component(id, input, "").unwrap().name;
    shop.ledger
        .install_component(&name, &build("engine-a", "b1"), "", at(0.0), "")
        .unwrap();
    name
}

fn put_into(shop: &Shop, name: &ComponentName, batch: &str) -> Result<(), LedgerError> {
    let input = ComponentInput {
        batch: batch.into(),
        ..ComponentInput::default()
    };
    let mask = ["batch".into()];
    let updated = shop
        .ledger
        .update_component(name, input, &mask, "", None, "");
    updated.map(|_| ())
}

/// A part of batch b-7, another of it, and the wear of both.
fn two() -> (Shop, ComponentName, ComponentName, f64) {
    let (shop, name) = shop();
    put_into(&shop, &name, "b-7").unwrap();
    let mate = of_batch(&shop, "wp-2", "wear_part", "b-7");
    let wear = shop.wear(&name);
    (shop, name, mate, wear)
}

/// A reading as expected, then one that nobody can explain.
fn unexplained(shop: &Shop, name: &ComponentName, wear: f64) -> RecordInspectionResponse {
    record(shop, name, 3.0, vec![line(wear, 0.02 * wear)]);
    let far = record(shop, name, 4.0, vec![line(3.9 * wear, 0.02 * wear)]);
    let said = far.inspection.readings[0].explanation;
    assert_eq!(said, Explanation::Unexplained);
    far
}

fn words(prediction: &Prediction) -> Vec<&Finding> {
    prediction
        .notes
        .iter()
        .filter(|one| is_of_batch(one))
        .collect()
}

fn is_told(shop: &Shop, name: &ComponentName) -> bool {
    !words(&shop.predict(name).unwrap()).is_empty()
}

#[test]
fn an_unexplained_reading_reaches_its_batch_as_a_word_alone() {
    let (shop, name, mate, wear) = two();
    record(&shop, &name, 3.0, vec![line(wear, 0.02 * wear)]);
    let before = shop.predict(&mate).unwrap();
    assert!(words(&before).is_empty());
    let far = record(&shop, &name, 4.0, vec![line(3.9 * wear, 0.02 * wear)]);
    let answered = far.findings.iter().find(|one| is_of_batch(one)).unwrap();
    assert!(answered.value.contains("batch b-7"), "{answered:?}");
    assert!(answered.value.contains(&mate.to_string()), "{answered:?}");
    assert!(answered.remedy.contains("batch aside"), "{answered:?}");

    let told = shop.predict(&mate).unwrap();
    let [word] = words(&told)[..] else {
        panic!("{:?}", told.notes);
    };
    assert!(
        word.value.contains(&far.inspection.name.to_string()),
        "{word:?}"
    );
    assert!(word.remedy.contains("measure wear depth"), "{word:?}");
    // Nothing else is changed: the same lives, rates and advice.
    let without = |prediction: Prediction| {
        let mut prediction = content(prediction);
        prediction.notes.retain(|note| !is_of_batch(note));
        prediction
    };
    assert_eq!(without(told), without(before));
    assert!(!is_told(&shop, &name), "its own finding is no news to it");
}

#[test]
fn it_ends_when_it_is_explained_as_of_that_part() {
    let (shop, name, mate, wear) = two();
    let far = unexplained(&shop, &name, wear);
    assert!(is_told(&shop, &mate));
    shop.changes.lock().unwrap().clear();
    explain(&shop, &far.inspection.name, Explanation::AssemblyError);
    assert!(!is_told(&shop, &mate));
    let changes = shop.changes.lock().unwrap().clone();
    let told =
        |change: &Change| matches!(change, Change::Components(names) if names.contains(&mate));
    assert!(changes.iter().any(told), "{changes:?}");
}

#[test]
fn it_ends_for_the_part_that_was_measured_for_the_same_since() {
    let (shop, name, mate, wear) = two();
    let other = of_batch(&shop, "wp-3", "wear_part", "b-7");
    record(&shop, &mate, 2.5, vec![line(wear, 0.02 * wear)]);
    unexplained(&shop, &name, wear);
    assert!(is_told(&shop, &mate), "it was measured before, not since");
    let mut leak = line(0.05, 0.01);
    leak.reading = "leak_down_fraction".into();
    record(&shop, &mate, 5.0, vec![leak]);
    assert!(is_told(&shop, &mate), "another reading says nothing of it");
    record(&shop, &mate, 6.0, vec![line(1.01 * wear, 0.02 * wear)]);
    assert!(!is_told(&shop, &mate));
    assert!(is_told(&shop, &other));
}

#[test]
fn it_reaches_no_other_type_no_other_batch_and_nothing_retired() {
    let (shop, name, mate, wear) = two();
    let mut other = card();
    other.component_type = "other_part".into();
    shop.activate_card(other);
    let other_type = of_batch(&shop, "op-1", "other_part", "b-7");
    let other_batch = of_batch(&shop, "wp-3", "wear_part", "b-8");
    let without = of_batch(&shop, "wp-4", "wear_part", "");
    unexplained(&shop, &name, wear);
    assert!(is_told(&shop, &mate));
    for spared in [&other_type, &other_batch, &without] {
        assert!(!is_told(&shop, spared), "{spared}");
    }
    let retire = RetireComponent {
        component: mate.clone(),
        retire_time: at(6.0),
        cause: EndCause::ReplacedBefore,
        mechanism: String::new(),
        note: String::new(),
        retired_by: "builder".into(),
    };
    shop.ledger.retire_component(&retire, "").unwrap();
    assert!(!is_told(&shop, &mate));
}

#[test]
fn a_part_without_a_batch_has_none_to_tell() {
    let (shop, name) = shop();
    let mate = of_batch(&shop, "wp-2", "wear_part", "");
    let wear = shop.wear(&name);
    let far = unexplained(&shop, &name, wear);
    assert!(!far.findings.iter().any(is_of_batch));
    assert!(!is_told(&shop, &mate));
}

#[test]
fn what_was_found_stays_with_the_batch_when_its_part_is_retired_and_moves_with_the_batch() {
    let (shop, name, mate, wear) = two();
    unexplained(&shop, &name, wear);
    let retire = RetireComponent {
        component: name.clone(),
        retire_time: at(5.0),
        cause: EndCause::ReachedLimit,
        mechanism: String::new(),
        note: String::new(),
        retired_by: "builder".into(),
    };
    shop.ledger.retire_component(&retire, "").unwrap();
    assert!(is_told(&shop, &mate));
    let other = of_batch(&shop, "wp-3", "wear_part", "b-8");
    shop.changes.lock().unwrap().clear();
    put_into(&shop, &name, "b-8").unwrap();
    assert!(!is_told(&shop, &mate) && is_told(&shop, &other));
    let all = vec![name, mate, other];
    assert_eq!(*shop.changes.lock().unwrap(), [Change::Components(all)]);
}

#[test]
fn a_limit_passed_reaches_the_batch_unless_it_was_expected_or_is_of_that_part_alone() {
    let (shop, name, mate, _) = two();
    let past = record(&shop, &name, 3.0, vec![line(1.5, 0.01)]);
    assert!(past.findings.iter().any(is_of_batch));
    assert!(is_told(&shop, &mate));
    explain(&shop, &past.inspection.name, Explanation::Abuse);
    assert!(!is_told(&shop, &mate));
    assert!(!shop.predict(&name).unwrap().overruled_by.is_empty());

    let (shop, name, mate, _) = two();
    for hour in 1..8 {
        shop.run("engine-a", 1.0 + 2.0 * f64::from(hour), 500.0);
    }
    assert!(shop.wear(&name) > 1.0);
    record(&shop, &name, 17.0, vec![line(1.3, 0.01)]);
    assert!(!shop.predict(&name).unwrap().overruled_by.is_empty());
    assert!(!is_told(&shop, &mate), "worn out as expected");
}

#[test]
fn a_crack_reaches_the_batch_until_a_look_as_good_finds_none() {
    let (shop, name, mate, _) = two();
    let input = InspectionInput {
        crack_checks: vec![look(CrackResult::Indication, None)],
        ..input(at(3.0), Vec::new())
    };
    let found = shop.ledger.record_inspection(&name, input, "").unwrap();
    assert!(found.findings.iter().any(is_of_batch));
    assert!(is_told(&shop, &mate));
    looked(&shop, &mate, 4.0, look(CrackResult::Clean, Some(5e-3)));
    assert!(is_told(&shop, &mate), "by the naked eye");
    looked(&shop, &mate, 5.0, look(CrackResult::Clean, None));
    assert!(!is_told(&shop, &mate));
}
