//! Logs for the tests: a lap repeated, a dyno pull. Invented; the physics is checked elsewhere.

use ringland_proto::v1::{ChannelColumn, ChannelMap, Column, SampleChunk};
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
