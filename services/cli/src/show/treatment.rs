//! The catalogue of treatments, and what treatments would do. Numbers stay in SI under the card's
//! names, as in files of components.

use super::findings;
use crate::{
    names, numbers,
    out::{Look, heading},
    table::{item, pairs, table},
};
use ringland_proto::v1::{
    CheckTreatmentsResponse, EvidenceGrade, PropertyChange, PropertyOperation,
    ResidualStressProfile, SurfaceChange, SurfaceEffect, SurfaceState, Treatment, WorkStage,
};
use std::collections::BTreeSet;

pub(super) fn grade(grade: EvidenceGrade) -> &'static str {
    match grade {
        EvidenceGrade::Published => "published",
        EvidenceGrade::CommonPractice => "common practice",
        EvidenceGrade::Shop => "shop's own",
        EvidenceGrade::Weak => "weak",
        EvidenceGrade::Unspecified => "not told",
    }
}

fn stage(stage: WorkStage) -> &'static str {
    match stage {
        WorkStage::Machine => "machine",
        WorkStage::StressRelieve => "stress relieve",
        WorkStage::Harden => "harden",
        WorkStage::Grind => "grind",
        WorkStage::Peen => "peen",
        WorkStage::Superfinish => "superfinish",
        WorkStage::Coat => "coat",
        WorkStage::FinalMeasure => "final measure",
        WorkStage::Unspecified => "not told",
    }
}

fn origin(treatment: &Treatment) -> String {
    if treatment.revision == 0 {
        format!("built in {}", treatment.catalogue_version)
    } else {
        format!("shop's own, {}", treatment.revision)
    }
}

/// The catalogue as a table.
pub fn treatments(treatments: &[Treatment], look: &Look) -> String {
    let rows = treatments.iter().map(|treatment| {
        vec![
            names::id(&treatment.name).to_owned(),
            treatment.label.clone(),
            stage(treatment.stage()).to_owned(),
            grade(treatment.grade()).to_owned(),
            origin(treatment),
        ]
    });
    let header = ["=treatment", "name", "stage", "evidence", "from"];
    table(look, &header, rows.collect())
}

/// A treatment with its effects.
pub fn treatment(treatment: &Treatment, look: &Look) -> String {
    let optional = |number: Option<f64>| {
        number.map_or_else(|| "not told".into(), |n| numbers::significant(n, 4))
    };
    let mut lines = vec![
        ("treatment", treatment.name.clone()),
        ("name", treatment.label.clone()),
        ("what it is", treatment.description.clone()),
        ("stage", stage(treatment.stage()).to_owned()),
        ("evidence", grade(treatment.grade()).to_owned()),
        ("source", treatment.source.clone()),
        ("from", origin(treatment)),
        ("price", optional(treatment.price)),
        ("days", optional(treatment.lead_days)),
    ];
    if !treatment.supersedes.is_empty() {
        lines.push(("in place of", treatment.supersedes.clone()));
    }
    if !treatment.superseded_by.is_empty() {
        lines.push(("use instead", treatment.superseded_by.join(", ")));
    }
    let mut parts = vec![pairs(look, &lines)];
    let rows: Vec<_> = treatment.effects.iter().flat_map(effect_rows).collect();
    if !rows.is_empty() {
        parts.push(heading("What it leaves (SI)"));
        let header = ["on", "surface", "property", "change", ">ln sd"];
        parts.push(table(look, &header, rows));
    }
    let sections = [
        ("Not after", not_after(treatment)),
        ("Stock", stock(treatment)),
        ("Not to be done to", forbidden(treatment)),
        ("Nothing modelled", not_modelled(treatment)),
        ("Cautions", treatment.cautions.clone()),
        ("References", treatment.references.clone()),
    ];
    for (title, items) in sections {
        if !items.is_empty() {
            parts.push(heading(title));
            parts.extend(items.iter().map(|text| item(look, text)));
        }
    }
    parts.join("\n")
}

fn effect_rows(effect: &SurfaceEffect) -> Vec<Vec<String>> {
    let on = effect.component_types.join(", ");
    let surfaces = effect.surfaces.join(", ");
    let row = |property: &str, change: String, ln_sd: String| {
        vec![
            on.clone(),
            surfaces.clone(),
            property.to_owned(),
            change,
            ln_sd,
        ]
    };
    let mut rows: Vec<_> = effect
        .properties
        .iter()
        .map(|change| {
            let ln_sd = numbers::significant(change.ln_sd, 2);
            row(&change.property, operation(change), ln_sd)
        })
        .collect();
    if let Some(profile) = &effect.residual_stress {
        rows.push(row("residual stress", stress(profile), String::new()));
    }
    rows
}

fn operation(change: &PropertyChange) -> String {
    let value = format!("{:e}", change.value);
    match change.operation() {
        PropertyOperation::Multiply => format!("x {}", numbers::significant(change.value, 3)),
        PropertyOperation::AtMost => format!("at most {value}"),
        PropertyOperation::AtLeast => format!("at least {value}"),
        PropertyOperation::Set | PropertyOperation::Unspecified => value,
    }
}

/// Surface and strongest compression of a profile.
fn stress(profile: &ResidualStressProfile) -> String {
    let mpa = |pa: f64| format!("{:.0}", pa / 1e6);
    let at = profile.depth_m.iter().zip(&profile.stress_pa);
    let strongest = at.min_by(|one, other| one.1.total_cmp(other.1));
    match (profile.stress_pa.first(), strongest) {
        (Some(surface), Some((depth_m, peak))) => {
            let depth = format!("{:.0}", depth_m * 1e6);
            format!("{} MPa, {} at {depth} um", mpa(*surface), mpa(*peak))
        }
        _ => "none".into(),
    }
}

