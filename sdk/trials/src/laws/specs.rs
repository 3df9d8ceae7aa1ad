//! Laws of `check` and of reading a spec.

use ringland_plugin::{Finding, Model, NumberField, Severity, Specimen, default_specimen};

use crate::{fields, value, with};

/// Nothing is wrong with a specimen: no error and no warning.
#[track_caller]
pub fn nothing_is_wrong<M: Model>(specimen: &Specimen) {
    assert_eq!(M::check(specimen.clone()), vec![], "nothing is wrong");
}

/// The findings on a specimen are about exactly these fields, in this order, and each says what was expected and what to do; where one is an error, `prepare` refuses
/// the specimen too. Returns them.
#[track_caller]
pub fn findings_are<M: Model>(specimen: &Specimen, expected: &[&str]) -> Vec<Finding> {
    let findings = M::check(specimen.clone());
    assert_eq!(fields(&findings), expected, "findings");
    let told = |text: &str| !text.trim().is_empty();
    for finding in &findings {
        let whole = told(&finding.value) && told(&finding.expected) && told(&finding.remedy);
        assert!(whole, "a finding that does not say enough: {finding:?}");
    }
    let refused = findings
        .iter()
        .any(|finding| finding.severity == Severity::Error);
    assert!(
        !refused || M::prepare(specimen.clone()).is_err(),
        "prepare took a spec with errors in {expected:?}"
    );
    findings
}

/// Each number of the card and each property of its surfaces is refused by its name when it is no number, too low or too high: alone as the one finding, all together at
/// once.
#[track_caller]
pub fn bad_numbers_are_all_named<M: Model>() {
    let default = default_specimen(&M::card());
    let named = numbers_and_properties::<M>();
    let names: Vec<&str> = named.iter().map(|(name, _)| name.as_str()).collect();
    let margin = |field: &NumberField| 1.0 + field.minimum.abs() + field.maximum.abs();
    let ways: [&dyn Fn(&NumberField) -> f64; 3] = [
        &|_| f64::NAN,
        &|field| field.minimum - margin(field),
        &|field| field.maximum + margin(field),
    ];
    for way in ways {
        let mut all = default.clone();
        for (name, field) in &named {
            findings_are::<M>(&with::<M>(&default, name, way(field)), &[name]);
            all = with::<M>(&all, name, way(field));
        }
        findings_are::<M>(&all, &names);
    }
}

/// Where a number of the card is read to.
pub type Read<S> = fn(&S) -> f64;

/// The positional reading of a spec follows the card: each named number (or `surface.property`) changed by a hundredth arrives, alone, in its field. `read` is the
/// plugin's own reading of a specimen, each entry gives a name and where it is read to. Which numbers the card has is the plugin's to pin.
#[track_caller]
pub fn numbers_are_read_in_order<M: Model, S>(
    read: impl Fn(&Specimen) -> S,
    entries: &[(&str, Read<S>)],
) {
    let default = default_specimen(&M::card());
    let named = numbers_and_properties::<M>();
    let before: Vec<f64> = entries.iter().map(|(_, of)| of(&read(&default))).collect();
    for (changed, (name, _)) in entries.iter().enumerate() {
        let field = named.iter().find(|(known, _)| known == name);
        let (_, field) = field.unwrap_or_else(|| panic!("the card has no {name}"));
        let usual = value::<M>(&default, name);
        let step = if usual == 0.0 { field.maximum } else { usual };
        let marked = usual + 0.01 * step;
        let spec = read(&with::<M>(&default, name, marked));
        for (index, (other, of)) in entries.iter().enumerate() {
            let expected = if index == changed {
                marked
            } else {
                before[index]
            };
            let found = of(&spec);
            assert!(
                (found - expected).abs() <= 1e-12 * expected.abs(),
                "{name} set to {marked}: {other} is read as {found}, expected {expected}"
            );
        }
    }
}

/// Every number of the card, then every property of its surfaces as `surface.property`.
fn numbers_and_properties<M: Model>() -> Vec<(String, NumberField)> {
    let card = M::card();
    let mut named: Vec<(String, NumberField)> = card
        .numbers
        .into_iter()
        .map(|field| (field.name.clone(), field))
        .collect();
    for surface in card.surfaces {
        for field in surface.properties {
            named.push((format!("{}.{}", surface.name, field.name), field));
        }
    }
    named
}
