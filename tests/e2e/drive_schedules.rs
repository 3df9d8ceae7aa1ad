//! Published drive schedules: input that nobody here wrote. They are fetched by
//! `tests/drive-schedules/fetch.sh` into the folder that `RINGLAND_DRIVE_SCHEDULES` names (`tests/run`
//! does both).

use ringland_cli::demo::{MapFile, RoadCar, Schedule};
use ringland_mechanics::counting::rainflow;
use ringland_proto::v1::{
    CreateProfileRequest, GetDutyRecordRequest, ListDutyRecordsRequest, PredictRequest, Prediction,
    Profile,
};
use ringland_tests::{Clients, Log, Server, Shop, at, open_driveline, plugin, program, record_log};
use std::{
    fs::File,
    path::{Path, PathBuf},
};

const FOLDER: &str = "RINGLAND_DRIVE_SCHEDULES";

/// A schedule and what is known of it.
struct Published {
    file: &'static str,
    samples: usize,
    seconds: f64,
    km: f64,
    top_km_h: f64,
    /// Kinetic energy gained in accelerations [J/kg]; `None` where not computed.
    energy_j_kg: Option<f64>,
    /// Full and half cycles of the speed in km/h, and the sum of count (range/100)^5.
    full: f64,
    half: f64,
    fifth_power_sum: f64,
}

/// Samples, duration, distance, top speed and energy: computed from the files with numpy 2.4.6; they agree
/// with the schedules as published (40 CFR part 86 appendix I: UDDS 1369 s, 7.45 miles; highway 765 s,
/// 10.26 miles; US06 8.01 miles, from memory; UN GTR No. 15: class 3b 1800 s, 23.27 km, 131.3 km/h). Cycle counts:
/// the Python package rainflow 3.2.0 on the same speeds.
const SCHEDULES: [Published; 5] = [
    published(
        "udds",
        1370,
        (1369.0, 11.9904, 91.251),
        Some(2098.498),
        (60.0, 4.0, 1.053_851),
    ),
    published(
        "hwfet",
        766,
        (765.0, 16.5068, 96.401),
        Some(1164.967),
        (30.0, 2.0, 0.837_730),
    ),
    published(
        "us06",
        601,
        (600.0, 12.8876, 129.230),
        Some(2711.710),
        (71.0, 6.0, 6.147_575),
    ),
    published(
        "wltc_3b",
        1801,
        (1800.0, 23.2663, 131.300),
        Some(3578.150),
        (50.0, 10.0, 5.269_386),
    ),
    published(
        "longHaulDriveCycle",
        83_043,
        (83_042.0, 804.6145, 120.531),
        None,
        (2443.0, 6.0, 17.942_495),
    ),
];

const fn published(
    file: &'static str,
    samples: usize,
    (seconds, km, top_km_h): (f64, f64, f64),
    energy_j_kg: Option<f64>,
    (full, half, fifth_power_sum): (f64, f64, f64),
) -> Published {
    Published {
        file,
        samples,
        seconds,
        km,
        top_km_h,
        energy_j_kg,
        full,
        half,
        fifth_power_sum,
    }
}

impl Published {
    fn read(&self) -> Schedule {
        let folder = std::env::var_os(FOLDER).unwrap_or_else(|| {
            panic!("{FOLDER} is not set: use tests/run, or set it to the folder that tests/drive-schedules/fetch.sh prints")
        });
        let path = PathBuf::from(folder).join(format!("{}.csv", self.file));
        let file = File::open(&path).unwrap_or_else(|error| {
            panic!(
                "{}: {error}: run tests/drive-schedules/fetch.sh",
                path.display()
            )
        });
        Schedule::read(file).expect("a published schedule reads")
    }
}

fn assert_near(what: &str, got: f64, wanted: f64, within: f64) {
    assert!(
        (got - wanted).abs() <= within,
        "{what}: {got}, published {wanted}"
    );
}

#[test]
fn the_files_are_the_published_schedules() {
    for known in &SCHEDULES {
        let (schedule, name) = (known.read(), known.file);
        assert_eq!(schedule.time_s.len(), known.samples, "{name}");
        assert_near(name, schedule.duration_s(), known.seconds, 1e-9);
        assert_near(name, schedule.distance_m() / 1e3, known.km, 6e-5);
        assert_near(name, schedule.top_speed_m_s() * 3.6, known.top_km_h, 6e-4);
        if let Some(energy_j_kg) = known.energy_j_kg {
            assert_near(
                name,
                schedule.positive_kinetic_energy_j_kg(),
                energy_j_kg,
                6e-4,
            );
        }
    }
}

