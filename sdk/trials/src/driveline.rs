//! Duty of a driveline's parts: an invented car and an invented race event.

use std::f64::consts::PI;

use ringland_plugin::{Duty, Model};

use crate::{AnyRecord, Record};

/// Ratios of the gearbox, first gear first.
pub const RATIOS: [f64; 6] = [2.71, 2.06, 1.65, 1.36, 1.17, 1.00];
/// Ratio of the final drive.
pub const FINAL_DRIVE: f64 = 4.10;
/// Rolling radius of the tyres \[m\].
pub const TYRE_RADIUS_M: f64 = 0.31;
/// Axle torque at which the tyres slip \[N·m\].
pub const GRIP_N_M: f64 = 3390.0;
/// From engine to wheels.
const EFFICIENCY: f64 = 0.95;
/// Slip across the differential in a corner and on a straight \[rad/s\].
const CORNER_RAD_S: f64 = 1.8;
const STRAIGHT_RAD_S: f64 = 0.2;
/// Lateral acceleration of a corner \[m/s²\].
const CORNER_M_S2: f64 = 8.0;

/// Time at an operating point of the car.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Time \[min\].
    pub minutes: f64,
    /// Engine speed \[1/min\].
    pub rpm: f64,
    /// Engine torque \[N·m\].
    pub torque_n_m: f64,
    /// Gear, 0 neutral, 1 to 6.
    pub gear: usize,
    /// Speed of one wheel against the other \[rad/s\].
    pub slip_rad_s: f64,
}

impl Point {
    fn ratio(&self) -> f64 {
        let gear = self.gear.checked_sub(1);
        gear.map_or(0.0, |gear| RATIOS[gear] * FINAL_DRIVE)
    }

    /// What a channel shows; `None` for one that the car does not tell.
    fn channel(&self, name: &str) -> Option<f64> {
        let engine_rad_s = self.rpm * PI / 30.0;
        let ratio = self.ratio();
        let wheel_rad_s = if ratio > 0.0 {
            engine_rad_s / ratio
        } else {
            0.0
        };
        let corner = self.slip_rad_s.abs() > 1.0;
        Some(match name {
            "engine_speed_rad_s" => engine_rad_s,
            "engine_torque_n_m" => self.torque_n_m,
            "gear" => self.gear as f64,
            "axle_torque_n_m" => (EFFICIENCY * ratio * self.torque_n_m).min(GRIP_N_M),
            "wheel_speed_left_rad_s" => wheel_rad_s + 0.5 * self.slip_rad_s,
            "wheel_speed_right_rad_s" => wheel_rad_s - 0.5 * self.slip_rad_s,
            "differential_slip_speed_rad_s" => self.slip_rad_s,
            "vehicle_speed_m_s" => TYRE_RADIUS_M * wheel_rad_s,
            "lateral_acceleration_m_s2" if corner => CORNER_M_S2.copysign(self.slip_rad_s),
            _ => return None,
        })
    }
}

/// The operating points of the event: 170 min of practice, qualifying and race.
pub fn points() -> Vec<Point> {
    let point = |minutes, rpm, torque_n_m, gear, slip_rad_s| Point {
        minutes,
        rpm,
        torque_n_m,
        gear,
        slip_rad_s,
    };
    let mut points = vec![
        point(11.9, 1500.0, 20.0, 0, 0.0),
        point(20.4, 4000.0, 90.0, 3, STRAIGHT_RAD_S),
        point(25.5, 6500.0, -45.0, 4, STRAIGHT_RAD_S),
        point(1.7, 8400.0, 300.0, 2, STRAIGHT_RAD_S),
    ];
    for gear in 2..=4 {
        for slip_rad_s in [CORNER_RAD_S, -CORNER_RAD_S] {
            points.push(point(32.3 / 6.0, 5500.0, 180.0, gear, slip_rad_s));
        }
    }
    let full = [
        (27.2, 6250.0, 440.0),
        (37.4, 7250.0, 425.0),
        (13.6, 8000.0, 401.0),
    ];
    for (minutes, rpm, torque_n_m) in full {
        for (index, share) in [0.01, 0.12, 0.27, 0.30, 0.20, 0.10].into_iter().enumerate() {
            let (gear, minutes) = (index + 1, minutes * share);
            let corner = if gear <= 3 { 0.6 } else { 0.0 };
            for slip_rad_s in [CORNER_RAD_S, -CORNER_RAD_S] {
                if corner > 0.0 {
                    points.push(point(
                        0.5 * corner * minutes,
                        rpm,
                        torque_n_m,
                        gear,
                        slip_rad_s,
                    ));
                }
            }
            points.push(point(
                (1.0 - corner) * minutes,
                rpm,
                torque_n_m,
                gear,
                STRAIGHT_RAD_S,
            ));
        }
    }
    points
}

/// Counted cycles of the axle torque in the event: range, mean, count.
pub const CYCLES: [[f64; 3]; 6] = [
    [6000.0, 3000.0, 20.0],
    [5200.0, 2600.0, 80.0],
    [4400.0, 2200.0, 300.0],
    [3100.0, 1550.0, 1400.0],
    [2200.0, 1100.0, 3000.0],
    [1400.0, 700.0, 4000.0],
];

