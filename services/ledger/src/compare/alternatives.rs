//! From what differs to a component that can be drawn.

use super::subject::Subject;
use crate::{
    Alternative, Component, ComponentInput, FieldViolation, LedgerError, RenewalPrice, Spec,
    SurfaceState, TreatmentEvidence, TreatmentUse,
    inspect::treatments_of,
    ledger::{Ledger, refuse_errors, specimen_of},
    predict::{Case, Drawing, Drawn, Event},
    violations::Violations,
};
use ringland_host::contract::{Finding, Prepared, Specimen};
use std::collections::BTreeMap;

const MOST_TREATMENTS: usize = 16;
const LONGEST_LABEL: usize = 100;
const LARGEST_PRICE: f64 = 1e12;

/// An alternative of a subject, ready to be drawn.
pub(super) struct Variant {
    specimen: Specimen,
    pub(super) prepared: Prepared,
    condition: Vec<f64>,
    /// What will have been done to it, for what inspections of its like tell.
    treatments: String,
    /// Of its treatments; `None` when one is not known.
    pub(super) treatments_price: Option<f64>,
    pub(super) evidence: Vec<TreatmentEvidence>,
    pub(super) notes: Vec<Finding>,
}

impl Ledger {
    /// What becomes of a subject by one alternative after another.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] with everything that is wrong with what they make of it, by the fields of an
    /// alternative, and the model's.
    pub(super) fn variant(
        &self,
        subject: &Subject,
        alternatives: &[&Alternative],
    ) -> Result<Variant, LedgerError> {
        let mut input = input_of(&subject.component);
        let mut treatments_price = Some(0.0);
        let (mut evidence, mut notes) = (Vec::new(), Vec::new());
        for alternative in alternatives {
            differ(&mut input, alternative);
            if alternative.treatments.is_empty() {
                continue;
            }
            let treated = self.treated(&input, &uses_of(alternative))?;
            let price = self.price_of(&input, alternative, treated.price)?;
            treatments_price = treatments_price.zip(price).map(|(sum, more)| sum + more);
            evidence.extend(self.evidence_of(&treated.grades)?);
            notes.extend(treated.findings);
            input = treated.component;
        }
        let checked = self.check_component(&input)?.findings;
        refuse_errors(checked.clone())?;
        notes.extend(checked);
        let (specimen, _) = specimen_of(&subject.card, &input.spec, &input.surfaces);
        let refused = |error| LedgerError::of_model(&subject.component.name, error);
        let (models, plugin) = (&self.models, subject.plugin);
        let prepared = models.prepare(plugin, &specimen).map_err(refused)?;
        let condition = if let Some(condition) = &subject.condition {
            condition.clone()
        } else {
            let nothing_known = vec![None; subject.card.condition.len()];
            models
                .begin(plugin, &specimen, &prepared, &nothing_known)
                .map_err(refused)?
        };
        Ok(Variant {
            specimen,
            prepared,
            condition,
            treatments: treatments_of(&input.treatments),
            treatments_price,
            evidence,
            notes,
        })
    }

    /// Price of an alternative's treatments: what the call gives for each, else the catalogue's.
    fn price_of(
        &self,
        input: &ComponentInput,
        alternative: &Alternative,
        of_catalogue: Option<f64>,
    ) -> Result<Option<f64>, LedgerError> {
        if alternative.treatments.iter().all(|t| t.price.is_none()) {
            return Ok(of_catalogue);
        }
        let mut sum = Some(0.0);
        let mut before = input.clone();
        for (index, (treatment, applied)) in alternative
            .treatments
            .iter()
            .zip(uses_of(alternative))
            .enumerate()
        {
            let treated = self.treated(&before, std::slice::from_ref(&applied));
            let treated =
                treated.map_err(|error| within(&format!("treatments[{index}]."), error))?;
            let price = treatment.price.or(treated.price);
            sum = sum.zip(price).map(|(sum, more)| sum + more);
            before = treated.component;
        }
        Ok(sum)
    }