fn of_types(types: &[String], rest: &str) -> String {
    if types.is_empty() {
        rest.to_owned()
    } else {
        types.join(", ")
    }
}

fn not_after(treatment: &Treatment) -> Vec<String> {
    let rows = treatment.not_after.iter().map(|row| {
        let what = if row.treatment.is_empty() {
            format!("{} (any)", stage(row.stage()))
        } else {
            names::id(&row.treatment).to_owned()
        };
        let on = of_types(&row.component_types, "");
        let on = if on.is_empty() {
            on
        } else {
            format!(" on {on}")
        };
        format!("{what}{on}: {}", row.reason)
    });
    rows.collect()
}

fn stock(treatment: &Treatment) -> Vec<String> {
    let rows = treatment.stock.iter().map(|row| {
        let um = numbers::significant(row.growth_m.abs() * 1e6, 3);
        let word = if row.growth_m > 0.0 { "grows" } else { "loses" };
        format!("each face {word} {um} um: {}", row.remedy)
    });
    rows.collect()
}

fn forbidden(treatment: &Treatment) -> Vec<String> {
    let rows = treatment.forbidden.iter().map(|row| {
        let surfaces = of_types(&row.surfaces, "whole part");
        format!(
            "{} ({surfaces}): {}",
            row.component_types.join(", "),
            row.reason
        )
    });
    rows.collect()
}

fn not_modelled(treatment: &Treatment) -> Vec<String> {
    let rows = treatment.not_modelled.iter().map(|row| {
        format!(
            "{}: {}",
            of_types(&row.component_types, "any other part"),
            row.reason
        )
    });
    rows.collect()
}

/// What treatments would do.
pub fn treatment_check(check: &CheckTreatmentsResponse, look: &Look) -> String {
    let mut parts = Vec::new();
    let rows: Vec<_> = check.changes.iter().flat_map(change_rows).collect();
    if rows.is_empty() {
        parts.push("no surface that the model reads would change".to_owned());
    } else {
        parts.push(heading("Surfaces (SI)"));
        let header = ["surface", "property", ">before", ">after", ">ln sd"];
        parts.push(table(look, &header, rows));
    }
    let mut lines = vec![("treatments", check.treatments.join(", "))];
    let graded = check
        .grades
        .iter()
        .map(|graded| format!("{} {}", names::id(&graded.treatment), grade(graded.grade())));
    lines.push(("evidence", graded.collect::<Vec<_>>().join(", ")));
    for (name, number) in [("price", check.price), ("days", check.lead_days)] {
        if let Some(number) = number {
            lines.push((name, numbers::significant(number, 4)));
        }
    }
    parts.push(pairs(look, &lines));
    parts.push(heading("To know and to do"));
    parts.push(findings(&check.findings, look));
    parts.join("\n")
}

fn change_rows(change: &SurfaceChange) -> Vec<Vec<String>> {
    let empty = SurfaceState::default();
    let before = change.before.as_ref().unwrap_or(&empty);
    let after = change.after.as_ref().unwrap_or(&empty);
    let names: BTreeSet<&String> = after.properties.keys().collect();
    let text = |value: Option<&f64>| value.map_or_else(String::new, |v| format!("{v:.3e}"));
    let mut rows = Vec::new();
    for name in names {
        let (was, is) = (before.properties.get(name), after.properties.get(name));
        let spread = after.ln_sd.get(name);
        if was == is && before.ln_sd.get(name) == spread {
            continue;
        }
        let spread = spread.map_or_else(String::new, |sd| numbers::significant(*sd, 2));
        rows.push(vec![
            change.surface.clone(),
            name.clone(),
            text(was),
            text(is),
            spread,
        ]);
    }
    if before.residual_stress != after.residual_stress {
        let text = |profile: &Option<ResidualStressProfile>| {
            profile.as_ref().map_or_else(|| "none told".into(), stress)
        };
        rows.push(vec![
            change.surface.clone(),
            "residual stress".into(),
            text(&before.residual_stress),
            text(&after.residual_stress),
            String::new(),
        ]);
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::System;

    #[test]
    fn a_change_shows_before_after_and_spread() {
        let state = |value: f64, ln_sd: f64| SurfaceState {
            properties: [("ra_m".to_owned(), value), ("hardness_pa".to_owned(), 6e9)].into(),
            ln_sd: [("ra_m".to_owned(), ln_sd)].into(),
            residual_stress: (ln_sd > 0.0).then(|| ResidualStressProfile {
                depth_m: vec![0.0, 50e-6, 200e-6],
                stress_pa: vec![-400e6, -600e6, 0.0],
            }),
        };
        let check = CheckTreatmentsResponse {
            changes: vec![SurfaceChange {
                surface: "root".into(),
                before: Some(state(0.8e-6, 0.0)),
                after: Some(state(1.6e-6, 0.15)),
            }],
            treatments: vec!["shot-peen".into()],
            ..Default::default()
        };
        let look = Look {
            system: System::Si,
            width: 120,
        };
        let text = treatment_check(&check, &look);
        for part in [
            "8.000e-7",
            "1.600e-6",
            "0.15",
            "-400 MPa, -600 at 50 um",
            "shot-peen",
        ] {
            assert!(text.contains(part), "{part} in\n{text}");
        }
        assert!(
            !text.contains("hardness_pa"),
            "what stays is left out\n{text}"
        );
    }
}
