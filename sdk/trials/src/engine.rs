//! Duty of an engine's parts: operating points as speed, torque and minutes, and an invented race event.

use std::f64::consts::PI;

use ringland_plugin::{Duty, Model};

use crate::{AnyRecord, Record};

/// Engine speed \[1/min\], torque \[N·m\], minutes.
pub type Point = (f64, f64, f64);

/// An invented event: 170 min of practice, qualifying and race.
pub const EVENT: [Point; 8] = [
    (1500.0, 20.0, 11.9),
    (4000.0, 90.0, 20.4),
    (5500.0, 180.0, 32.3),
    (6250.0, 440.0, 27.2),
    (7250.0, 425.0, 37.4),
    (8000.0, 401.0, 13.6),
    (6500.0, -45.0, 25.5),
    (8400.0, 300.0, 1.7),
];

/// Speed \[rad/s\] from 1/min.
pub fn rad_s(rpm: f64) -> f64 {
    rpm * PI / 30.0
}

/// A record of operating points; every other channel at the card's default.
pub fn record<M: Model>(points: &[Point]) -> Record {
    let column = |of: fn(&Point) -> f64| points.iter().map(of).collect::<Vec<f64>>();
    Record::of::<M>(&column(|point| 60.0 * point.2))
        .column("engine_speed_rad_s", &column(|point| rad_s(point.0)))
        .column("engine_torque_n_m", &column(|point| point.1))
}

/// [`record`] as duty.
pub fn duty<M: Model>(points: &[Point]) -> Duty {
    record::<M>(points).duty()
}

/// The [`EVENT`] as duty.
pub fn event<M: Model>() -> Duty {
    duty::<M>(&EVENT)
}

/// An event of many operating points, from idle to 8000 1/min in 150 min, for times.
pub fn many_points<M: Model>(count: u32) -> Duty {
    let point = |k: u32| {
        let share = f64::from(k) / f64::from(count);
        (
            1500.0 + 6500.0 * share,
            20.0 + 380.0 * share,
            150.0 / f64::from(count),
        )
    };
    let points: Vec<Point> = (0..count).map(point).collect();
    duty::<M>(&points)
}

/// A record with one over-rev more: seconds, 1/min, torque \[N·m\].
pub fn with_over_rev<M: Model>(duty: &Duty, seconds: f64, rpm: f64, torque_n_m: f64) -> Duty {
    let over_rev = [seconds, rad_s(rpm), torque_n_m];
    Record::edit::<M>(duty).shock("over_rev", &over_rev).duty()
}

/// A minute of an engine that stands still.
pub fn standstill<M: Model>() -> Duty {
    duty::<M>(&[(0.0, 0.0, 1.0)])
}

/// Any use from 800 to 8600 1/min and from overrun to full torque; add the further channels that matter.
pub fn any_record<M: Model + 'static>() -> AnyRecord<M> {
    AnyRecord::new()
        .channel("engine_speed_rad_s", rad_s(800.0)..rad_s(8600.0))
        .channel("engine_torque_n_m", -60.0..440.0)
}
