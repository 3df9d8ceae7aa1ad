//! Logs for the tests: a lap repeated, a dyno pull. Invented; the physics is checked elsewhere.

use ringland_cli::demo::{MapFile, RoadCar, Schedule};
use ringland_proto::v1::{ChannelColumn, ChannelMap, Column, DutyTable, SampleChunk};
use std::fmt::Write;

/// A CSV log of `seconds` at 10 Hz: a 40 s lap of straights and corners, rpm and lbf.ft, degF.
pub fn lap_csv(seconds: u32) -> String {
    let mut csv = String::from("Time (s),RPM,Torque,Oil T,Water T\n");
    for row in 0..seconds * 10 {
        let (time_s, phase) = (f64::from(row) / 10.0, f64::from(row % 400) / 400.0);
        let straight = (phase * std::f64::consts::TAU * 4.0).sin();
        let rpm = 6300.0 + 1500.0 * straight;
        let torque_lbf_ft = if straight > -0.3 {
            240.0 + 60.0 * straight
        } else {
            -25.0
        };
        writeln!(csv, "{time_s:.1},{rpm:.0},{torque_lbf_ft:.1},226.4,195.0")
            .expect("writing to a string cannot fail");
    }
    csv
}

/// How [`lap_csv`] is read.
pub fn lap_map() -> ChannelMap {
    let column = |channel: &str, column: &str, unit: &str| ChannelColumn {
        channel: channel.into(),
        column: column.into(),
        unit: unit.into(),
        ..Default::default()
    };
    ChannelMap {
        name: "lap".into(),
        time_column: "Time (s)".into(),
        time_unit: "s".into(),
        columns: vec![
            column("engine_speed_rad_s", "RPM", "rpm"),
            column("engine_torque_n_m", "Torque", "lbf.ft"),
            column("oil_temp_k", "Oil T", "degF"),
            column("coolant_temp_k", "Water T", "degF"),
        ],
        ..Default::default()
    }
}

/// A 12 s full-load pull at 20 Hz in SI: engine speed, torque, oil and coolant temperature.
pub fn pull_samples() -> SampleChunk {
    let time_s: Vec<f64> = (0..240).map(|i| f64::from(i) / 20.0).collect();
    let column = |value: &dyn Fn(f64) -> f64| Column {
        values: time_s.iter().map(|&t| value(t)).collect(),
    };
    let columns = vec![
        column(&|t| 314.0 + 43.0 * t),
        column(&|t| 380.0 + 5.0 * t),
        column(&|_| 378.0),
        column(&|_| 363.0),
    ];
    SampleChunk { time_s, columns }
}

/// A log and how it is read.
pub struct Log {
    /// Its text.
    pub csv: String,
    /// How it is read.
    pub map: ChannelMap,
}

impl Log {
    /// The road car on [`Log::invented_drive`], so many times over, read for its driveline.
    pub fn drive(times: usize) -> Self {
        Self::of_road_car(&Self::invented_drive(), times, 0.1)
    }

    /// Four minutes with four starts from rest.
    pub fn invented_drive() -> Schedule {
        let text = "cycSecs,cycMps\n0,0\n5,0\n15,14\n40,25\n60,0\n65,0\n72,9\n90,20\n110,0\n120,0\n140,33\n170,30\n185,0\n190,0\n200,12\n230,0\n240,0\n";
        Schedule::read(text.as_bytes()).expect("a drive")
    }

    /// The road car along a schedule, so many times over, read for its driveline.
    pub fn of_road_car(schedule: &Schedule, times: usize, step_s: f64) -> Self {
        let mut csv = Vec::new();
        let written = RoadCar::default().write_log(schedule, times, step_s, &mut csv);
        written.expect("writing to memory cannot fail");
        Self {
            csv: String::from_utf8(csv).expect("a log is text"),
            map: MapFile::RoadDriveline.channel_map().expect("a channel map"),
        }
    }
}

/// One event of a final drive: two hours, a third of it cornering with slip. Invented.
pub fn corner_and_straight() -> DutyTable {
    let column = |values: [f64; 2]| Column {
        values: values.to_vec(),
    };
    DutyTable {
        duration_s: 7200.0,
        channels: [
            "axle_torque_n_m",
            "differential_slip_speed_rad_s",
            "axle_oil_temp_k",
        ]
        .map(Into::into)
        .to_vec(),
        time_s: vec![2400.0, 4800.0],
        points: vec![
            column([900.0, 1500.0]),
            column([4.0, 0.2]),
            column([390.0, 385.0]),
        ],
        ..Default::default()
    }
}
