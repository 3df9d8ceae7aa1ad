//! A wet clutch pack and a valve spring carried through the contract: tables, shocks with fields,
//! surfaces with residual stress, mates, a hazard.

use crate::{
    fake::{blank, channel, mate, mechanism, number, reading, shock, slot, surface},
    shop::{Shop, at, build, log, profile},
};
use ringland_host::contract::{
    Card, ChoiceField, ChoiceOption, Consequence, DutyNeed, DutyShocks, DutyTable, LimitSide,
    Operation, Table, TableField,
};
use ringland_ledger::{
    Action, ComponentInput, PredictRequest, ResidualStressProfile, UnitInput, UnitKind,
};

fn wet_clutch() -> Card {
    Card {
        numbers: vec![
            number("limit", "1", (1e-9, 1e9), 1.0),
            number("faces", "1", (2.0, 40.0), 12.0),
        ],
        choices: vec![ChoiceField {
            name: "lining".into(),
            label: "lining".into(),
            options: ["paper", "carbon"]
                .map(|name| ChoiceOption {
                    name: name.into(),
                    label: name.into(),
                })
                .to_vec(),
            default_option: 0,
            note: String::new(),
        }],
        surfaces: vec![surface(
            "lining",
            vec![
                number("boundary_friction", "1", (0.01, 0.5), 0.12),
                number("friction_slope_s_m", "s/m", (-1.0, 1.0), 0.01),
            ],
            false,
        )],
        condition: vec![slot("lining_worn_m", "m"), slot("glaze_index", "1")],
        readings: vec![reading("friction", "1", LimitSide::Below)],
        mechanisms: vec![
            mechanism("lining_wear", Consequence::PowerLoss, None),
            mechanism("glazing", Consequence::PowerLoss, Some("friction")),
        ],
        duty: DutyNeed {
            channels: vec![
                channel("clutch_slip_speed_rad_s", Some(0.0)),
                channel("gearbox_oil_temp_k", Some(360.0)),
            ],
            cycles: Vec::new(),
            shocks: vec![
                shock("launch", &["duration_s", "energy_j"]),
                shock("clutch_engagement", &["energy_j"]),
            ],
            mates: Vec::new(),
        },
        operations: vec![Operation {
            name: "oil_change".into(),
            label: "oil change".into(),
            note: String::new(),
        }],
        ..blank("wet_clutch")
    }
}

fn valve_spring() -> Card {
    Card {
        numbers: vec![number("limit", "1", (1e-9, 1e9), 1e-3)],
        tables: vec![TableField {
            name: "lift".into(),
            label: "lift curve".into(),
            columns: vec![
                number("cam_angle_rad", "rad", (0.0, 7.0), 0.0),
                number("lift_m", "m", (0.0, 0.02), 0.0),
            ],
            minimum_rows: 2,
            maximum_rows: 720,
            default_columns: vec![vec![0.0, 1.0, 2.0], vec![0.0, 0.012, 0.0]],
            note: String::new(),
        }],
        surfaces: vec![surface(
            "wire",
            vec![number("hardness_pa", "Pa", (1e9, 9e9), 5.5e9)],
            true,
        )],
        condition: vec![slot("damage", "1"), slot("load_loss", "1")],
        readings: vec![reading("seat_load", "N", LimitSide::Unlimited)],
        mechanisms: vec![mechanism("fatigue", Consequence::Hazard, None)],
        duty: DutyNeed {
            channels: vec![
                channel("engine_speed_rad_s", None),
                channel("oil_temp_k", Some(378.0)),
            ],
            cycles: Vec::new(),
            shocks: vec![shock(
                "over_rev",
                &["duration_s", "peak_engine_speed_rad_s"],
            )],
            mates: vec![mate("retainer", "keeper_sink_m", 0.0)],
        },
        ..blank("valve_spring")
    }
}

fn launches(starts: &[f64]) -> DutyTable {
    let of = |value: f64| vec![value; starts.len()];
    let fields = [
        "start_s",
        "duration_s",
        "energy_j",
        "peak_power_w",
        "peak_torque_n_m",
    ];
    DutyTable {
        duration_s: 600.0,
        channels: vec!["gearbox_oil_temp_k".into(), "gear".into()],
        time_s: vec![600.0],
        points: vec![vec![365.0], vec![2.0]],
        cycles: Vec::new(),
        shocks: vec![DutyShocks {
            kind: "launch".into(),
            fields: fields.iter().map(ToString::to_string).collect(),
            columns: vec![starts.to_vec(), of(1.2), of(4.0e4), of(8e4), of(500.0)],
        }],
    }
}