/// A record of operating points: the channels that the card asks for, every other at its default; no shocks, no cycles.
pub fn record<M: Model>(points: &[Point]) -> Record {
    let times_s: Vec<f64> = points.iter().map(|point| 60.0 * point.minutes).collect();
    let mut record = Record::of::<M>(&times_s);
    for need in M::card().duty.channels {
        let shown = points.iter().map(|point| point.channel(&need.name));
        let values: Vec<f64> = shown
            .map(|value| value.unwrap_or(need.default_value))
            .collect();
        record = record.column(&need.name, &values);
    }
    record
}

/// [`record`] as duty.
pub fn duty<M: Model>(points: &[Point]) -> Duty {
    record::<M>(points).duty()
}

/// The event with its shocks and counted cycles, of each what the card asks for: 5 launches, 6 pit exits, 1360 shifts (one missed), 40 impacts.
pub fn event<M: Model>() -> Duty {
    let mut record = record::<M>(&points());
    let need = M::card().duty;
    for shock in &need.shocks {
        let (count, value): (usize, fn(usize, &str) -> f64) = match shock.kind.as_str() {
            "launch" => (5, launch),
            "clutch_engagement" => (6, pit_exit),
            "shift" => (1360, shift),
            "impact" => (40, impact),
            _ => (0, |_, _| 0.0),
        };
        for index in 0..count {
            let fields = shock.fields.iter().map(|name| value(index, name));
            record = record.shock(&shock.kind, &fields.collect::<Vec<f64>>());
        }
    }
    if need.cycles.iter().any(|name| name == "axle_torque_n_m") {
        record = record.cycles("axle_torque_n_m", &CYCLES);
    }
    record.duty()
}

fn launch(index: usize, field: &str) -> f64 {
    match field {
        "start_s" => 100.0 + 1900.0 * index as f64,
        "duration_s" => 1.6,
        "energy_j" => 264.0e3,
        "peak_power_w" => 330.0e3,
        _ => 550.0, // peak_torque_n_m
    }
}

fn pit_exit(index: usize, field: &str) -> f64 {
    match field {
        "start_s" => 500.0 + 1600.0 * index as f64,
        "duration_s" => 1.0,
        "energy_j" => 40.0e3,
        "peak_power_w" => 80.0e3,
        _ => 150.0, // peak_torque_n_m
    }
}

/// Up three gears and down one, over and over; the 700th is missed.
fn shift(index: usize, field: &str) -> f64 {
    let (from, to) = [(2.0, 3.0), (3.0, 4.0), (4.0, 5.0), (5.0, 2.0)][index % 4];
    let missed = index == 700;
    match field {
        "start_s" => 7.5 * index as f64,
        "duration_s" => 0.12,
        "from_gear" => from,
        "to_gear" => to,
        "engine_speed_step_rad_s" if missed => -800.0,
        "engine_speed_step_rad_s" if from < to => -160.0,
        "engine_speed_step_rad_s" => 160.0,
        _ => 120.0, // mean_engine_torque_n_m
    }
}

fn impact(index: usize, field: &str) -> f64 {
    match field {
        "start_s" => 250.0 * index as f64,
        "duration_s" => 0.01,
        _ => 30.0 + 90.0 * (index as f64 / 39.0).powi(2), // peak_vertical_acceleration_m_s2
    }
}

/// Any use of the car: channels, shocks and cycles that the card asks for, within what a race car does.
pub fn any_record<M: Model + 'static>() -> AnyRecord<M> {
    let need = M::card().duty;
    let mut any = AnyRecord::new();
    for channel in &need.channels {
        let range = match channel.name.as_str() {
            "engine_speed_rad_s" => 80.0..900.0,
            "engine_torque_n_m" => -60.0..440.0,
            "axle_torque_n_m" => -800.0..GRIP_N_M,
            "wheel_speed_left_rad_s" | "wheel_speed_right_rad_s" => 5.0..210.0,
            "differential_slip_speed_rad_s" => -4.0..4.0,
            "joint_angle_rad" => 0.02..0.2,
            "lateral_acceleration_m_s2" => -15.0..15.0,
            "gearbox_oil_temp_k" | "axle_oil_temp_k" => 340.0..410.0,
            "ambient_temp_k" => 280.0..310.0,
            "contamination_factor" => 1.0..4.0,
            _ => continue, // gears are whole numbers: a test of them gives its own
        };
        any = any.channel(&channel.name, range);
    }
    for shock in &need.shocks {
        let range = |field: &String| match (shock.kind.as_str(), field.as_str()) {
            (_, "start_s") => 0.0..1000.0,
            ("launch" | "clutch_engagement", "duration_s") => 0.4..2.5,
            (_, "duration_s") => 0.01..0.3,
            (_, "energy_j") => 1.0e4..3.0e5,
            (_, "peak_power_w") => 5.0e4..4.0e5,
            (_, "peak_torque_n_m") => 80.0..600.0,
            (_, "from_gear" | "to_gear") => 1.0..1.5, // first to first
            (_, "engine_speed_step_rad_s") => -300.0..300.0,
            (_, "mean_engine_torque_n_m") => -50.0..300.0,
            _ => 10.0..120.0, // peak_vertical_acceleration_m_s2
        };
        let ranges: Vec<_> = shock.fields.iter().map(range).collect();
        any = any.shock(&shock.kind, &ranges, 3);
    }
    for channel in &need.cycles {
        any = any.cycles(channel, [200.0..6000.0, 100.0..3000.0, 0.5..400.0]);
    }
    any
}