#[test]
fn rainflow_counts_of_real_speeds_are_those_of_the_reference_library() {
    for known in &SCHEDULES {
        let speeds: Vec<f64> = known.read().speed_m_s.iter().map(|v| v * 3.6).collect();
        let cycles = rainflow(&speeds).expect("speeds are numbers");
        let count = |wanted: f64| {
            cycles
                .iter()
                .filter(|cycle| cycle.count.total_cmp(&wanted).is_eq())
                .count() as f64
        };
        assert_near(known.file, count(1.0), known.full, 0.0);
        assert_near(known.file, count(0.5), known.half, 0.0);
        let sum: f64 = cycles
            .iter()
            .map(|c| c.count * (c.range / 100.0).powi(5))
            .sum();
        assert_near(
            known.file,
            sum,
            known.fifth_power_sum,
            1e-6 * known.fifth_power_sum.max(1.0),
        );
    }
}

/// A schedule starts and ends at rest, so the wheels' net work is that of drag and rolling.
#[test]
fn wheel_work_over_a_schedule_is_the_work_of_the_resistances() {
    let (car, step_s) = (RoadCar::default(), 0.05);
    for known in &SCHEDULES[..4] {
        let schedule = known.read();
        let (mut wheel_j, mut resistance_j) = (0.0, 0.0);
        for k in 0..(known.seconds / step_s).round() as u32 {
            let (speed, acceleration) = schedule.at((f64::from(k) + 0.5) * step_s);
            wheel_j += car.at(speed, acceleration).wheel_force_n * speed * step_s;
            resistance_j += car.resistance_n(speed) * speed * step_s;
        }
        assert_near(known.file, wheel_j / resistance_j, 1.0, 1e-4);
    }
}

