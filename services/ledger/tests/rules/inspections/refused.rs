//! What is refused, and what is kept but said to be doubtful.

use super::{input, line, look, record, shop};
use crate::shop::{at, page, part};
use ringland_host::contract::Severity;
use ringland_ledger::{
    CrackCheck, CrackResult, ErrorKind, Explanation, LedgerError, MeasuredReading, ThermalState,
};

fn refusals(error: &LedgerError) -> Vec<String> {
    error.violations().iter().map(ToString::to_string).collect()
}

#[test]
fn everything_wrong_is_refused_at_once_and_nothing_is_kept() {
    let (shop, name) = shop();
    let mut lines = vec![line(0.1, 0.01), line(0.1, 0.01), line(f64::NAN, -1.0)];
    lines[2].position = "3".into();
    lines.push(MeasuredReading {
        reading: "iron_ppm".into(),
        ..line(1.0, 1.0)
    });
    let mut wrong = input(at(-5.0), lines);
    wrong.crack_checks = vec![CrackCheck {
        mechanisms: vec!["rust".into()],
        indication_length_m: Some(1e-3),
        ..look(CrackResult::Clean, None)
    }];
    let error = shop
        .ledger
        .record_inspection(&name, wrong.clone(), "")
        .unwrap_err();
    let refused = refusals(&error);
    for words in [
        "again",
        "finite",
        "instrument_sd",
        "oil sample",
        "first installed",
        "rust",
        "no indication",
    ] {
        assert!(
            refused.iter().any(|text| text.contains(words)),
            "{words}: {refused:#?}"
        );
    }
    let checked = shop.ledger.check_inspection(&name, wrong).unwrap();
    let errors = checked
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Error);
    assert_eq!(errors.count(), refused.len());
    assert!(
        shop.ledger
            .list_inspections(&name, &page(0, ""))
            .unwrap()
            .items
            .is_empty()
    );
    let nothing = shop
        .ledger
        .record_inspection(&name, input(at(3.0), Vec::new()), "");
    assert_eq!(nothing.unwrap_err().kind(), ErrorKind::InvalidArgument);
    let unknown = shop
        .ledger
        .record_inspection(&part("nobody"), input(at(3.0), Vec::new()), "");
    assert_eq!(unknown.unwrap_err().kind(), ErrorKind::NotFound);
    let future = shop
        .ledger
        .record_inspection(&name, input(at(1e6), vec![line(0.1, 0.01)]), "");
    assert!(refusals(&future.unwrap_err())[0].contains("future"));
}

#[test]
fn a_slip_of_units_is_named() {
    let (shop, name) = shop();
    let wear = shop.wear(&name);
    for (factor, words) in [
        (25.4, "inches"),
        (1000.0, "millimetres"),
        (1e-3, "thousand times too small"),
    ] {
        let input = input(at(3.0), vec![line(factor * wear, 0.01 * wear)]);
        let error = shop.ledger.record_inspection(&name, input, "").unwrap_err();
        assert!(refusals(&error)[0].contains(words), "{factor}: {error}");
    }
    let twice = shop
        .ledger
        .check_inspection(&name, input(at(3.0), vec![line(2.0 * wear, 0.01 * wear)]));
    let findings = twice.unwrap().findings;
    let said = findings
        .iter()
        .find(|f| f.remedy.contains("diametral"))
        .unwrap();
    assert_eq!(said.severity, Severity::Warning, "it may be true");
    // A ruined part may read anything: it is taken when it is said to be one.
    let ruined = MeasuredReading {
        explanation: Explanation::Abuse,
        ..line(25.4 * wear, 0.01 * wear)
    };
    record(&shop, &name, 2.5, vec![ruined]);
    assert_eq!(
        shop.predict(&name).unwrap().overruled_by.len(),
        1,
        "and past its limit"
    );
}

#[test]
fn what_is_doubtful_is_kept_and_said() {
    let (shop, name) = shop();
    let wear = shop.wear(&name);
    let first = record(&shop, &name, 3.0, vec![line(1.1 * wear, 0.05 * wear)]);
    assert!(first.findings.is_empty(), "{:?}", first.findings);
    let copied = record(&shop, &name, 4.0, vec![line(1.1 * wear, 0.05 * wear)]);
    assert!(copied.findings.iter().any(|f| f.remedy.contains("copied")));
    let nobodys = MeasuredReading {
        instrument_id: String::new(),
        instrument_sd: None,
        ..line(1.05 * wear, 0.0)
    };
    let nobodys = record(&shop, &name, 5.0, vec![nobodys]);
    let fields: Vec<_> = nobodys.findings.iter().map(|f| f.field.as_str()).collect();
    assert!(
        fields.iter().any(|f| f.ends_with("instrument_id")),
        "{fields:?}"
    );
    assert!(
        fields.iter().any(|f| f.ends_with("instrument_sd")),
        "{fields:?}"
    );
    // Growth of a part of the instrument's error.
    let coarse = record(&shop, &name, 6.0, vec![line(1.5 * wear, 2.0 * wear)]);
    assert!(coarse.comparisons[0].weight.unwrap() < 0.2);
    assert!(
        coarse
            .findings
            .iter()
            .any(|f| f.remedy.contains("moves little")),
        "{:?}",
        coarse.findings
    );
    // Better than new by five standard deviations.
    let negative = record(&shop, &name, 7.0, vec![line(-5.0 * 0.02, 0.02)]);
    assert!(
        !negative.comparisons[0].learnt,
        "{:?}",
        negative.comparisons
    );
    assert!(negative.comparisons[0].text.contains("measure again"));
}

#[test]
fn leak_down_counts_hot_only() {
    let (shop, name) = shop();
    let leak = |value: f64, state: ThermalState| MeasuredReading {
        reading: "leak_down_fraction".into(),
        thermal_state: state,
        ..line(value, 0.01)
    };
    let cold = record(&shop, &name, 3.0, vec![leak(0.11, ThermalState::Cold)]);
    assert!(!cold.comparisons[0].learnt);
    assert!(
        cold.findings
            .iter()
            .any(|f| f.remedy.contains("repeat it hot"))
    );
    let unsaid = record(
        &shop,
        &name,
        4.0,
        vec![leak(0.11, ThermalState::Unspecified)],
    );
    assert!(
        unsaid.comparisons[0].text.contains("repeat it hot"),
        "{:?}",
        unsaid.comparisons
    );
    let rate = &shop.predict(&name).unwrap().mechanisms[1].rate;
    assert!((rate.median - 1.0).abs() < 1e-12);
}
