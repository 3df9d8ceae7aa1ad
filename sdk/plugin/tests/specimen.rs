//! A spec against its card: the default spec is sound, and each fault is found and named.

use ringland_plugin::{
    DutyNeed, ModelCard, Specimen, check_against_card, choice, default_specimen, number, surface,
    table,
};

fn card() -> ModelCard {
    let depth = number("depth_m", "depth", "m", (0.0, 1.0), 0.5, "");
    let hardness = number("hardness_pa", "hardness", "Pa", (1e9, 1e10), 6e9, "");
    ModelCard {
        component_type: "sample".into(),
        label: "sample".into(),
        version: "1.0.0".into(),
        description: String::new(),
        numbers: vec![number("bore_m", "bore", "m", (0.05, 0.15), 0.086, "")],
        choices: vec![choice(
            "material",
            "material",
            &[("iron", ""), ("steel", "")],
            1,
            "",
        )],
        tables: vec![table(
            "profile",
            "profile",
            vec![depth],
            (1, 2),
            vec![vec![0.5]],
            "",
        )],
        surfaces: vec![surface("face", "face", vec![hardness], true, "")],
        condition: vec![],
        readings: vec![],
        mechanisms: vec![],
        duty: DutyNeed {
            channels: vec![],
            cycles: vec![],
            shocks: vec![],
            mates: vec![],
        },
        operations: vec![],
        constants: vec![],
        references: vec![],
        leaves_out: vec![],
        cautions: vec![],
    }
}

#[test]
fn the_default_spec_is_sound() {
    assert_eq!(check_against_card(&card(), &default_specimen(&card())), []);
}

#[test]
fn an_empty_spec_misses_every_list() {
    let empty = Specimen {
        numbers: vec![],
        choices: vec![],
        tables: vec![],
        surfaces: vec![],
    };
    let fields: Vec<String> = check_against_card(&card(), &empty)
        .into_iter()
        .map(|f| f.field)
        .collect();
    assert_eq!(fields, ["numbers", "choices", "tables", "surfaces"]);
}

/// The field that must be named, and what is done to it.
type Fault = (&'static str, fn(&mut Specimen));

#[test]
fn each_fault_is_named() {
    let faults: [Fault; 11] = [
        ("bore_m", |s| s.numbers[0] = 0.3),
        ("bore_m", |s| s.numbers[0] = f64::NAN),
        ("material", |s| s.choices[0] = 2),
        ("profile", |s| s.tables[0].columns[0] = vec![0.1, 0.2, 0.3]),
        ("profile.depth_m[1]", |s| {
            s.tables[0].columns[0] = vec![0.1, f64::INFINITY];
        }),
        ("face.hardness_pa", |s| s.surfaces[0].values[0] = 0.0),
        ("face.ln_sd.hardness_pa", |s| s.surfaces[0].ln_sd[0] = -0.1),
        ("face.depth_m", |s| s.surfaces[0].depth_m = vec![1e-5]),
        ("face.depth_m", |s| {
            s.surfaces[0].depth_m = vec![1e-5, 1e-6];
            s.surfaces[0].residual_stress_pa = vec![-5e8, 0.0];
        }),
        ("face.residual_stress_pa", |s| {
            s.surfaces[0].depth_m = vec![1e-5];
            s.surfaces[0].residual_stress_pa = vec![f64::NAN];
        }),
        ("face", |s| s.surfaces[0].values.clear()),
    ];
    for (field, spoil) in faults {
        let mut specimen = default_specimen(&card());
        spoil(&mut specimen);
        let findings = check_against_card(&card(), &specimen);
        assert_eq!(findings.len(), 1, "{field}: {findings:?}");
        assert_eq!(findings[0].field, field);
    }
}

#[test]
fn a_finding_says_value_range_unit_and_remedy() {
    let mut specimen = default_specimen(&card());
    specimen.numbers[0] = 86.0;
    let finding = check_against_card(&card(), &specimen).remove(0);
    assert_eq!(
        (finding.value.as_str(), finding.expected.as_str()),
        ("86", "0.05 to 0.15 m")
    );
    assert!(
        finding.remedy.contains("unit of bore"),
        "{}",
        finding.remedy
    );
}
