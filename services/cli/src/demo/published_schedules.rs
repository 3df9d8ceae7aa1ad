//! Published drive schedules, fetched by `tests/drive-schedules/fetch.sh`, through the road car.
//!
//! Run with `RINGLAND_DRIVE_SCHEDULES=<folder> cargo test -p ringland-cli published_schedules -- --ignored`. Without the
//! folder or a file of it these tests fail; they are ignored, and shown so, only where nobody asked for them.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs::File;
use std::path::PathBuf;

use super::road_car::RoadCar;
use super::schedule::Schedule;

const FOLDER: &str = "RINGLAND_DRIVE_SCHEDULES";

/// File, samples, seconds, kilometres, highest km/h, J/kg gained in accelerations: computed from the files with numpy.
/// Length, duration and top speed agree with the schedules as published: 40 CFR part 86 appendix I (UDDS 1369 s,
/// 7.45 miles; highway 765 s, 10.26 miles; US06 8.01 miles, from memory) and UN GTR No. 15 (class 3b 1800 s, 23.27 km, 131.3 km/h).
const SCHEDULES: [(&str, usize, f64, f64, f64, f64); 4] = [
    ("udds.csv", 1370, 1369.0, 11.9904, 91.251, 2098.498),
    ("hwfet.csv", 766, 765.0, 16.5068, 96.401, 1164.967),
    ("us06.csv", 601, 600.0, 12.8876, 129.230, 2711.710),
    ("wltc_3b.csv", 1801, 1800.0, 23.2663, 131.300, 3578.150),
];

fn schedule(name: &str) -> Schedule {
    let folder = std::env::var_os(FOLDER)
        .unwrap_or_else(|| panic!("{FOLDER} is not set: run tests/drive-schedules/fetch.sh and set it to the folder it prints"));
    let path = PathBuf::from(folder).join(name);
    let file = File::open(&path).unwrap_or_else(|error| {
        panic!(
            "{}: {error}: run tests/drive-schedules/fetch.sh",
            path.display()
        )
    });
    Schedule::read(file).expect("a published schedule reads")
}

#[test]
#[ignore = "needs the fetched files: tests/drive-schedules/fetch.sh"]
fn files_are_the_published_schedules() {
    for (name, samples, seconds, km, top_km_h, energy_j_kg) in SCHEDULES {
        let schedule = schedule(name);
        assert_eq!(schedule.time_s.len(), samples, "{name}");
        let near = |what: &str, got: f64, wanted: f64, within: f64| {
            assert!(
                (got - wanted).abs() <= within,
                "{name}: {what} {got}, published {wanted}"
            );
        };
        near("seconds", schedule.duration_s(), seconds, 1e-9);
        near("km", schedule.distance_m() / 1e3, km, 6e-5);
        near("top speed", schedule.top_speed_m_s() * 3.6, top_km_h, 6e-4);
        near(
            "kinetic energy",
            schedule.positive_kinetic_energy_j_kg(),
            energy_j_kg,
            6e-4,
        );
    }
}

/// A schedule starts and ends at rest, so the wheels' net work is that of drag and rolling.
#[test]
#[ignore = "needs the fetched files: tests/drive-schedules/fetch.sh"]
fn wheel_work_over_a_schedule_is_the_work_of_the_resistances() {
    let car = RoadCar::default();
    let step_s = 0.05;
    for (name, _, seconds, ..) in SCHEDULES {
        let schedule = schedule(name);
        let (mut wheel_j, mut resistance_j) = (0.0, 0.0);
        for k in 0..(seconds / step_s).round() as u32 {
            let (speed, acceleration) = schedule.at((f64::from(k) + 0.5) * step_s);
            wheel_j += car.at(speed, acceleration).wheel_force_n * speed * step_s;
            resistance_j += car.resistance_n(speed) * speed * step_s;
        }
        assert!(
            (wheel_j / resistance_j - 1.0).abs() < 1e-4,
            "{name}: {wheel_j} J and {resistance_j} J"
        );
    }
}

#[test]
#[ignore = "needs the fetched files: tests/drive-schedules/fetch.sh"]
fn the_road_car_can_follow_the_schedules() {
    let car = RoadCar::default();
    for (name, _, seconds, ..) in SCHEDULES {
        let schedule = schedule(name);
        let mut log = Vec::new();
        car.write_log(&schedule, 2, 0.2, &mut log)
            .expect("writing to memory");
        let rows = String::from_utf8(log).expect("text").lines().count();
        assert_eq!(rows, 1 + 2 * (seconds / 0.2).round() as usize, "{name}");
        for k in 0..seconds as u32 {
            let (speed, acceleration) = schedule.at(f64::from(k) + 0.5);
            let moment = car.at(speed, acceleration);
            assert!(
                (car.idle_rpm..6500.0).contains(&moment.engine_rpm),
                "{name} at {k} s: {moment:?}"
            );
            assert!(
                moment.engine_torque_n_m <= 1.3 * car.most_torque_n_m,
                "{name} at {k} s: {moment:?}"
            );
        }
    }
}
