//! The catalogue of treatments and what it does.

use super::{components, finding, time};
use ringland_ledger::{self as domain, Origin};
use ringland_proto::v1 as api;

fn name(id: &str) -> String {
    if id.is_empty() {
        String::new()
    } else {
        format!("treatments/{id}")
    }
}

pub(super) fn grade(grade: domain::Grade) -> i32 {
    let grade = match grade {
        domain::Grade::Published => api::EvidenceGrade::Published,
        domain::Grade::CommonPractice => api::EvidenceGrade::CommonPractice,
        domain::Grade::Shop => api::EvidenceGrade::Shop,
        domain::Grade::Weak => api::EvidenceGrade::Weak,
    };
    grade.into()
}

fn stage(stage: domain::Stage) -> i32 {
    let stage = match stage {
        domain::Stage::Machine => api::WorkStage::Machine,
        domain::Stage::StressRelieve => api::WorkStage::StressRelieve,
        domain::Stage::Harden => api::WorkStage::Harden,
        domain::Stage::Grind => api::WorkStage::Grind,
        domain::Stage::Peen => api::WorkStage::Peen,
        domain::Stage::Superfinish => api::WorkStage::Superfinish,
        domain::Stage::Coat => api::WorkStage::Coat,
        domain::Stage::FinalMeasure => api::WorkStage::FinalMeasure,
    };
    stage.into()
}

fn operation(operation: domain::Operation) -> i32 {
    let operation = match operation {
        domain::Operation::Set => api::PropertyOperation::Set,
        domain::Operation::Multiply => api::PropertyOperation::Multiply,
        domain::Operation::AtMost => api::PropertyOperation::AtMost,
        domain::Operation::AtLeast => api::PropertyOperation::AtLeast,
    };
    operation.into()
}

fn conflict(row: domain::OrderConflict) -> api::OrderConflict {
    api::OrderConflict {
        stage: row.stage.map_or(0, stage),
        treatment: name(&row.treatment),
        component_types: row.component_types,
        reason: row.reason,
    }
}

fn stock(row: domain::Stock) -> api::StockChange {
    api::StockChange {
        component_types: row.component_types,
        surfaces: row.surfaces,
        growth_m: row.growth_m,
        ln_sd: row.ln_sd,
        remedy: row.remedy,
    }
}

fn forbidden(row: domain::Forbidden) -> api::ForbiddenSurface {
    api::ForbiddenSurface {
        component_types: row.component_types,
        surfaces: row.surfaces,
        reason: row.reason,
    }
}

fn not_modelled(row: domain::NotModelled) -> api::NotModelled {
    api::NotModelled {
        component_types: row.component_types,
        reason: row.reason,
    }
}

fn effect(row: domain::Effect) -> api::SurfaceEffect {
    let change = |change: domain::PropertyChange| api::PropertyChange {
        property: change.property,
        operation: operation(change.operation),
        value: change.value,
        ln_sd: change.ln_sd,
    };
    api::SurfaceEffect {
        component_types: row.component_types,
        surfaces: row.surfaces,
        properties: row.properties.into_iter().map(change).collect(),
        residual_stress: row.residual_stress.map(components::profile_to_message),
        note: row.note,
    }
}

/// To a message.
pub fn to_message(entry: domain::CatalogueEntry) -> api::Treatment {
    let (catalogue_version, revision) = match entry.origin {
        Origin::BuiltIn { catalogue_version } => (catalogue_version, 0),
        Origin::Shop { revision } => (String::new(), revision),
    };
    let treatment = entry.treatment;
    api::Treatment {
        name: name(&treatment.id),
        label: treatment.label,
        description: treatment.description,
        grade: grade(treatment.grade),
        source: treatment.source,
        references: treatment.references,
        stage: stage(treatment.stage),
        not_after: treatment.not_after.into_iter().map(conflict).collect(),
        stock: treatment.stock.into_iter().map(stock).collect(),
        price: treatment.price,
        lead_days: treatment.lead_days,
        cautions: treatment.cautions,
        forbidden: treatment.forbidden.into_iter().map(forbidden).collect(),
        effects: treatment.effects.into_iter().map(effect).collect(),
        not_modelled: treatment
            .not_modelled
            .into_iter()
            .map(not_modelled)
            .collect(),
        supersedes: name(&treatment.supersedes),
        superseded_by: entry.superseded_by.iter().map(|id| name(id)).collect(),
        catalogue_version,
        revision,
        text: entry.text,
        update_time: entry.update_time.map(time::to_message),
        etag: entry.etag,
    }
}

/// What treatments are to be done. An id stands for its full name.
pub fn uses(treatments: Vec<api::TreatmentUse>) -> Vec<domain::TreatmentUse> {
    let of = |asked: api::TreatmentUse| domain::TreatmentUse {
        treatment: match asked.treatment.strip_prefix("treatments/") {
            Some(id) => id.to_owned(),
            None => asked.treatment,
        },
        surfaces: asked.surfaces,
    };
    treatments.into_iter().map(of).collect()
}

/// To a message.
pub fn check_to_message(check: domain::TreatmentCheck) -> api::CheckTreatmentsResponse {
    let change = |change: domain::SurfaceChange| api::SurfaceChange {
        surface: change.surface,
        before: Some(components::surface_to_message(change.before)),
        after: Some(components::surface_to_message(change.after)),
    };
    let graded = |(id, of): (String, domain::Grade)| api::TreatmentGrade {
        treatment: name(&id),
        grade: grade(of),
    };
    api::CheckTreatmentsResponse {
        findings: check.findings.iter().map(finding::to_message).collect(),
        changes: check.changes.into_iter().map(change).collect(),
        treatments: check.treatments,
        price: check.price,
        lead_days: check.lead_days,
        grades: check.grades.into_iter().map(graded).collect(),
    }
}

/// To a message.
pub fn applied_to_message(applied: domain::AppliedTreatments) -> api::ApplyTreatmentsResponse {
    api::ApplyTreatmentsResponse {
        revision: Some(components::revision_to_message(applied.revision)),
        findings: applied.findings.iter().map(finding::to_message).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_name_and_an_id_are_the_same() {
        let asked = |treatment: &str| api::TreatmentUse {
            treatment: treatment.into(),
            surfaces: vec!["flank".into()],
        };
        let uses = uses(vec![asked("treatments/shot-peen"), asked("shot-peen")]);
        assert_eq!(uses[0], uses[1]);
        assert_eq!(uses[0].treatment, "shot-peen");
    }

    #[test]
    fn the_numbers_of_stages_are_the_order_of_work() {
        let numbers = domain::Stage::ALL.map(stage);
        assert_eq!(numbers, [1, 2, 3, 4, 5, 6, 7, 8]);
        let grades = domain::Grade::ALL.map(grade);
        assert_eq!(grades, [1, 2, 3, 4]);
    }
}
