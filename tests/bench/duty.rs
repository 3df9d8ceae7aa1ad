//! Duty for the bench: a race's worth of operating points, as a log reduces to. Invented.

use ringland_host::contract::DutyTable;

/// Two hours over `rows` operating points.
pub fn race(rows: usize) -> DutyTable {
    let place = |i: usize| i as f64 / rows as f64;
    let column = |value: &dyn Fn(f64) -> f64| (0..rows).map(|i| value(place(i))).collect();
    let each_s = 7200.0 / rows as f64;
    DutyTable {
        duration_s: 7200.0,
        channels: [
            "engine_speed_rad_s",
            "engine_torque_n_m",
            "oil_temp_k",
            "coolant_temp_k",
        ]
        .map(Into::into)
        .to_vec(),
        time_s: vec![each_s; rows],
        points: vec![
            column(&|x| 300.0 + 540.0 * x),
            column(&|x| 440.0 * (0.3 + 0.7 * (x * 40.0).sin().abs())),
            column(&|x| 375.0 + 8.0 * (x * 7.0).sin()),
            column(&|_| 363.0),
        ],
        ..Default::default()
    }
}
