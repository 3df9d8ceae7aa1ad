//! Duty for the bench: a race's worth of operating points, as a log reduces to. Invented.

use ringland_host::contract::{DutyCycles, DutyShocks, DutyTable, LoadCycles};

/// Two hours over `rows` operating points of engine and driveline, with what shakes a driveline.
pub fn race(rows: usize) -> DutyTable {
    let place = |i: usize| i as f64 / rows as f64;
    let column = |value: &dyn Fn(f64) -> f64| (0..rows).map(|i| value(place(i))).collect();
    let torque_n_m = |x: f64| 440.0 * (0.3 + 0.7 * (x * 40.0).sin().abs());
    let points: [(&str, Vec<f64>); 9] = [
        ("engine_speed_rad_s", column(&|x| 300.0 + 540.0 * x)),
        ("engine_torque_n_m", column(&torque_n_m)),
        ("gear", column(&|x| 1.0 + (6.0 * x).floor())),
        ("oil_temp_k", column(&|x| 375.0 + 8.0 * (x * 7.0).sin())),
        ("coolant_temp_k", column(&|_| 363.0)),
        ("wheel_speed_left_rad_s", column(&|x| 41.0 + 150.0 * x)),
        ("wheel_speed_right_rad_s", column(&|x| 39.0 + 150.0 * x)),
        ("axle_torque_n_m", column(&|x| 7.0 * torque_n_m(x))),
        (
            "differential_slip_speed_rad_s",
            column(&|x| 2.0 * (x * 30.0).sin()),
        ),
    ];
    let (names, columns) = points.into_iter().unzip::<&str, Vec<f64>, Vec<_>, Vec<_>>();
    DutyTable {
        duration_s: 7200.0,
        channels: names.into_iter().map(Into::into).collect(),
        time_s: vec![7200.0 / rows as f64; rows],
        points: columns,
        cycles: vec![DutyCycles {
            channel: "axle_torque_n_m".into(),
            cycles: LoadCycles {
                ranges: vec![6000.0, 4400.0, 2200.0],
                means: vec![3000.0, 2200.0, 1100.0],
                counts: vec![20.0, 300.0, 3000.0],
            },
        }],
        shocks: vec![
            many(
                "launch",
                5,
                &[
                    ("duration_s", 1.6),
                    ("energy_j", 2.6e5),
                    ("peak_power_w", 3.3e5),
                    ("peak_torque_n_m", 550.0),
                ],
            ),
            many(
                "clutch_engagement",
                6,
                &[
                    ("duration_s", 1.0),
                    ("energy_j", 4e4),
                    ("peak_power_w", 8e4),
                    ("peak_torque_n_m", 150.0),
                ],
            ),
            many(
                "shift",
                300,
                &[
                    ("duration_s", 0.12),
                    ("from_gear", 2.0),
                    ("to_gear", 3.0),
                    ("engine_speed_step_rad_s", -160.0),
                    ("mean_engine_torque_n_m", 120.0),
                ],
            ),
            many(
                "impact",
                20,
                &[
                    ("duration_s", 0.01),
                    ("peak_vertical_acceleration_m_s2", 60.0),
                ],
            ),
        ],
    }
}

/// Shocks of one kind, all alike, evenly over the race.
fn many(kind: &str, count: usize, fields: &[(&str, f64)]) -> DutyShocks {
    let starts_s = (0..count)
        .map(|i| 7200.0 * i as f64 / count as f64)
        .collect();
    let mut shocks = DutyShocks {
        kind: kind.into(),
        fields: vec!["start_s".into()],
        columns: vec![starts_s],
    };
    for (name, value) in fields {
        shocks.fields.push((*name).into());
        shocks.columns.push(vec![*value; count]);
    }
    shocks
}
