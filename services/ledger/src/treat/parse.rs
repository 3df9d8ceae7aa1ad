//! A catalogue from TOML: every finding at once, and never a panic.

use super::{check, reader::Entry, stress};
use crate::{
    Effect, FieldViolation, Forbidden, Grade, LedgerError, NotModelled, Operation, OrderConflict,
    PropertyChange, ResidualStressProfile, Stage, Stock, Treatment, violations::Violations,
};
use std::collections::{BTreeMap, BTreeSet};
use toml::Table;

/// Largest catalogue text \[bytes\].
pub(super) const LARGEST_TEXT: usize = 512 << 10;

/// Keys of an effect that are no properties.
const EFFECT_KEYS: [&str; 4] = ["component_types", "surfaces", "note", "residual_stress"];
const OPERATIONS: [(&str, Operation); 4] = [
    ("set", Operation::Set),
    ("multiply", Operation::Multiply),
    ("at_most", Operation::AtMost),
    ("at_least", Operation::AtLeast),
];

/// A catalogue as it is written.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Parsed {
    /// Its version; empty when it says none.
    pub(super) version: String,
    /// In the order in which they are written.
    pub(super) treatments: Vec<Treatment>,
}

/// Reads a catalogue.
///
/// # Errors
/// [`LedgerError::InvalidArgument`] with everything that is wrong.
pub(super) fn parse(text: &str) -> Result<Parsed, LedgerError> {
    let refuse = |value: String, expected: &str, remedy: &str| {
        LedgerError::invalid(FieldViolation::new("text", &value, expected, remedy))
    };
    if text.len() > LARGEST_TEXT {
        let expected = format!("at most {LARGEST_TEXT} bytes");
        let value = format!("{} bytes", text.len());
        return Err(refuse(value, &expected, "leave something out"));
    }
    let read: Result<Table, toml::de::Error> = text.parse();
    let table = read.map_err(|error| refuse(error.to_string(), "TOML", "correct what it says"))?;
    let mut found = Violations::default();
    let whole = Entry {
        place: String::new(),
        table: &table,
    };
    whole.only(&mut found, &["version", "treatments"]);
    let version = whole.text(&mut found, "version");
    let entries = whole.entries(&mut found, "treatments");
    if entries.is_empty() {
        let remedy = "write a treatment as [[treatments]]";
        whole.refuse(&mut found, "treatments", "none", "at least one", remedy);
    }
    let read: Vec<Treatment> = entries
        .into_iter()
        .map(|entry| treatment(&mut found, entry))
        .collect();
    let mut seen = BTreeSet::new();
    for treatment in &read {
        check::treatment(&mut found, treatment);
        if !seen.insert(&treatment.id) {
            let expected = "each id once";
            found.add("treatments", &treatment.id, expected, "rename one");
        }
    }
    found.into_result()?;
    Ok(Parsed {
        version,
        treatments: read,
    })
}

fn treatment(found: &mut Violations, mut entry: Entry<'_>) -> Treatment {
    let id = entry.required_text(found, "id");
    if crate::is_id(&id) {
        entry.place = format!("treatments[{id}]");
    } else if !id.is_empty() {
        entry.refuse(found, "id", format!("{id:?}"), crate::ID_FORM, "rename it");
    }
    entry.only(
        found,
        &[
            "id",
            "label",
            "description",
            "grade",
            "source",
            "references",
            "stage",
            "not_after",
            "stock",
            "price",
            "lead_days",
            "cautions",
            "forbidden",
            "effects",
            "not_modelled",
            "supersedes",
        ],
    );
    let grades = Grade::ALL.map(|grade| (grade.word(), grade));
    let stages = Stage::ALL.map(|stage| (stage.word(), stage));
    let each = |found: &mut Violations, key| entry.entries(found, key);
    Treatment {
        label: entry.required_text(found, "label"),
        description: entry.required_text(found, "description"),
        grade: word(found, &entry, "grade", &grades).unwrap_or(Grade::Weak),
        source: entry.text(found, "source"),
        references: entry.texts(found, "references"),
        stage: word(found, &entry, "stage", &stages).unwrap_or(Stage::Machine),
        not_after: map(each(found, "not_after"), |row| conflict(found, row)),
        stock: map(each(found, "stock"), |row| stock(found, row)),
        price: entry.number_in(found, "price", (0.0, 1e9)),
        lead_days: entry.number_in(found, "lead_days", (0.0, 1000.0)),
        cautions: entry.texts(found, "cautions"),
        forbidden: map(each(found, "forbidden"), |row| forbidden(found, row)),
        effects: map(each(found, "effects"), |row| effect(found, row)),
        not_modelled: map(each(found, "not_modelled"), |row| not_modelled(found, row)),
        supersedes: entry.text(found, "supersedes"),
        id,
    }
}

