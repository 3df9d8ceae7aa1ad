//! What is too unlikely to be use alone.

use super::{input, line, look, record, shop};
use crate::shop::at;
use ringland_host::contract::Finding;
use ringland_ledger::{CrackResult, InspectionInput};

fn is_unlikely(finding: &Finding) -> bool {
    finding.remedy.contains("use alone explains this with")
}

#[test]
fn a_limit_passed_long_before_its_time_asks_for_another_cause() {
    let (shop, name) = shop();
    // After one hour a seventh of the life is used: rates spread by 0.45 do not make the rest of it, four standard deviations off.
    let found = record(&shop, &name, 3.0, vec![line(1.5, 0.01)]);
    let said = found.findings.iter().find(|one| is_unlikely(one)).unwrap();
    assert!(said.field.ends_with("/wear"), "{said:?}");
    for word in ["less than 0.001 %", "oil", "pattern", "everything but wear"] {
        assert!(said.remedy.contains(word), "{word}: {said:?}");
    }
    let predicted = shop.predict(&name).unwrap();
    assert!(predicted.notes.contains(said), "{:?}", predicted.notes);
    // It stands as long as the finding does.
    shop.ledger
        .record_rework(&name, "reface", at(4.0), "", "")
        .unwrap();
    assert!(!shop.predict(&name).unwrap().notes.iter().any(is_unlikely));
}

#[test]
fn a_limit_passed_in_its_time_is_use() {
    let (shop, name) = shop();
    for hour in 1..6 {
        shop.run("engine-a", 1.0 + 2.0 * f64::from(hour), 500.0);
    }
    let wear = shop.wear(&name);
    assert!(wear > 0.8 && wear < 1.0, "{wear}");
    let found = record(&shop, &name, 13.0, vec![line(1.03, 0.01)]);
    assert!(!shop.predict(&name).unwrap().overruled_by.is_empty());
    assert!(
        !found.findings.iter().any(is_unlikely),
        "{:?}",
        found.findings
    );
    assert!(!shop.predict(&name).unwrap().notes.iter().any(is_unlikely));
}

#[test]
fn a_crack_that_no_use_made_asks_for_another_cause_and_a_clean_look_does_not() {
    let (shop, name) = shop();
    let looked = |hours: f64, result: CrackResult| {
        let input = InspectionInput {
            crack_checks: vec![look(result, None)],
            ..input(at(hours), Vec::new())
        };
        shop.ledger.record_inspection(&name, input, "").unwrap()
    };
    let clean = looked(3.0, CrackResult::Clean);
    assert!(!clean.findings.iter().any(is_unlikely));
    // Of the mechanisms without a reading: heat, of which there was a millionth of what it takes.
    let found = looked(4.0, CrackResult::Indication);
    let said = found.findings.iter().find(|one| is_unlikely(one)).unwrap();
    assert!(said.field.ends_with("/heat"), "{said:?}");
    assert!(shop.predict(&name).unwrap().notes.contains(said));
}
