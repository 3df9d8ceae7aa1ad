//! What treatments leave of surfaces. Models see the surfaces and nothing else.

use super::{
    rules::{Step, finding},
    stress,
};
use crate::{Effect, Operation, PropertyChange, ResidualStressProfile, SurfaceState, Treatment};
use ringland_host::contract::{Card, Finding, Severity, SurfaceField};
use std::collections::{BTreeMap, BTreeSet};

/// The property whose factors have a floor.
const WEAR: &str = "wear_coefficient_m2_n";
/// Several treatments together leave no less than this of the wear coefficient. Assumed.
const WEAR_FLOOR: f64 = 0.25;

/// Surfaces under treatment.
pub(super) struct Bench<'a> {
    pub(super) card: &'a Card,
    pub(super) surfaces: BTreeMap<String, SurfaceState>,
}

impl Bench<'_> {
    /// Does one treatment and says what of it no model sees.
    pub(super) fn apply(&mut self, step: &Step<'_>, done: &[&Treatment]) -> Vec<Finding> {
        let mut found = Vec::new();
        let treatment = step.treatment;
        let repeated = done.iter().any(|before| before.id == treatment.id);
        if repeated {
            let expected = "each treatment once";
            let remedy = "what it sets is set again; its factors are not counted twice";
            found.push(step.warning("", &treatment.id, expected, remedy));
        }
        let mut seen = BTreeSet::new();
        for effect in treatment.effects_on(step.kind) {
            for surface in &effect.surfaces {
                if !step.asked.is_empty() && !step.asked.contains(surface) {
                    continue;
                }
                let Some(field) = self.card.surfaces.iter().find(|f| f.name == *surface) else {
                    continue;
                };
                let state = self.surfaces.entry(surface.clone()).or_default();
                let context = Context {
                    step,
                    done,
                    repeated,
                    field,
                };
                if context.change(state, effect, &mut found) {
                    seen.insert(surface.clone());
                }
                if *state == SurfaceState::default() {
                    self.surfaces.remove(surface);
                }
            }
        }
        found.extend(unseen(step, &seen));
        found
    }
}

/// What a treatment was done to without a model that could see it.
fn unseen(step: &Step<'_>, seen: &BTreeSet<String>) -> Option<Finding> {
    let treatment = step.treatment;
    let missed: Vec<&str> = step
        .asked
        .iter()
        .map(String::as_str)
        .filter(|s| !seen.contains(*s))
        .collect();
    if !seen.is_empty() && missed.is_empty() {
        return None;
    }
    let reason = treatment
        .not_modelled
        .iter()
        .find(|row| row.component_types.is_empty() || step.is_of(&row.component_types));
    let remedy = reason.map_or(
        "the step is kept in the part's list of treatments and changes no prediction",
        |row| row.reason.as_str(),
    );
    let value = match missed.as_slice() {
        [] => format!("no effect of {} modelled", treatment.id),
        missed => format!(
            "no effect of {} modelled on {}",
            treatment.id,
            missed.join(", ")
        ),
    };
    let expected = format!(
        "a surface of a {} that its model reads and the catalogue knows",
        step.kind
    );
    Some(step.warning(".surfaces", &value, &expected, remedy))
}

struct Context<'a> {
    step: &'a Step<'a>,
    done: &'a [&'a Treatment],
    repeated: bool,
    field: &'a SurfaceField,
}

