//! Questions of the week over real gRPC and the command line, with the real plugins.

mod command;
mod one_more_event;
mod several_units;
mod shocks;
mod speed;

use ringland_proto::v1::{
    Bounds, Column, CreateProfileRequest, DutyTable, Profile, ShockThresholds, Unit,
    UpdateUnitRequest,
};
use ringland_tests::{Clients, Server, Shop, at, install, lap_csv, open_shop, record_csv};

const RPM: f64 = std::f64::consts::TAU / 60.0;

/// An event of the invented shop: rpm, torque in N.m, share of 170 minutes. Ours, no source.
const EVENT: [(f64, f64, f64); 8] = [
    (1500.0, 20.0, 0.07),
    (4000.0, 90.0, 0.12),
    (5500.0, 180.0, 0.19),
    (6250.0, 440.0, 0.16),
    (7250.0, 425.0, 0.22),
    (8000.0, 401.0, 0.08),
    (6500.0, -45.0, 0.15),
    (8400.0, 300.0, 0.01),
];

async fn profile(clients: &mut Clients) -> String {
    let column = |value: &dyn Fn(&(f64, f64, f64)) -> f64| Column {
        values: EVENT.iter().map(value).collect(),
    };
    let time_s: Vec<f64> = EVENT.iter().map(|bin| bin.2 * 170.0 * 60.0).collect();
    let table = DutyTable {
        duration_s: time_s.iter().sum(),
        channels: ["engine_speed_rad_s", "engine_torque_n_m", "oil_temp_k"]
            .map(Into::into)
            .into(),
        points: vec![
            column(&|bin| bin.0 * RPM),
            column(&|bin| bin.1),
            column(&|_| 381.0),
        ],
        time_s,
        ..Default::default()
    };
    let request = CreateProfileRequest {
        profile_id: "race".into(),
        profile: Some(Profile {
            duty: Some(table),
            ..Default::default()
        }),
        ..Default::default()
    };
    let created = clients.duty.create_profile(request).await;
    created.expect("a profile").into_inner().name
}

/// Engine A with rings, rod and springs, and what was recorded of it.
struct Engine {
    server: Server,
    clients: Clients,
    shop: Shop,
    profile: String,
    missed: String,
}

/// A lap log in which a downshift is missed once: 9420 rpm for half a second.
fn missed_shift() -> String {
    let csv = lap_csv(800);
    let lines = csv.lines().enumerate().map(|(row, line)| {
        if !(4001..4006).contains(&row) {
            return line.to_owned();
        }
        let mut cells: Vec<&str> = line.split(',').collect();
        (cells[1], cells[2]) = ("9420", "-30.0");
        cells.join(",")
    });
    lines.collect::<Vec<_>>().join("\n") + "\n"
}

async fn engine() -> Engine {
    let types = ["ring_pack", "connecting_rod", "valve_spring"];
    let (server, mut clients, shop) = open_shop(&types).await;
    let profile = profile(&mut clients).await;
    let unit = Unit {
        name: shop.unit.clone(),
        event_profile: profile.clone(),
        shock_thresholds: Some(ShockThresholds {
            over_rev_engine_speed_rad_s: Some(8600.0 * RPM),
            ..Default::default()
        }),
        ..Default::default()
    };
    let mask = ["event_profile", "shock_thresholds"].map(Into::into);
    let update = UpdateUnitRequest {
        unit: Some(unit),
        update_mask: Some(prost_types::FieldMask { paths: mask.into() }),
    };
    clients.units.update_unit(update).await.expect("thresholds");
    install(&mut clients, &shop.build, "rod", "connecting_rod").await;
    install(&mut clients, &shop.build, "springs", "valve_spring").await;
    let (unit, csv) = (shop.unit.clone(), missed_shift());
    let missed = record_csv(&mut clients, &unit, "missed", at(20_000), &csv).await;
    let missed = missed
        .expect("a record")
        .duty_record
        .expect("a record")
        .name;
    let later = record_csv(&mut clients, &unit, "later", at(40_000), &lap_csv(800)).await;
    later.expect("a record");
    Engine {
        server,
        clients,
        shop,
        profile,
        missed,
    }
}

fn least(bounds: Option<Bounds>) -> f64 {
    bounds.and_then(|b| b.at_least).unwrap_or(f64::NEG_INFINITY)
}

fn never_safe(texts: &[&str]) {
    for text in texts {
        let lower = text.to_lowercase();
        let mut words = lower.split(|c: char| !c.is_alphabetic());
        assert!(words.all(|word| word != "safe"), "{text}");
    }
}