    /// Draws the lives of a variant.
    pub(super) fn draw_variant(
        &self,
        subject: &Subject,
        variant: &Variant,
        event: &Event,
        drawing: &Drawing,
    ) -> Result<Drawn, LedgerError> {
        let believed = self.beliefs_as(
            &subject.component,
            (subject.plugin, &subject.card),
            variant.treatments.clone(),
        )?;
        let case = Case {
            beliefs: believed,
            component: &subject.component.name,
            plugin: subject.plugin,
            card: &subject.card,
            specimen: &variant.specimen,
            prepared: &variant.prepared,
            condition: variant.condition.clone(),
            mates: subject.mates.clone(),
        };
        self.draw_lives(case, event, drawing)
    }
}

impl Variant {
    /// Whether another one is the very same to the model.
    pub(super) fn is_as(&self, other: &Self) -> bool {
        let bits = |condition: &[f64]| condition.iter().map(|v| v.to_bits()).collect::<Vec<_>>();
        self.prepared.digest == other.prepared.digest
            && bits(&self.condition) == bits(&other.condition)
    }
}

/// The component as the ledger has it, without its history.
fn input_of(component: &Component) -> ComponentInput {
    let component = component.clone();
    ComponentInput {
        component_type: component.component_type,
        display_name: component.display_name,
        serial: component.serial,
        batch: component.batch,
        spec: component.spec,
        surfaces: component.surfaces,
        // The condition is the basis's.
        opening_condition: BTreeMap::new(),
        labels: component.labels,
        treatments: component.treatments,
    }
}

fn uses_of(alternative: &Alternative) -> Vec<TreatmentUse> {
    let treatments = alternative.treatments.iter();
    treatments
        .map(|applied| TreatmentUse {
            treatment: applied.treatment.clone(),
            surfaces: applied.surfaces.clone(),
        })
        .collect()
}

/// Puts what differs in the place of what is there.
fn differ(input: &mut ComponentInput, alternative: &Alternative) {
    let Spec {
        numbers,
        choices,
        tables,
    } = alternative.spec.clone();
    input.spec.numbers.extend(numbers);
    input.spec.choices.extend(choices);
    input.spec.tables.extend(tables);
    for (name, other) in &alternative.surfaces {
        overlay(input.surfaces.entry(name.clone()).or_default(), other);
    }
}

/// A property goes with its spread: one that is given anew has the spread that is given with it.
fn overlay(surface: &mut SurfaceState, other: &SurfaceState) {
    for (property, value) in &other.properties {
        surface.properties.insert(property.clone(), *value);
        surface.ln_sd.remove(property);
    }
    surface.ln_sd.extend(other.ln_sd.clone());
    if let Some(profile) = &other.residual_stress {
        surface.residual_stress = Some(profile.clone());
    }
}

/// What is wrong with an alternative whatever the component is.
pub(super) fn check(violations: &mut Violations, at: &str, alternative: &Alternative) {
    if alternative.label.chars().count() > LONGEST_LABEL {
        let expected = "at most 100 characters";
        violations.add(
            format!("{at}label"),
            &alternative.label,
            expected,
            "shorten it",
        );
    }
    if alternative.treatments.len() > MOST_TREATMENTS {
        let field = format!("{at}treatments");
        let count = alternative.treatments.len();
        violations.add(field, count, "at most 16", "leave some out");
    }
    for (index, treatment) in alternative.treatments.iter().enumerate() {
        if treatment.price.is_some_and(|price| !is_price(price)) {
            let field = format!("{at}treatments[{index}].price");
            let price = treatment.price.unwrap_or_default();
            violations.add(field, price, "0 to 1e12", "give what it costs");
        }
    }
    check_price(violations, &format!("{at}price"), alternative.price);
}

/// What is wrong with the price of a renewal.
pub(super) fn check_price(violations: &mut Violations, at: &str, price: Option<RenewalPrice>) {
    let Some(RenewalPrice { part, labour }) = price else {
        return;
    };
    for (field, value) in [("part", part), ("labour", labour)] {
        if !is_price(value) {
            violations.add(
                format!("{at}.{field}"),
                value,
                "0 to 1e12",
                "give what it costs",
            );
        }
    }
    if is_price(part) && is_price(labour) && part + labour <= 0.0 {
        let remedy = "give what a renewal costs, or leave the price out";
        violations.add(at, part + labour, "more than 0 together", remedy);
    }
}