#[test]
fn a_wet_clutch_fits() {
    let shop = Shop::open();
    shop.activate_card(wet_clutch());
    let clutch = UnitInput {
        kind: UnitKind::Clutch,
        ..UnitInput::default()
    };
    shop.ledger.create_unit("clutch-1", clutch, "").unwrap();
    shop.build("clutch-1", "b1", 0.0);
    shop.profile("drag-day", launches(&[10.0, 200.0]));
    let mut input = ComponentInput {
        component_type: "wet_clutch".into(),
        ..ComponentInput::default()
    };
    input.spec.choices.insert("lining".into(), "carbon".into());
    let name = shop
        .ledger
        .create_component("wc-1", input.clone(), "")
        .unwrap()
        .name;
    shop.ledger
        .install_component(&name, &build("clutch-1", "b1"), "", at(0.0), "")
        .unwrap();
    let mut record = log("clutch-1", "r-1", 1.0, 1.0);
    record.duty = launches(&[5.0, 120.0, 300.0]);
    shop.ledger.record_duty(record).unwrap();
    shop.ledger
        .record_rework(&name, "oil_change", at(2.0), "", "")
        .unwrap();
    let request = PredictRequest {
        profile: Some(profile("drag-day")),
        ..PredictRequest::of(name)
    };
    let prediction = shop.ledger.predict(&request).unwrap();
    // Three launches of 40 kJ and 600 s at 365 K, by the fake's rule.
    let heat = 1e-9 * (3.0 * 4.0e4 + 365.0 * 600.0);
    assert!((prediction.provenance.condition["glaze_index"] - heat).abs() < 1e-15);
    assert_eq!(
        prediction.life.crank_revolutions, None,
        "no engine speed, no turns"
    );
    let drivers = &prediction.mechanisms[1].drivers;
    assert!(
        drivers
            .iter()
            .any(|d| d.label == "shock: launch from rest" && d.time_share.is_none())
    );
    input.spec.choices.insert("lining".into(), "wood".into());
    let findings = shop.ledger.check_component(&input).unwrap().findings;
    assert_eq!(findings[0].expected, "one of paper, carbon");
}

#[test]
fn a_valve_spring_fits() {
    let shop = Shop::open();
    shop.activate_card(valve_spring());
    let retainer = Card {
        condition: vec![slot("keeper_sink_m", "m")],
        ..blank("retainer")
    };
    shop.activate_card(retainer);
    let mut input = ComponentInput {
        component_type: "valve_spring".into(),
        ..ComponentInput::default()
    };
    let wire = input.surfaces.entry("wire".into()).or_default();
    wire.ln_sd.insert("hardness_pa".into(), 0.05);
    wire.residual_stress = Some(ResidualStressProfile {
        depth_m: vec![0.0, 5e-5, 2e-4],
        stress_pa: vec![-6e8, -8e8, 0.0],
    });
    let lift = vec![vec![0.0, 1.1, 2.2], vec![0.0, 0.013, 0.0]];
    input
        .spec
        .tables
        .insert("lift".into(), Table { columns: lift });
    let spring = shop
        .ledger
        .create_component("vs-1", input.clone(), "")
        .unwrap()
        .name;
    shop.ledger
        .install_component(&spring, &build("engine-a", "b1"), "", at(0.0), "")
        .unwrap();
    shop.installed("re-1", "retainer", "engine-a");
    shop.run("engine-a", 1.0, 900.0);
    let prediction = shop.predict(&spring).unwrap();
    assert_eq!(prediction.mechanisms[0].consequence, Consequence::Hazard);
    assert!(
        !prediction
            .notes
            .iter()
            .any(|n| n.field.starts_with("mates")),
        "{:?}",
        prediction.notes
    );
    // Damage is past its limit of 1e-3, and a spring that breaks can hurt people.
    assert_eq!(
        prediction.advice.action,
        Action::Stop,
        "{}",
        prediction.advice.text
    );
    // Another peening is another specimen, and depths must rise.
    let digest = prediction.provenance.specimen_digest;
    let wire = input.surfaces.get_mut("wire").unwrap();
    let stress = wire.residual_stress.as_mut().unwrap();
    stress.stress_pa[0] = -9e8;
    let mask = ["surfaces".to_owned()];
    let from = Some(at(9.0));
    shop.ledger
        .update_component(&spring, input.clone(), &mask, "", from, "peened again")
        .unwrap();
    let after = shop.predict(&spring).unwrap();
    assert_ne!(after.provenance.specimen_digest, digest);
    assert!(after.notes.iter().any(|n| n.field == "revision"));
    let wire = input.surfaces.get_mut("wire").unwrap();
    wire.residual_stress.as_mut().unwrap().depth_m[1] = -1.0;
    let findings = shop.ledger.check_component(&input).unwrap().findings;
    assert_eq!(findings[0].field, "surfaces.wire.residual_stress");
}
