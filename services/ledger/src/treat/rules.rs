//! What must not be done, and what to say of the rest: order of work, forbidden surfaces, stock.

use crate::{CatalogueEntry, Origin, Stage, Stock, Treatment};
use ringland_host::contract::{Card, Finding, Severity};

/// The mark of a part that was measured to final size.
const FINAL: Stage = Stage::FinalMeasure;

/// One treatment about to be done.
pub(super) struct Step<'a> {
    /// Its place in the call.
    pub(super) index: usize,
    /// Type of the part.
    pub(super) kind: &'a str,
    pub(super) treatment: &'a Treatment,
    /// What was asked for; empty for every surface that it is meant for.
    pub(super) asked: &'a [String],
}

impl Step<'_> {
    fn field(&self, rest: &str) -> String {
        format!("treatments[{}]{rest}", self.index)
    }

    pub(super) fn error(&self, rest: &str, value: &str, expected: &str, remedy: &str) -> Finding {
        finding(Severity::Error, self.field(rest), value, expected, remedy)
    }

    pub(super) fn warning(&self, rest: &str, value: &str, expected: &str, remedy: &str) -> Finding {
        finding(Severity::Warning, self.field(rest), value, expected, remedy)
    }

    pub(super) fn is_of(&self, component_types: &[String]) -> bool {
        component_types.iter().any(|kind| kind == self.kind)
    }

    /// The surfaces that it is done to: what was asked for, or all that it has an effect on.
    pub(super) fn surfaces(&self) -> Vec<String> {
        if !self.asked.is_empty() {
            return self.asked.to_vec();
        }
        let effects = self.treatment.effects_on(self.kind);
        effects.flat_map(|effect| effect.surfaces.clone()).collect()
    }
}

pub(super) fn finding(
    severity: Severity,
    field: String,
    value: &str,
    expected: &str,
    remedy: &str,
) -> Finding {
    Finding {
        severity,
        field,
        value: value.into(),
        expected: expected.into(),
        remedy: remedy.into(),
    }
}

/// Why it must not be done to this part, as it is by now.
pub(super) fn refusals(step: &Step<'_>, card: &Card, done: &[&Treatment]) -> Vec<Finding> {
    let mut found = Vec::new();
    surfaces(&mut found, step, card);
    order(&mut found, step, done);
    final_size(&mut found, step, done);
    found
}

fn surfaces(found: &mut Vec<Finding>, step: &Step<'_>, card: &Card) {
    let treatment = step.treatment;
    let id = &treatment.id;
    if let Some(forbidden) = treatment.forbids(step.kind) {
        let expected = format!("another treatment: {}", forbidden.reason);
        found.push(step.error(
            "",
            &format!("{id} on a {}", step.kind),
            &expected,
            "leave it out",
        ));
        return;
    }
    let known: Vec<&str> = card.surfaces.iter().map(|s| s.name.as_str()).collect();
    for surface in step.asked {
        let value = format!("{surface:?}");
        if !known.contains(&surface.as_str()) {
            let expected = format!("one of {}", known.join(", "));
            found.push(step.error(".surfaces", &value, &expected, "correct the name"));
        }
        let forbidden = treatment
            .forbidden
            .iter()
            .find(|f| step.is_of(&f.component_types) && f.surfaces.contains(surface));
        if let Some(forbidden) = forbidden {
            let expected = format!("{id} elsewhere: {}", forbidden.reason);
            found.push(step.error(".surfaces", &value, &expected, "mask it"));
        }
    }
}

