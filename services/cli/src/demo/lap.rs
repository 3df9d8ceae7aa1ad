//! A lap at the limit of grip and power: quasi-steady, station by station.

use super::circuit::{Circuit, STATION_M};
use super::race_car::{
    BRAKING_M_S2, LIMITER_RPM, TOP_GEAR, acceleration_m_s2, rpm, speed_m_s, torque_n_m,
};

/// Time between the instants of a lap \[s\].
pub(super) const INSTANT_S: f64 = 0.02;

/// How a lap is driven.
#[derive(Debug, Clone, Copy)]
pub(super) struct Driving {
    /// Cornering limit \[m/s²\].
    pub lateral_m_s2: f64,
    /// Changes up at this engine speed \[1/min\].
    pub shift_rpm: f64,
    /// Changes down, braking, once the lower gear would turn no faster than this \[1/min\].
    pub downshift_rpm: f64,
}

/// The car at one instant.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Instant {
    pub speed_m_s: f64,
    pub rpm: f64,
    pub torque_n_m: f64,
    pub gear: usize,
    pub lateral_m_s2: f64,
    pub braking: bool,
}

/// One lap, an instant every [`INSTANT_S`].
pub(super) fn drive(circuit: Circuit, driving: Driving) -> Vec<Instant> {
    let curvature = circuit.curvature_per_m();
    let limit = braking_limit(&curvature, driving);
    let stations = accelerate(&curvature, &limit, driving);
    resample(&stations)
}

/// Speed \[m/s\] that still lets the car brake for every corner ahead.
fn braking_limit(curvature: &[f64], driving: Driving) -> Vec<f64> {
    let n = curvature.len();
    let fastest = speed_m_s(LIMITER_RPM, TOP_GEAR);
    let corner = |k: f64| {
        if k > 0.0 {
            (driving.lateral_m_s2 / k).sqrt().min(fastest)
        } else {
            fastest
        }
    };
    let mut limit: Vec<f64> = curvature.iter().map(|k| corner(*k)).collect();
    // Twice round: the lap is closed.
    for i in (0..2 * n).rev() {
        let (here, next) = (i % n, (i + 1) % n);
        let left = grip_left(limit[next], curvature[next], driving);
        let reachable = (limit[next].powi(2) + 2.0 * BRAKING_M_S2 * left * STATION_M).sqrt();
        limit[here] = limit[here].min(reachable);
    }
    limit
}

/// Share of the grip that cornering leaves: the friction ellipse, with a little kept in hand.
fn grip_left(speed: f64, curvature: f64, driving: Driving) -> f64 {
    let used = (speed * speed * curvature / driving.lateral_m_s2).min(1.0);
    (1.0 - used * used).sqrt().max(0.08)
}

fn accelerate(curvature: &[f64], limit: &[f64], driving: Driving) -> Vec<Instant> {
    let n = curvature.len();
    let mut stations = vec![Instant::default(); n];
    let mut speed = limit[0].min(speed_m_s(driving.shift_rpm, 3));
    let mut gear = 3;
    for i in 0..2 * n {
        let (here, next) = (i % n, (i + 1) % n);
        let lateral = speed * speed * curvature[here];
        let left = grip_left(speed, curvature[here], driving);
        let gained = 2.0 * acceleration_m_s2(speed, gear, lateral, left) * STATION_M;
        let after = (speed * speed + gained).max(1.0).sqrt().min(limit[next]);
        let acceleration = (after * after - speed * speed) / (2.0 * STATION_M);
        let braking = acceleration < -2.0;
        gear = choose_gear(speed, gear, braking, driving);
        stations[here] = Instant {
            speed_m_s: speed,
            rpm: rpm(speed, gear),
            torque_n_m: torque_n_m(speed, gear, acceleration, lateral),
            gear,
            lateral_m_s2: lateral,
            braking,
        };
        speed = after;
    }
    stations
}

fn choose_gear(speed: f64, gear: usize, braking: bool, driving: Driving) -> usize {
    if gear < TOP_GEAR && !braking && rpm(speed, gear) > driving.shift_rpm {
        gear + 1
    } else if gear > 1 && braking && rpm(speed, gear - 1) <= driving.downshift_rpm {
        gear - 1
    } else {
        gear
    }
}

/// From equal distances to equal times; each instant is the station that the car passes then.
fn resample(stations: &[Instant]) -> Vec<Instant> {
    let mut lap = Vec::new();
    let mut time_s = 0.0;
    for (i, station) in stations.iter().enumerate() {
        let next = stations[(i + 1) % stations.len()].speed_m_s;
        time_s += STATION_M / (0.5 * (station.speed_m_s + next));
        while lap.len() as f64 * INSTANT_S < time_s {
            lap.push(*station);
        }
    }
    lap
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRIVING: Driving = Driving {
        lateral_m_s2: 14.0,
        shift_rpm: 8050.0,
        downshift_rpm: 7000.0,
    };

    #[test]
    fn a_lap_stays_within_grip_and_limiter() {
        for circuit in [Circuit::Fast, Circuit::Medium, Circuit::Street] {
            let lap = drive(circuit, DRIVING);
            assert!(
                (50.0..130.0).contains(&(lap.len() as f64 * INSTANT_S)),
                "{circuit:?}"
            );
            for instant in &lap {
                assert!(
                    instant.lateral_m_s2 <= DRIVING.lateral_m_s2 * 1.02,
                    "{instant:?}"
                );
                assert!(
                    instant.rpm <= LIMITER_RPM + 1.0 && instant.rpm > 2500.0,
                    "{instant:?}"
                );
            }
        }
    }

    /// Distance is speed times time, whatever the resampling.
    #[test]
    fn resampled_lap_has_the_circuits_length() {
        let lap = drive(Circuit::Medium, DRIVING);
        let driven: f64 = lap.iter().map(|i| i.speed_m_s * INSTANT_S).sum();
        let length = Circuit::Medium.curvature_per_m().len() as f64 * STATION_M;
        assert!(
            (driven / length - 1.0).abs() < 0.01,
            "{driven} m of {length} m"
        );
    }
}