/// The whole way: schedule, road car, CSV log, the command line, server, ring life.
#[tokio::test(flavor = "multi_thread")]
async fn a_schedule_becomes_remaining_ring_life() {
    let server = Server::start(&[&plugin("ringland-plugin-ring-pack")]).await;
    let mut clients = server.clients().await;
    let shop = Shop::open(&mut clients, "a").await.expect("the shop opens");
    let map = server.folder().join("road.toml");
    std::fs::write(&map, MapFile::Road.text()).expect("a channel map");
    for (day, known) in (2..).zip(&SCHEDULES[..4]) {
        let log = server.folder().join(format!("{}.csv", known.file));
        let out = File::create(&log).expect("a log");
        RoadCar::default()
            .write_log(&known.read(), 1, 0.2, out)
            .expect("the log is written");
        let recorded = std::process::Command::new(program("ringland"))
            .args([
                "--server",
                &server.url,
                "duty",
                "record",
                "--session",
                "road",
            ])
            .args([
                "--start",
                &format!("2026-03-{day:02}T08:00:00Z"),
                &shop.unit,
            ])
            .arg("--map")
            .arg(&map)
            .arg(&log)
            .output()
            .expect("the command runs");
        let told = String::from_utf8_lossy(&recorded.stderr);
        assert!(recorded.status.success(), "{}: {told}", known.file);
    }
    let list = ListDutyRecordsRequest {
        parent: shop.unit.clone(),
        ..Default::default()
    };
    let page = clients
        .duty
        .list_duty_records(list)
        .await
        .expect("a page")
        .into_inner();
    for (record, known) in page.duty_records.iter().skip(1).zip(&SCHEDULES[..4]) {
        assert_near(known.file, record.duration_s, known.seconds, 1.0);
    }
    let prediction = shop.predict(&mut clients).await.expect("a prediction");
    assert!(
        prediction
            .life
            .and_then(|life| life.events)
            .expect("events")
            .p50
            > 0.0
    );
    assert_eq!(prediction.r#use.expect("use").duty_records, 5);
}

/// What the clutch, gears and shaft of the road car see of a schedule, worked out from its speeds alone, step by step.
#[derive(Default)]
struct Seen {
    /// Engagements that begin below 1.5 m/s: what a launch is to intake.
    starts: usize,
    /// Heat of the clutch [J].
    slip_j: f64,
    /// Highest torque of the axle [N.m].
    axle_n_m: f64,
}

impl Seen {
    fn of(schedule: &Schedule) -> Self {
        let (car, step_s) = (RoadCar::default(), 0.02);
        let mut seen = Self::default();
        let mut slipped = false;
        for k in 0..(schedule.duration_s() / step_s) as u32 {
            let (speed, acceleration) = schedule.at((f64::from(k) + 0.5) * step_s);
            let moment = car.at(speed, acceleration);
            let slip_rad_s = moment.clutch_slip_rpm * std::f64::consts::PI / 30.0;
            seen.slip_j += slip_rad_s * moment.engine_torque_n_m * step_s;
            seen.axle_n_m = seen.axle_n_m.max(moment.axle_torque_n_m);
            let slips = slip_rad_s > 5.0 && moment.engine_torque_n_m > 5.0;
            seen.starts += usize::from(slips && !slipped && speed < 1.5);
            slipped = slips;
        }
        seen
    }
}

/// The whole way for what is behind the engine: schedule, road car, log, intake's shocks and counted cycles, the condition of clutch, gears and
/// shaft, their lives.
#[tokio::test(flavor = "multi_thread")]
async fn schedules_drive_clutch_gears_and_shaft() {
    let types = ["dry-clutch", "gear-set", "axle-shaft"];
    let files = types.map(|name| plugin(&format!("ringland-plugin-{name}")));
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let (mut slip_j, mut clutch_medians) = (Vec::new(), Vec::new());
    for known in &SCHEDULES[..4] {
        let id = known.file.replace('_', "-");
        let driveline = open_driveline(&mut clients, &id).await;
        let driveline = driveline.expect("a driveline");
        let mut parts = Vec::new();
        for name in types {
            let id = format!("{name}-{id}");
            parts.push(
                driveline
                    .install(&mut clients, &id, &name.replace('-', "_"))
                    .await,
            );
        }
        // The invented drive that the driveline opens with is in it already.
        let fresh = predict(&mut clients, &parts[0], &driveline.profile).await;
        let schedule = known.read();
        // Fine enough for the second or so that a clutch slips.
        let log = Log::of_road_car(&schedule, 1, 0.02);
        let request_id = format!("{}-drive", known.file);
        let recorded =
            record_log(&mut clients, &driveline.unit, &request_id, at(20_000), log).await;
        let recorded = recorded.expect("a record").duty_record.expect("a record");
        let profile = profile(&mut clients, &recorded.name, &id).await;
        let seen = Seen::of(&schedule);
        let request = GetDutyRecordRequest {
            name: recorded.name,
        };
        let record = clients.duty.get_duty_record(request).await;
        let duty = record
            .expect("a record")
            .into_inner()
            .duty
            .expect("its duty");
        let launches = duty.shocks.iter().find(|shocks| shocks.kind == "launch");
        let launches = launches.map_or(0, |launches| launches.columns[0].values.len());
        assert_eq!(launches, seen.starts, "{}: launches", known.file);

        let [clutch, gears, shaft] = [&parts[0], &parts[1], &parts[2]];
        let clutch = predict(&mut clients, clutch, &profile).await;
        let slot = |prediction: &Prediction, name: &str| {
            prediction
                .provenance
                .as_ref()
                .expect("provenance")
                .condition[name]
        };
        let energy_j = slot(&clutch, "slip_energy_j") - slot(&fresh, "slip_energy_j");
        assert_near(known.file, energy_j / seen.slip_j, 1.0, 0.03);
        slip_j.push(seen.slip_j);
        let life = |prediction: &Prediction| {
            prediction
                .life
                .and_then(|life| life.events)
                .expect("events")
                .p50
        };
        clutch_medians.push(life(&clutch));
        let shaft = predict(&mut clients, shaft, &profile).await;
        let highest_n_m = seen.axle_n_m.max(Seen::of(&Log::invented_drive()).axle_n_m);
        let share = slot(&shaft, "highest_torque_n_m") / highest_n_m;
        assert_near(known.file, share, 0.5, 0.02);
        let gears = predict(&mut clients, gears, &profile).await;
        assert!(life(&gears) > 0.0 && life(&shaft) > 0.0, "{}", known.file);
    }
    // More heat in an event, a shorter life of the clutch.
    for (one, first) in slip_j.iter().enumerate() {
        for (other, second) in slip_j.iter().enumerate() {
            if first > second {
                assert!(
                    clutch_medians[one] <= clutch_medians[other],
                    "{slip_j:?} {clutch_medians:?}"
                );
            }
        }
    }
}

async fn profile(clients: &mut Clients, record: &str, id: &str) -> String {
    let request = CreateProfileRequest {
        profile_id: format!("schedule-{id}"),
        profile: Some(Profile {
            duty_records: vec![record.into()],
            events: 1.0,
            ..Default::default()
        }),
        ..Default::default()
    };
    let created = clients.duty.create_profile(request).await;
    created.expect("a profile").into_inner().name
}

async fn predict(clients: &mut Clients, component: &str, profile: &str) -> Prediction {
    let request = PredictRequest {
        component: component.into(),
        profile: profile.into(),
        ..Default::default()
    };
    let predicted = clients.predictions.predict(request).await;
    predicted.expect(component).into_inner()
}