fn order(found: &mut Vec<Finding>, step: &Step<'_>, done: &[&Treatment]) {
    let id = &step.treatment.id;
    let mut usual = true;
    for before in done {
        let conflict = step.treatment.not_after.iter().find(|rule| {
            let here = rule.component_types.is_empty() || step.is_of(&rule.component_types);
            // A shop's own treatment stands in the place of the one that it supersedes.
            let named = rule.treatment == before.id || rule.treatment == before.supersedes;
            here && (rule.stage == Some(before.stage) || !rule.treatment.is_empty() && named)
        });
        if let Some(rule) = conflict {
            let value = format!("{id} after {}", before.id);
            let expected = format!("{id} before {}: {}", before.id, rule.reason);
            let remedy = "change the order; if the earlier work was undone, enter the part's \
                          surfaces and treatments as they are now first";
            found.push(step.error("", &value, &expected, remedy));
            usual = false;
        }
    }
    let late = done.iter().map(|before| before.stage).max();
    if let Some(late) = late.filter(|late| usual && *late > step.treatment.stage && *late != FINAL)
    {
        let value = format!(
            "{id} ({}) after {}",
            step.treatment.stage.word(),
            late.word()
        );
        let expected = Stage::ALL.map(Stage::word).join(", then ");
        let remedy = "make sure that it does not undo the earlier work";
        found.push(step.warning("", &value, &expected, remedy));
    }
}

fn final_size(found: &mut Vec<Finding>, step: &Step<'_>, done: &[&Treatment]) {
    let Some(last) = done.iter().find(|before| before.stage == FINAL) else {
        return;
    };
    for (row, surfaces) in stock_rows(step) {
        let value = format!("{} after {}", step.treatment.id, last.id);
        let expected = format!("stock for it: {surfaces} would be {}", change(row));
        let remedy = format!("{}; measure to final size last", row.remedy);
        found.push(step.error("", &value, &expected, &remedy));
    }
}

/// What changes size, with the surfaces in words.
fn stock_rows<'a>(step: &Step<'a>) -> Vec<(&'a Stock, String)> {
    let treated = step.surfaces();
    let rows = step.treatment.stock.iter().filter_map(|row| {
        if !row.component_types.is_empty() && !step.is_of(&row.component_types) {
            return None;
        }
        let mut surfaces = treated.clone();
        if !row.surfaces.is_empty() {
            surfaces.retain(|surface| row.surfaces.contains(surface));
            if surfaces.is_empty() {
                return None;
            }
        }
        let names = if surfaces.is_empty() {
            "each treated face".to_owned()
        } else {
            surfaces.join(", ")
        };
        Some((row, names))
    });
    rows.collect()
}

/// A change of size in words, with what nine in ten lie between.
fn change(row: &Stock) -> String {
    let um = row.growth_m.abs() * 1e6;
    let word = if row.growth_m > 0.0 {
        "larger"
    } else {
        "smaller"
    };
    let (low, high) = (
        um * libm::exp(-1.645 * row.ln_sd),
        um * libm::exp(1.645 * row.ln_sd),
    );
    format!("{um:.1} um {word} on each face ({low:.1} to {high:.1})")
}

/// What to know of a treatment that may be done.
pub(super) fn advice(step: &Step<'_>, entry: &CatalogueEntry) -> Vec<Finding> {
    let mut found = Vec::new();
    let treatment = step.treatment;
    for (row, surfaces) in stock_rows(step) {
        let expected = format!("stock and a measurement afterwards: {}", change(row));
        found.push(step.warning(".stock", &surfaces, &expected, &row.remedy));
    }
    let masks = treatment
        .forbidden
        .iter()
        .filter(|f| step.is_of(&f.component_types));
    for forbidden in masks {
        let value = forbidden.surfaces.join(", ");
        found.push(step.warning(".surfaces", &value, "masked", &forbidden.reason));
    }
    if treatment.grade == crate::Grade::Weak {
        let expected = "evidence that agrees";
        let remedy = format!("count on little: {}", treatment.source);
        found.push(step.warning("", "weak evidence", expected, &remedy));
    }
    if let (Origin::BuiltIn { .. }, [own, ..]) = (&entry.origin, entry.superseded_by.as_slice()) {
        let expected = format!("{own}, the shop's own in its place");
        found.push(step.warning("", &treatment.id, &expected, "use the shop's own"));
    }
    for caution in &treatment.cautions {
        found.push(step.warning(".cautions", &treatment.id, "", caution));
    }
    found
}

/// What comes before every treatment.
pub(super) fn rules_first() -> Finding {
    finding(
        Severity::Warning,
        "treatments".into(),
        "not checked against any rule book",
        "leave of the sanctioning body and of the maker of the part",
        "read both first: they come before anything that is computed here; licensed shops do the work",
    )
}
