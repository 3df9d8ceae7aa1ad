//! What must hold within a treatment of the catalogue.

use crate::{Grade, Operation, Treatment, violations::Violations};
use ringland_host::contract::vocabulary::SURFACE_PROPERTIES;
use std::collections::BTreeSet;

/// Spread below which a factor of weak evidence would claim too much. Assumed.
const LEAST_WEAK_LN_SD: f64 = 0.3;

/// Adds everything that is wrong.
pub(super) fn treatment(found: &mut Violations, treatment: &Treatment) {
    evidence(found, treatment);
    names(found, treatment);
    properties(found, treatment);
    overlaps(found, treatment);
}

fn place(treatment: &Treatment, rest: &str) -> String {
    format!("treatments[{}].{rest}", treatment.id)
}

fn evidence(found: &mut Violations, treatment: &Treatment) {
    let (field, expected) = match treatment.grade {
        Grade::Published if treatment.references.is_empty() => {
            ("references", "the published work that it rests on")
        }
        Grade::CommonPractice | Grade::Weak if treatment.source.is_empty() => {
            ("source", "where the numbers come from")
        }
        _ => return,
    };
    let value = format!("none, with grade {}", treatment.grade.word());
    let remedy = "write it, or give another grade";
    found.add(place(treatment, field), value, expected, remedy);
}

fn names(found: &mut Violations, treatment: &Treatment) {
    for (index, effect) in treatment.effects.iter().enumerate() {
        for change in &effect.properties {
            if SURFACE_PROPERTIES.iter().any(|p| p.name == change.property) {
                continue;
            }
            let field = place(treatment, &format!("effects[{index}].{}", change.property));
            let expected = "a surface property of the vocabulary, such as ra_m";
            found.add(field, "given", expected, "correct the name");
        }
        if effect.properties.is_empty() && effect.residual_stress.is_none() {
            let field = place(treatment, &format!("effects[{index}]"));
            let expected = "a property or residual_stress";
            let remedy = "write what changes, or say why nothing is modelled in not_modelled";
            found.add(field, "empty", expected, remedy);
        }
    }
    let supersedes = &treatment.supersedes;
    if !supersedes.is_empty() && (!crate::is_id(supersedes) || *supersedes == treatment.id) {
        let expected = "the id of another treatment";
        let field = place(treatment, "supersedes");
        found.add(field, format!("{supersedes:?}"), expected, "correct it");
    }
}

fn properties(found: &mut Violations, treatment: &Treatment) {
    for (index, effect) in treatment.effects.iter().enumerate() {
        for change in &effect.properties {
            let field = place(treatment, &format!("effects[{index}].{}", change.property));
            let may_be_negative = change.property == "friction_slope_s_m";
            if change.operation != Operation::Multiply && change.value < 0.0 && !may_be_negative {
                found.add(&field, change.value, "0 or more", "correct the value");
            }
            if change.value <= 0.0 && change.ln_sd > 0.0 {
                let expected = "0: a logarithm needs a value above 0";
                found.add(&field, change.ln_sd, expected, "leave ln_sd out");
            }
            let weak = treatment.grade == Grade::Weak && change.operation == Operation::Multiply;
            if weak && change.ln_sd < LEAST_WEAK_LN_SD {
                let expected = format!("ln_sd of at least {LEAST_WEAK_LN_SD} for weak evidence");
                found.add(&field, change.ln_sd, &expected, "widen it");
            }
        }
        if let Some(profile) = &effect.residual_stress {
            let (depths, stresses) = (&profile.depth_m, &profile.stress_pa);
            let rising = depths.windows(2).all(|pair| pair[0] < pair[1]);
            if depths.len() != stresses.len() || depths.len() < 2 || !rising || depths[0] != 0.0 {
                let field = place(treatment, &format!("effects[{index}].residual_stress"));
                let value = format!("{} depths, {} stresses", depths.len(), stresses.len());
                let expected = "as many stresses as rising depths, from 0 on, two or more";
                found.add(field, value, expected, "correct the columns");
            }
        }
    }
}

/// One effect for each surface, and none on what is forbidden.
fn overlaps(found: &mut Violations, treatment: &Treatment) {
    let mut seen = BTreeSet::new();
    for (index, effect) in treatment.effects.iter().enumerate() {
        let field = place(treatment, &format!("effects[{index}]"));
        for component_type in &effect.component_types {
            for surface in &effect.surfaces {
                let what = format!("{surface} of {component_type}");
                if !seen.insert(what.clone()) {
                    let expected = "one effect for each surface of a type";
                    found.add(&field, &what, expected, "put the two together");
                }
                let forbidden = treatment.forbidden.iter().any(|f| {
                    f.component_types.contains(component_type)
                        && (f.surfaces.is_empty() || f.surfaces.contains(surface))
                });
                if forbidden {
                    let expected = "no effect on what is forbidden";
                    found.add(&field, &what, expected, "take one of the two away");
                }
            }
        }
    }
}