fn map<T>(entries: Vec<Entry<'_>>, of: impl FnMut(&Entry<'_>) -> T) -> Vec<T> {
    let mut of = of;
    entries.iter().map(&mut of).collect()
}

/// One of several words.
fn word<T: Copy>(
    found: &mut Violations,
    entry: &Entry<'_>,
    key: &str,
    words: &[(&str, T)],
) -> Option<T> {
    let text = entry.text(found, key);
    let known = words.iter().find(|(word, _)| *word == text);
    if known.is_none() {
        let all: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let expected = format!("one of {}", all.join(", "));
        entry.refuse(found, key, format!("{text:?}"), &expected, "choose one");
    }
    known.map(|(_, value)| *value)
}

fn conflict(found: &mut Violations, row: &Entry<'_>) -> OrderConflict {
    row.only(found, &["stage", "treatment", "component_types", "reason"]);
    let treatment = row.text(found, "treatment");
    let stages = Stage::ALL.map(|stage| (stage.word(), stage));
    let stage = row.table.get("stage");
    let stage = stage.and_then(|_| word(found, row, "stage", &stages));
    if stage.is_some() != treatment.is_empty() {
        let expected = "a stage or a treatment";
        row.refuse(
            found,
            "stage",
            "both or none",
            expected,
            "give one of the two",
        );
    }
    OrderConflict {
        stage,
        treatment,
        component_types: row.texts(found, "component_types"),
        reason: row.required_text(found, "reason"),
    }
}

fn stock(found: &mut Violations, row: &Entry<'_>) -> Stock {
    row.only(
        found,
        &["component_types", "surfaces", "growth_m", "ln_sd", "remedy"],
    );
    let growth_m = row.number_in(found, "growth_m", (-1e-3, 1e-3));
    if growth_m.is_none_or(|growth| growth == 0.0)
        && row.table.get("growth_m").is_none_or(|_| growth_m.is_some())
    {
        let expected = "metres on each surface, negative where taken off";
        row.refuse(
            found,
            "growth_m",
            "none",
            expected,
            "give the change of size",
        );
    }
    Stock {
        component_types: row.texts(found, "component_types"),
        surfaces: row.texts(found, "surfaces"),
        growth_m: growth_m.unwrap_or_default(),
        ln_sd: spread(found, row),
        remedy: row.required_text(found, "remedy"),
    }
}

fn forbidden(found: &mut Violations, row: &Entry<'_>) -> Forbidden {
    row.only(found, &["component_types", "surfaces", "reason"]);
    Forbidden {
        component_types: required_texts(found, row, "component_types"),
        surfaces: row.texts(found, "surfaces"),
        reason: row.required_text(found, "reason"),
    }
}

fn not_modelled(found: &mut Violations, row: &Entry<'_>) -> NotModelled {
    row.only(found, &["component_types", "reason"]);
    NotModelled {
        component_types: row.texts(found, "component_types"),
        reason: row.required_text(found, "reason"),
    }
}

