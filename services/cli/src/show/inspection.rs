//! Inspections and what they say.

use super::{finding::findings, quantity::Shown};
use crate::{
    names, numbers,
    out::{Look, heading},
    table::{item, pairs, table},
    times,
};
use ringland_proto::v1::{
    Correction, CrackCheck, CrackMethod, CrackResult, Explanation, Inspection, MeasuredReading,
    MechanismCorrection, ReadingComparison,
};

/// Why a reading is as it is, in words.
pub fn explanation_word(explanation: Explanation) -> &'static str {
    match explanation {
        Explanation::Unspecified | Explanation::Wear => "wear",
        Explanation::CastingShift => "casting shift",
        Explanation::Abuse => "abuse",
        Explanation::AssemblyError => "assembly error",
        Explanation::InstrumentBias => "instrument bias",
        Explanation::Unexplained => "NOT EXPLAINED",
    }
}

/// An inspection as it was entered.
pub fn inspection(inspection: &Inspection, look: &Look) -> String {
    let lines = [
        ("component", names::id(&inspection.component).to_owned()),
        ("at", times::show(inspection.inspection_time.as_ref())),
        ("by", inspection.inspected_by.clone()),
        ("notes", inspection.notes.clone()),
    ];
    let mut parts = vec![
        heading(&names::short(&inspection.name)),
        pairs(look, &lines),
    ];
    if !inspection.readings.is_empty() {
        let header = [
            "reading",
            "position",
            ">read (SI)",
            ">at 20 degC",
            "instrument",
            "explained as",
        ];
        let rows = inspection.readings.iter().map(line).collect();
        parts.push(table(look, &header, rows));
    }
    let looks = inspection.crack_checks.iter();
    parts.extend(looks.map(|check| item(look, &crack_check(check))));
    let changes = inspection.readings.iter().flat_map(|line| {
        let said = |change: &ringland_proto::v1::ExplanationChange| {
            let text = format!(
                "{} {}: {} by {} at {}: {}",
                line.reading,
                line.position,
                explanation_word(change.became()),
                change.by,
                times::show(change.change_time.as_ref()),
                change.reason
            );
            item(look, &text)
        };
        line.explanation_history
            .iter()
            .map(said)
            .collect::<Vec<_>>()
    });
    parts.extend(changes);
    parts.join("\n")
}

fn line(line: &MeasuredReading) -> Vec<String> {
    vec![
        line.reading.clone(),
        line.position.clone(),
        numbers::significant(line.value, 4),
        numbers::significant(line.corrected_value, 4),
        format!("{} {}", line.instrument, line.instrument_id)
            .trim()
            .to_owned(),
        explanation_word(line.explanation()).to_owned(),
    ]
}

fn crack_check(check: &CrackCheck) -> String {
    let method = match check.method() {
        CrackMethod::Unspecified => "crack check",
        CrackMethod::NakedEye => "naked eye",
        CrackMethod::Penetrant => "penetrant",
        CrackMethod::WetFluorescentMagneticParticle => "wet fluorescent magnetic particle",
        CrackMethod::EddyCurrent => "eddy current",
    };
    let result = match (check.result(), check.indication_length_m) {
        (CrackResult::Clean, _) => "no indication".to_owned(),
        (_, Some(length)) => format!("INDICATION of {} mm", numbers::significant(length * 1e3, 2)),
        _ => "INDICATION".to_owned(),
    };
    format!("{method}: {result} {}", check.note)
        .trim()
        .to_owned()
}

/// Readings beside what the model expected.
pub fn comparisons(comparisons: &[ReadingComparison], look: &Look) -> String {
    let rows = comparisons.iter().map(|c| {
        let largest = c.measured.abs().max(c.predicted.abs());
        let units = Shown::choose(&c.unit, largest, look.system);
        let each = |of: &dyn Fn(&Shown) -> f64| {
            let cells = units.iter().map(|unit| numbers::significant(of(unit), 3));
            cells.collect::<Vec<_>>().join("\n")
        };
        let symbols = units.iter().map(|unit| unit.symbol().to_owned());
        let rate = c
            .ln_rate
            .map_or("-".into(), |ln| numbers::significant(ln.exp(), 3));
        vec![
            c.label.clone(),
            each(&|unit| unit.value(c.measured)),
            each(&|unit| unit.value(c.predicted)),
            symbols.collect::<Vec<_>>().join("\n"),
            rate,
            c.weight
                .map_or("-".into(), |weight| numbers::significant(weight, 2)),
            explanation_word(c.explanation()).to_owned(),
            if c.learnt { "yes" } else { "no" }.to_owned(),
        ]
    });
    let header = [
        "reading",
        ">measured",
        ">expected",
        "unit",
        ">rate",
        ">weight",
        "as",
        "learnt",
    ];
    let said = comparisons.iter().map(|c| item(look, &c.text));
    format!(
        "{}\n{}",
        table(look, &header, rows.collect()),
        said.collect::<Vec<_>>().join("\n")
    )
}

/// How inspections have moved the model.
pub fn correction(correction: &Correction, look: &Look) -> String {
    let title = format!("{}  corrections", names::id(&correction.component));
    let mut parts = vec![heading(&title)];
    for mechanism in &correction.mechanisms {
        parts.push(item(look, &rate(mechanism)));
        let layers = mechanism.rate.iter().flat_map(|rate| &rate.layers);
        let rows: Vec<_> = layers
            .map(|layer| {
                vec![
                    format!("{} {}", layer.layer, layer.key).trim().to_owned(),
                    numbers::significant(layer.median, 3),
                    numbers::significant(layer.ln_sd, 2),
                    numbers::significant(layer.prior_ln_sd, 2),
                    layer.observations.to_string(),
                    layer.units.to_string(),
                ]
            })
            .collect();
        if !rows.is_empty() {
            let header = [
                "layer",
                ">times",
                ">spread",
                ">before",
                ">readings",
                ">units",
            ];
            parts.push(table(look, &header, rows));
        }
    }
    if !correction.comparisons.is_empty() {
        parts.push(heading("Its readings"));
        parts.push(comparisons(&correction.comparisons, look));
    }
    if !correction.findings.is_empty() {
        parts.push(findings(&correction.findings, look));
    }
    parts.join("\n")
}

fn rate(mechanism: &MechanismCorrection) -> String {
    let rate = mechanism.rate.clone().unwrap_or_default();
    let believed = format!(
        "{}: rate {} times the model's, spread {}; {}",
        mechanism.label,
        numbers::significant(rate.median, 3),
        numbers::significant(rate.ln_sd, 2),
        rate.evidence
    );
    let biases = rate.instrument_biases.iter().map(|bias| {
        format!(
            "{} reads {} % off (spread {} %)",
            bias.instrument_id,
            numbers::significant(100.0 * bias.mean, 2),
            numbers::significant(100.0 * bias.sd, 2)
        )
    });
    let unproven = Some(rate.unproven.clone()).filter(|text| !text.is_empty());
    let parts: Vec<String> = [believed]
        .into_iter()
        .chain(biases)
        .chain(unproven)
        .collect();
    parts.join("; ")
}