fn is_price(price: f64) -> bool {
    (0.0..=LARGEST_PRICE).contains(&price)
}

/// The label that was given, or what differs in words.
pub(super) fn label_of(alternative: &Alternative) -> String {
    if !alternative.label.is_empty() {
        return alternative.label.clone();
    }
    let mut parts: Vec<String> = alternative
        .treatments
        .iter()
        .map(|treatment| treatment.treatment.replace(['_', '-'], " "))
        .collect();
    let Spec {
        numbers,
        choices,
        tables,
    } = &alternative.spec;
    let fields = numbers.keys().chain(choices.keys()).chain(tables.keys());
    let fields: Vec<&str> = fields.map(String::as_str).collect();
    if !fields.is_empty() {
        parts.push(format!("other {}", fields.join(", ")));
    }
    let surfaces: Vec<&str> = alternative.surfaces.keys().map(String::as_str).collect();
    if !surfaces.is_empty() {
        parts.push(format!("other {}", surfaces.join(", ")));
    }
    if parts.is_empty() {
        return "as it is".into();
    }
    parts.join(" + ").chars().take(LONGEST_LABEL).collect()
}

/// An error of one of several, its fields named from the call.
pub(super) fn within(at: &str, error: LedgerError) -> LedgerError {
    match error {
        LedgerError::InvalidArgument { reason, violations } => LedgerError::InvalidArgument {
            reason,
            violations: violations
                .into_iter()
                .map(|violation| FieldViolation {
                    field: format!("{at}{}", violation.field),
                    ..violation
                })
                .collect(),
        },
        error => error,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{ComparedTreatment, ResidualStressProfile};

    fn surface(properties: &[(&str, f64)], ln_sd: &[(&str, f64)]) -> SurfaceState {
        let map = |pairs: &[(&str, f64)]| pairs.iter().map(|(k, v)| ((*k).into(), *v)).collect();
        SurfaceState {
            properties: map(properties),
            ln_sd: map(ln_sd),
            residual_stress: None,
        }
    }

    #[test]
    fn a_property_given_anew_loses_the_spread_of_the_old_one() {
        let mut there = surface(&[("a", 1.0), ("b", 2.0)], &[("a", 0.1), ("b", 0.2)]);
        there.residual_stress = Some(ResidualStressProfile::default());
        overlay(&mut there, &surface(&[("a", 3.0)], &[]));
        assert_eq!(there.properties["a"].to_bits(), 3.0_f64.to_bits());
        assert_eq!(there.ln_sd, surface(&[], &[("b", 0.2)]).ln_sd);
        assert!(there.residual_stress.is_some(), "the profile stays");
        overlay(&mut there, &surface(&[("b", 1.0)], &[("b", 0.4)]));
        assert_eq!(there.ln_sd, surface(&[], &[("b", 0.4)]).ln_sd);
    }

    #[test]
    fn a_label_says_what_differs() {
        let mut alternative = Alternative::default();
        assert_eq!(label_of(&alternative), "as it is");
        alternative.treatments.push(ComparedTreatment {
            treatment: "plateau-hone".into(),
            ..ComparedTreatment::default()
        });
        alternative
            .surfaces
            .insert("bore".into(), SurfaceState::default());
        assert_eq!(label_of(&alternative), "plateau hone + other bore");
        alternative.label = "B".into();
        assert_eq!(label_of(&alternative), "B");
    }

    #[test]
    fn prices_are_amounts_and_a_renewal_costs_something() {
        let wrong = |part: f64, labour: f64| {
            let mut violations = Violations::default();
            check_price(
                &mut violations,
                "price",
                Some(RenewalPrice { part, labour }),
            );
            violations.into_result().is_err()
        };
        assert!(wrong(-1.0, 2.0) && wrong(f64::NAN, 1.0) && wrong(0.0, 0.0));
        assert!(!wrong(10.0, 0.0));
    }
}