fn effect(found: &mut Violations, row: &Entry<'_>) -> Effect {
    let names = row.table.keys().map(String::as_str);
    let names = names.filter(|key| !EFFECT_KEYS.contains(key));
    let properties: Vec<PropertyChange> = names
        .filter_map(|name| {
            let entry = row.entry(found, name)?;
            property(found, name, &entry)
        })
        .collect();
    let stress = row.entry(found, "residual_stress");
    let residual_stress = stress.and_then(|entry| profile(found, &entry));
    Effect {
        component_types: required_texts(found, row, "component_types"),
        surfaces: required_texts(found, row, "surfaces"),
        properties,
        residual_stress,
        note: row.text(found, "note"),
    }
}

fn required_texts(found: &mut Violations, row: &Entry<'_>, key: &str) -> Vec<String> {
    let texts = row.texts(found, key);
    if texts.is_empty()
        && row
            .table
            .get(key)
            .is_none_or(|v| v.as_array().is_some_and(Vec::is_empty))
    {
        row.refuse(found, key, "none", "at least one name", "name them");
    }
    texts
}

fn property(found: &mut Violations, name: &str, entry: &Entry<'_>) -> Option<PropertyChange> {
    entry.only(found, &["set", "multiply", "at_most", "at_least", "ln_sd"]);
    let given = OPERATIONS
        .iter()
        .filter(|(key, _)| entry.table.contains_key(*key));
    let given: Vec<_> = given.collect();
    let [(key, operation)] = given.as_slice() else {
        let expected = "one of set, multiply, at_most, at_least";
        let count = format!("{} of them", given.len());
        found.add(&entry.place, count, expected, "give one");
        return None;
    };
    let range = match operation {
        Operation::Multiply => (0.01, 100.0),
        _ => (-1e30, 1e30),
    };
    let value = entry.number_in(found, key, range);
    let ln_sd = spread(found, entry);
    Some(PropertyChange {
        property: name.to_owned(),
        operation: *operation,
        value: value?,
        ln_sd,
    })
}

/// A spread; none where it is left out.
fn spread(found: &mut Violations, entry: &Entry<'_>) -> f64 {
    entry.number_in(found, "ln_sd", (0.0, 1.5)).unwrap_or(0.0)
}

/// Residual stress as columns, or by the numbers of its usual shape.
fn profile(found: &mut Violations, entry: &Entry<'_>) -> Option<ResidualStressProfile> {
    if entry.table.contains_key("depth_m") || entry.table.contains_key("stress_pa") {
        entry.only(found, &["depth_m", "stress_pa"]);
        let columns = ResidualStressProfile {
            depth_m: entry.numbers(found, "depth_m"),
            stress_pa: entry.numbers(found, "stress_pa"),
        };
        return Some(columns);
    }
    let keys = [
        "surface_pa",
        "peak_pa",
        "peak_depth_m",
        "total_depth_m",
        "balance_pa",
    ];
    entry.only(found, &keys);
    let limits = [
        (-5e9, 0.0),
        (-5e9, 0.0),
        (1e-7, 1e-3),
        (1e-7, 5e-3),
        (0.0, 1e9),
    ];
    let mut numbers = [0.0; 5];
    for ((key, limits), number) in keys.iter().zip(limits).zip(&mut numbers) {
        if !entry.table.contains_key(*key) {
            let expected = "a number, or the columns depth_m and stress_pa";
            entry.refuse(found, key, "not given", expected, "give it");
        }
        *number = entry.number_in(found, key, limits)?;
    }
    let [surface_pa, peak_pa, peak_depth_m, total_depth_m, balance_pa] = numbers;
    if peak_depth_m >= total_depth_m || peak_pa > surface_pa {
        let expected = "a peak no weaker than the surface, before the total depth";
        let value = format!("{peak_pa} Pa at {peak_depth_m} m of {total_depth_m} m");
        entry.refuse(found, "peak_pa", value, expected, "correct the profile");
        return None;
    }
    let shape = stress::Shape {
        surface_pa,
        peak_pa,
        peak_depth_m,
        total_depth_m,
        balance_pa,
    };
    Some(shape.columns())
}