impl Context<'_> {
    /// Changes one surface; whether the model could see anything of it.
    fn change(&self, state: &mut SurfaceState, effect: &Effect, found: &mut Vec<Finding>) -> bool {
        let mut visible = false;
        let surface = &self.field.name;
        for change in &effect.properties {
            let known = self
                .field
                .properties
                .iter()
                .find(|p| p.name == change.property);
            let Some(number) = known else {
                let value = format!("{surface}.{}", change.property);
                let expected = "a property that the model reads";
                let remedy = "no effect of it is modelled";
                found.push(self.step.warning(".surfaces", &value, expected, remedy));
                continue;
            };
            visible = true;
            let before = state.properties.get(&number.name).copied();
            let before = before.unwrap_or(number.default_value);
            let spread = state.ln_sd.get(&number.name).copied().unwrap_or(0.0);
            let Some((value, ln_sd)) = self.changed(change, before, spread) else {
                continue;
            };
            let kept = value.clamp(number.minimum, number.maximum);
            if !(number.minimum..=number.maximum).contains(&value) {
                let name = format!("surfaces.{surface}.properties.{}", number.name);
                let expected = format!("{} to {} {}", number.minimum, number.maximum, number.unit);
                let remedy = format!(
                    "{kept} is taken, the end of the model's range: enter what is measured"
                );
                let value = value.to_string();
                found.push(finding(Severity::Warning, name, &value, &expected, &remedy));
            }
            state.properties.insert(number.name.clone(), kept);
            if ln_sd > 0.0 {
                state.ln_sd.insert(number.name.clone(), ln_sd);
            } else {
                state.ln_sd.remove(&number.name);
            }
        }
        if let Some(profile) = &effect.residual_stress {
            if self.field.residual_stress {
                visible = true;
                state.residual_stress = Some(left(state.residual_stress.as_ref(), profile));
            } else {
                let value = format!("{surface}: residual stress");
                let expected = "a surface whose residual stress the model reads";
                let remedy = "no effect of it is modelled";
                found.push(self.step.warning(".surfaces", &value, expected, remedy));
            }
        }
        visible
    }

    /// Median and spread after a change; `None` when nothing changes. What a process sets has the
    /// spread of the process; a factor adds its own to what was there.
    fn changed(&self, change: &PropertyChange, before: f64, spread: f64) -> Option<(f64, f64)> {
        match change.operation {
            Operation::Set => Some((change.value, change.ln_sd)),
            Operation::AtMost => (before > change.value).then_some((change.value, change.ln_sd)),
            Operation::AtLeast => (before < change.value).then_some((change.value, change.ln_sd)),
            Operation::Multiply if self.repeated => None,
            Operation::Multiply => {
                let factor = if change.property == WEAR {
                    self.wear_factor(change.value)
                } else {
                    change.value
                };
                Some((before * factor, libm::hypot(spread, change.ln_sd)))
            }
        }
    }

    /// The factor that is left of another one after those before it: all of them together leave no less
    /// than the floor, or than the strongest alone.
    fn wear_factor(&self, next: f64) -> f64 {
        let mut counted = BTreeSet::new();
        let mut factors = Vec::new();
        for before in self.done.iter().filter(|before| counted.insert(&before.id)) {
            factors.extend(self.factor_of(before));
        }
        let before = floored(&factors);
        factors.push(next);
        floored(&factors) / before
    }

    /// What an earlier treatment made of the wear coefficient here, if it was done here.
    fn factor_of(&self, before: &Treatment) -> Option<f64> {
        let mut effects = before
            .effects_on(self.step.kind)
            .filter(|e| e.surfaces.contains(&self.field.name));
        let changes = &effects.next()?.properties;
        let wear = changes
            .iter()
            .find(|c| c.property == WEAR && c.operation == Operation::Multiply);
        wear.map(|change| change.value)
    }
}

fn floored(factors: &[f64]) -> f64 {
    let product: f64 = factors.iter().product();
    let strongest = factors.iter().copied().fold(WEAR_FLOOR, f64::min);
    product.max(strongest)
}

fn left(
    before: Option<&ResidualStressProfile>,
    profile: &ResidualStressProfile,
) -> ResidualStressProfile {
    match before.filter(|before| !before.depth_m.is_empty()) {
        None => profile.clone(),
        Some(before) => stress::together(before, profile),
    }
}

/// A surface with the card's defaults filled in.
pub(super) fn filled(field: &SurfaceField, given: Option<&SurfaceState>) -> SurfaceState {
    let mut state = given.cloned().unwrap_or_default();
    for property in &field.properties {
        let default = property.default_value;
        state
            .properties
            .entry(property.name.clone())
            .or_insert(default);
    }
    state
}
