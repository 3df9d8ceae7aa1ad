//! Inspections, both ways.

use super::{Fields, finding, predictions, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// What a client says of an inspection, and of which component.
pub fn input(
    fields: &mut Fields,
    inspection: Option<api::Inspection>,
) -> Option<(domain::ComponentName, domain::InspectionInput)> {
    let inspection = fields.required("inspection", inspection)?;
    let component = fields.name("inspection.component", &inspection.component);
    let at = fields.time("inspection.inspection_time", inspection.inspection_time);
    let readings = inspection.readings.into_iter().enumerate();
    let readings: Vec<_> = readings.map(|(i, line)| reading(fields, i, line)).collect();
    let checks = inspection.crack_checks.into_iter().enumerate();
    let checks: Vec<_> = checks
        .map(|(i, check)| crack_check(fields, i, check))
        .collect();
    let input = domain::InspectionInput {
        inspection_time: Some(at?),
        inspected_by: inspection.inspected_by,
        notes: inspection.notes,
        readings: readings.into_iter().collect::<Option<_>>()?,
        crack_checks: checks.into_iter().collect::<Option<_>>()?,
    };
    Some((component?, input))
}

fn reading(
    fields: &mut Fields,
    index: usize,
    line: api::MeasuredReading,
) -> Option<domain::MeasuredReading> {
    let place = format!("inspection.readings[{index}]");
    let state = line.thermal_state();
    let explanation = match line.explanation() {
        api::Explanation::Unspecified if line.explanation == 0 => domain::Explanation::Wear,
        other => explanation(fields, &format!("{place}.explanation"), other)?,
    };
    let master = match line.master {
        Some(master) => Some(master_comparison(fields, &place, &master)?),
        None => None,
    };
    Some(domain::MeasuredReading {
        reading: line.reading,
        value: line.value,
        position: line.position,
        instrument: line.instrument,
        instrument_id: line.instrument_id,
        instrument_sd: line.instrument_sd,
        master,
        thermal_state: match state {
            api::ThermalState::Unspecified => domain::ThermalState::Unspecified,
            api::ThermalState::Hot => domain::ThermalState::Hot,
            api::ThermalState::Cold => domain::ThermalState::Cold,
        },
        zero: line.zero,
        explanation,
        corrected_value: 0.0,
        explanation_history: Vec::new(),
    })
}

fn master_comparison(
    fields: &mut Fields,
    place: &str,
    master: &api::MasterComparison,
) -> Option<domain::MasterComparison> {
    let material = |fields: &mut Fields, field: &str, number: i32| {
        let known = api::Material::try_from(number);
        if known.is_err() {
            fields.refuse(
                &format!("{place}.master.{field}"),
                "is not a material of the contract",
            );
        }
        Some(match known.ok()? {
            api::Material::Unspecified | api::Material::Steel => domain::Material::Steel,
            api::Material::Iron => domain::Material::Iron,
            api::Material::Aluminium => domain::Material::Aluminium,
            api::Material::Titanium => domain::Material::Titanium,
            api::Material::Carbide => domain::Material::Carbide,
        })
    };
    let part = material(fields, "part_material", master.part_material);
    let of_master = material(fields, "master_material", master.master_material);
    Some(domain::MasterComparison {
        part_temperature_k: master.part_temperature_k,
        master_temperature_k: master.master_temperature_k,
        size_m: master.size_m,
        part_material: part?,
        master_material: of_master?,
        part_expansion_per_k: master.part_expansion_per_k,
        master_expansion_per_k: master.master_expansion_per_k,
    })
}

/// An explanation that a person gives.
fn explanation(
    fields: &mut Fields,
    field: &str,
    given: api::Explanation,
) -> Option<domain::Explanation> {
    let text = "expected wear, casting shift, abuse, assembly error or instrument bias";
    match given {
        api::Explanation::Wear => Some(domain::Explanation::Wear),
        api::Explanation::CastingShift => Some(domain::Explanation::CastingShift),
        api::Explanation::Abuse => Some(domain::Explanation::Abuse),
        api::Explanation::AssemblyError => Some(domain::Explanation::AssemblyError),
        api::Explanation::InstrumentBias => Some(domain::Explanation::InstrumentBias),
        api::Explanation::Unspecified | api::Explanation::Unexplained => {
            fields.refuse(field, text);
            None
        }
    }
}

fn crack_check(
    fields: &mut Fields,
    index: usize,
    check: api::CrackCheck,
) -> Option<domain::CrackCheck> {
    let place = format!("inspection.crack_checks[{index}]");
    let method = match check.method() {
        api::CrackMethod::Unspecified => None,
        api::CrackMethod::NakedEye => Some(domain::CrackMethod::NakedEye),
        api::CrackMethod::Penetrant => Some(domain::CrackMethod::Penetrant),
        api::CrackMethod::WetFluorescentMagneticParticle => {
            Some(domain::CrackMethod::WetFluorescentMagneticParticle)
        }
        api::CrackMethod::EddyCurrent => Some(domain::CrackMethod::EddyCurrent),
    };
    let result = match check.result() {
        api::CrackResult::Unspecified => None,
        api::CrackResult::Clean => Some(domain::CrackResult::Clean),
        api::CrackResult::Indication => Some(domain::CrackResult::Indication),
    };
    if method.is_none() {
        fields.refuse(
            &format!("{place}.method"),
            "is not set; say how cracks were looked for",
        );
    }
    if result.is_none() {
        fields.refuse(
            &format!("{place}.result"),
            "is not set; say clean or indication",
        );
    }
    Some(domain::CrackCheck {
        method: method?,
        mechanisms: check.mechanisms,
        result: result?,
        indication_length_m: check.indication_length_m,
        a90_m: check.a90_m,
        note: check.note,
    })
}

/// Why a reading is as it is.
pub fn explain(
    fields: &mut Fields,
    call: api::ExplainInspectionRequest,
) -> Option<domain::ExplainInspection> {
    let name = fields.name("name", &call.name);
    let explanation = explanation(fields, "explanation", call.explanation());
    Some(domain::ExplainInspection {
        name: name?,
        reading: call.reading,
        position: call.position,
        explanation: explanation?,
        by: call.by,
        reason: call.reason,
    })
}

/// To a message.
pub fn to_message(inspection: domain::Inspection) -> api::Inspection {
    api::Inspection {
        name: inspection.name.to_string(),
        component: inspection.component.to_string(),
        inspection_time: Some(time::to_message(inspection.inspection_time)),
        inspected_by: inspection.inspected_by,
        notes: inspection.notes,
        readings: inspection
            .readings
            .into_iter()
            .map(reading_to_message)
            .collect(),
        crack_checks: inspection
            .crack_checks
            .into_iter()
            .map(check_to_message)
            .collect(),
        create_time: Some(time::to_message(inspection.create_time)),
    }
}

fn reading_to_message(line: domain::MeasuredReading) -> api::MeasuredReading {
    let state = match line.thermal_state {
        domain::ThermalState::Unspecified => api::ThermalState::Unspecified,
        domain::ThermalState::Hot => api::ThermalState::Hot,
        domain::ThermalState::Cold => api::ThermalState::Cold,
    };
    let change = |change: domain::ExplanationChange| api::ExplanationChange {
        was: explanation_to_message(change.was).into(),
        became: explanation_to_message(change.became).into(),
        by: change.by,
        reason: change.reason,
        change_time: Some(time::to_message(change.change_time)),
    };
    api::MeasuredReading {
        reading: line.reading,
        value: line.value,
        position: line.position,
        instrument: line.instrument,
        instrument_id: line.instrument_id,
        instrument_sd: line.instrument_sd,
        master: line.master.map(master_to_message),
        thermal_state: state.into(),
        zero: line.zero,
        explanation: explanation_to_message(line.explanation).into(),
        corrected_value: line.corrected_value,
        explanation_history: line.explanation_history.into_iter().map(change).collect(),
    }
}

fn master_to_message(master: domain::MasterComparison) -> api::MasterComparison {
    let material = |material: domain::Material| match material {
        domain::Material::Steel => api::Material::Steel,
        domain::Material::Iron => api::Material::Iron,
        domain::Material::Aluminium => api::Material::Aluminium,
        domain::Material::Titanium => api::Material::Titanium,
        domain::Material::Carbide => api::Material::Carbide,
    };
    api::MasterComparison {
        part_temperature_k: master.part_temperature_k,
        master_temperature_k: master.master_temperature_k,
        size_m: master.size_m,
        part_material: material(master.part_material).into(),
        master_material: material(master.master_material).into(),
        part_expansion_per_k: master.part_expansion_per_k,
        master_expansion_per_k: master.master_expansion_per_k,
    }
}

fn explanation_to_message(explanation: domain::Explanation) -> api::Explanation {
    match explanation {
        domain::Explanation::Wear => api::Explanation::Wear,
        domain::Explanation::CastingShift => api::Explanation::CastingShift,
        domain::Explanation::Abuse => api::Explanation::Abuse,
        domain::Explanation::AssemblyError => api::Explanation::AssemblyError,
        domain::Explanation::InstrumentBias => api::Explanation::InstrumentBias,
        domain::Explanation::Unexplained => api::Explanation::Unexplained,
    }
}

fn check_to_message(check: domain::CrackCheck) -> api::CrackCheck {
    let method = match check.method {
        domain::CrackMethod::NakedEye => api::CrackMethod::NakedEye,
        domain::CrackMethod::Penetrant => api::CrackMethod::Penetrant,
        domain::CrackMethod::WetFluorescentMagneticParticle => {
            api::CrackMethod::WetFluorescentMagneticParticle
        }
        domain::CrackMethod::EddyCurrent => api::CrackMethod::EddyCurrent,
    };
    let result = match check.result {
        domain::CrackResult::Clean => api::CrackResult::Clean,
        domain::CrackResult::Indication => api::CrackResult::Indication,
    };
    api::CrackCheck {
        method: method.into(),
        mechanisms: check.mechanisms,
        result: result.into(),
        indication_length_m: check.indication_length_m,
        a90_m: check.a90_m,
        note: check.note,
    }
}

/// To messages.
pub fn comparisons(comparisons: Vec<domain::ReadingComparison>) -> Vec<api::ReadingComparison> {
    comparisons.into_iter().map(comparison).collect()
}

fn comparison(comparison: domain::ReadingComparison) -> api::ReadingComparison {
    api::ReadingComparison {
        inspection: comparison.inspection.to_string(),
        reading: comparison.reading,
        label: comparison.label,
        unit: comparison.unit,
        lines: comparison.lines,
        measured: comparison.measured,
        measured_sd: comparison.measured_sd,
        worst: comparison.worst,
        predicted: comparison.predicted,
        limit: comparison.limit,
        probability_past_limit: comparison.probability_past_limit,
        mechanism: comparison.mechanism,
        ln_rate: comparison.ln_rate,
        ln_rate_sd: comparison.ln_rate_sd,
        weight: comparison.weight,
        surprise: comparison.surprise,
        explanation: explanation_to_message(comparison.explanation).into(),
        learnt: comparison.learnt,
        text: comparison.text,
    }
}

/// To a message.
pub fn recorded_to_message(
    recorded: domain::RecordInspectionResponse,
) -> api::RecordInspectionResponse {
    api::RecordInspectionResponse {
        inspection: Some(to_message(recorded.inspection)),
        findings: recorded.findings.iter().map(finding::to_message).collect(),
        comparisons: comparisons(recorded.comparisons),
    }
}

/// To a message.
pub fn checked_to_message(
    checked: domain::CheckInspectionResponse,
) -> api::CheckInspectionResponse {
    api::CheckInspectionResponse {
        findings: checked.findings.iter().map(finding::to_message).collect(),
        comparisons: comparisons(checked.comparisons),
    }
}

/// To a message.
pub fn correction_to_message(correction: domain::Correction) -> api::Correction {
    let mechanism = |mechanism: domain::MechanismCorrection| api::MechanismCorrection {
        mechanism: mechanism.mechanism,
        label: mechanism.label,
        rate: Some(predictions::rate(mechanism.rate)),
    };
    api::Correction {
        component: correction.component.to_string(),
        component_type: correction.component_type,
        model_digest: correction.model_digest.to_string(),
        mechanisms: correction.mechanisms.into_iter().map(mechanism).collect(),
        comparisons: comparisons(correction.comparisons),
        findings: correction
            .findings
            .iter()
            .map(finding::to_message)
            .collect(),
    }
}