/// The pieces of a catalogue's text, one for each treatment, by id: what a shop starts its own from.
pub(super) fn pieces(text: &str, treatments: &[Treatment]) -> BTreeMap<String, String> {
    const HEAD: &str = "[[treatments]]\n";
    let starts: Vec<usize> = text
        .match_indices(HEAD)
        .map(|(at, _)| at)
        .filter(|at| *at == 0 || text.as_bytes().get(at - 1) == Some(&b'\n'))
        .collect();
    if starts.len() != treatments.len() {
        return BTreeMap::new();
    }
    let ends = starts.iter().skip(1).copied().chain([text.len()]);
    let piece = |((start, end), treatment): ((&usize, usize), &Treatment)| {
        let piece = text.get(*start..end).unwrap_or_default();
        (treatment.id.clone(), piece.trim_end().to_owned() + "\n")
    };
    starts.iter().zip(ends).zip(treatments).map(piece).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const BUILT_IN: &str = include_str!("catalogue.toml");

    fn fields(text: &str) -> Vec<String> {
        let error = parse(text).unwrap_err();
        error.violations().iter().map(|v| v.field.clone()).collect()
    }

    #[test]
    fn everything_wrong_comes_at_once_with_entry_and_field() {
        let text = r#"
vresion = "1"
[[treatments]]
id = "Peen"
label = 3
grade = "sure"
stage = "peen"
not_after = [{ reason = "none" }]
stock = [{ growth_m = 0.0, remedy = "x" }]
[[treatments]]
id = "two"
label = "two"
description = "d"
grade = "published"
stage = "coat"
price = -1
forbidden = [{ component_types = ["b"], reason = "r" }]
effects = [
    { component_types = ["a"], surfaces = ["s"], ra_m = { set = 1e-6, multiply = 2 }, glow = { set = 1 } },
    { component_types = ["a", "b"], surfaces = ["s"], rq_m = { set = -1e-6, ln_sd = 0.1 }, residual_stress = { depth_m = [1e-6], stress_pa = [1, 2] } },
]
"#;
        let found = fields(text);
        for expected in [
            "vresion",
            "treatments[0].id",
            "treatments[0].label",
            "treatments[0].description",
            "treatments[0].grade",
            "treatments[0].not_after[0].stage",
            "treatments[0].stock[0].growth_m",
            "treatments[two].price",
            "treatments[two].references",
            "treatments[two].effects[0].ra_m",
            "treatments[two].effects[0].glow",
            "treatments[two].effects[1].rq_m",
            "treatments[two].effects[1].residual_stress",
            "treatments[two].effects[1]",
        ] {
            assert!(
                found.iter().any(|f| f == expected),
                "{expected} in {found:#?}"
            );
        }
    }

    #[test]
    fn weak_evidence_has_a_wide_spread() {
        let text = BUILT_IN.replace(
            "multiply = 0.9, ln_sd = 0.35 }, note = \"hardened",
            "multiply = 0.9, ln_sd = 0.1 }, note = \"hardened",
        );
        let place = "treatments[deep-cryogenic].effects[0].wear_coefficient_m2_n";
        assert_eq!(fields(&text), [place]);
        assert_eq!(fields(""), ["treatments"]);
        assert_eq!(fields("id = ["), ["text"]);
        assert_eq!(fields(&"#".repeat(LARGEST_TEXT + 1)), ["text"]);
    }

    proptest! {
        #[test]
        fn no_text_panics(text in "\\PC{0,200}") {
            let _ = parse(&text);
        }

        /// A catalogue with a piece cut out or put in is read or refused, never more.
        #[test]
        fn no_damage_panics(from in 0..40_000_usize, length in 0..60_usize, put in "[\\[\\]{}=\",.0-9a-e \n-]{0,6}") {
            let mut text: Vec<char> = BUILT_IN.chars().collect();
            let start = from.min(text.len());
            let end = (start + length).min(text.len());
            text.splice(start..end, put.chars());
            let text: String = text.into_iter().collect();
            if let Err(error) = parse(&text) {
                prop_assert!(!error.violations().is_empty());
            }
        }
    }
}
