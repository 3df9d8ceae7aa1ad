//! A road car that follows a drive schedule: what its engine turns and gives.

use std::f64::consts::PI;
use std::io::Write;

use super::DemoError;
use super::schedule::Schedule;

/// An invented family car with a manual gearbox.
///
/// Longitudinal point mass on a level road, tyres without slip, a fixed driveline efficiency, oil
/// temperature as a first-order lag. Leaves out grade, wind, shift time, corners, accessories.
#[derive(Debug, Clone, PartialEq)]
pub struct RoadCar {
    /// Mass with driver \[kg\].
    pub mass_kg: f64,
    /// Mass that turning parts add to the one accelerated \[kg\].
    pub rotating_mass_kg: f64,
    /// Rolling resistance over weight \[1\].
    pub rolling: f64,
    /// Drag coefficient times frontal area \[m²\].
    pub drag_area_m2: f64,
    /// Air density \[kg/m³\].
    pub air_kg_m3: f64,
    /// Loaded tyre radius \[m\].
    pub tyre_radius_m: f64,
    /// Final drive ratio.
    pub final_drive: f64,
    /// Ratios from first gear up.
    pub gears: Vec<f64>,
    /// Power at the wheels over power at the engine.
    pub driveline_efficiency: f64,
    /// Idle speed \[1/min\].
    pub idle_rpm: f64,
    /// Torque of the accessories at idle \[N·m\].
    pub idle_torque_n_m: f64,
    /// Closed-throttle torque \[N·m\], negative.
    pub overrun_torque_n_m: f64,
    /// Lowest engine speed at which the driver keeps a higher gear \[1/min\].
    pub lowest_rpm: f64,
    /// Largest torque that the driver asks of a gear before changing down \[N·m\].
    pub most_torque_n_m: f64,
}

const GRAVITY: f64 = 9.806_65;
const AIR_C: f64 = 20.0;
const WARM_OIL_C: f64 = 92.0;
const OIL_LAG_S: f64 = 280.0;

impl Default for RoadCar {
    fn default() -> Self {
        Self {
            mass_kg: 1450.0,
            rotating_mass_kg: 60.0,
            rolling: 0.010,
            drag_area_m2: 0.66,
            air_kg_m3: 1.2,
            tyre_radius_m: 0.31,
            final_drive: 3.9,
            gears: vec![3.60, 2.05, 1.36, 1.03, 0.82, 0.68],
            driveline_efficiency: 0.93,
            idle_rpm: 800.0,
            idle_torque_n_m: 12.0,
            overrun_torque_n_m: -25.0,
            lowest_rpm: 1400.0,
            most_torque_n_m: 200.0,
        }
    }
}

/// What the car does at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoadMoment {
    /// Engine speed \[1/min\].
    pub engine_rpm: f64,
    /// Engine torque \[N·m\].
    pub engine_torque_n_m: f64,
    /// Gear, 0 at rest.
    pub gear: usize,
    /// Force at the wheels, driving or braking \[N\].
    pub wheel_force_n: f64,
    /// Torque of the driven axle, without the brakes' \[N·m\].
    pub axle_torque_n_m: f64,
    /// Slip of the clutch \[1/min\]: below idle speed in first gear.
    pub clutch_slip_rpm: f64,
}

impl RoadCar {
    /// Drag and rolling resistance \[N\]; none at rest.
    pub fn resistance_n(&self, speed_m_s: f64) -> f64 {
        if speed_m_s <= 0.0 {
            return 0.0;
        }
        self.rolling * self.mass_kg * GRAVITY
            + 0.5 * self.air_kg_m3 * self.drag_area_m2 * speed_m_s * speed_m_s
    }

    /// Engine and wheel loads for a speed \[m/s\] and acceleration \[m/s²\].
    ///
    /// The driver takes the highest gear in which the engine turns at least [`RoadCar::lowest_rpm`] and needs
    /// at most [`RoadCar::most_torque_n_m`]; first gear slips its clutch below idle speed, and opens it where the car is not driven there.
    pub fn at(&self, speed_m_s: f64, acceleration_m_s2: f64) -> RoadMoment {
        let wheel_force_n = (self.mass_kg + self.rotating_mass_kg) * acceleration_m_s2
            + self.resistance_n(speed_m_s);
        // At rest, and rolling to a halt below what idle speed drives: the clutch is open.
        let halting = wheel_force_n <= 0.0 && self.rpm(speed_m_s, 1) < self.idle_rpm;
        if halting {
            return RoadMoment {
                engine_rpm: self.idle_rpm,
                engine_torque_n_m: self.idle_torque_n_m,
                gear: 0,
                wheel_force_n,
                axle_torque_n_m: 0.0,
                clutch_slip_rpm: 0.0,
            };
        }
        let suits = |gear: &usize| {
            self.rpm(speed_m_s, *gear) >= self.lowest_rpm
                && self.torque_n_m(wheel_force_n, *gear) <= self.most_torque_n_m
        };
        let gear = (1..=self.gears.len()).rev().find(suits).unwrap_or(1);
        let driven_rpm = self.rpm(speed_m_s, gear);
        let engine_rpm = driven_rpm.max(self.idle_rpm);
        let engine_torque_n_m = self.torque_n_m(wheel_force_n, gear);
        RoadMoment {
            engine_rpm,
            engine_torque_n_m,
            gear,
            wheel_force_n,
            axle_torque_n_m: self.axle_torque_n_m(engine_torque_n_m, gear),
            clutch_slip_rpm: engine_rpm - driven_rpm,
        }
    }

    fn ratio(&self, gear: usize) -> f64 {
        self.gears.get(gear - 1).copied().unwrap_or(1.0) * self.final_drive
    }

    fn rpm(&self, speed_m_s: f64, gear: usize) -> f64 {
        speed_m_s / self.tyre_radius_m * self.ratio(gear) * 30.0 / PI
    }

    /// Driving, the engine makes up for the driveline's loss; braking, it takes what closed throttle
    /// takes and the brakes do the rest.
    fn torque_n_m(&self, wheel_force_n: f64, gear: usize) -> f64 {
        let at_engine = wheel_force_n * self.tyre_radius_m / self.ratio(gear);
        if at_engine >= 0.0 {
            at_engine / self.driveline_efficiency
        } else {
            (at_engine * self.driveline_efficiency).max(self.overrun_torque_n_m)
        }
    }

    fn axle_torque_n_m(&self, engine_torque_n_m: f64, gear: usize) -> f64 {
        let loss_free = engine_torque_n_m * self.ratio(gear);
        if loss_free >= 0.0 {
            loss_free * self.driveline_efficiency
        } else {
            loss_free / self.driveline_efficiency
        }
    }

    /// Writes the log of a drive along a schedule, `repeats` times over, a row every `step_s`, to be read with the map
    /// [`super::MapFile::Road`] or, for what is behind the engine, [`super::MapFile::RoadDriveline`].
    ///
    /// # Errors
    /// [`DemoError::Write`] when it cannot be written.
    pub fn write_log(
        &self,
        schedule: &Schedule,
        repeats: usize,
        step_s: f64,
        out: impl Write,
    ) -> Result<(), DemoError> {
        let mut out = csv::WriterBuilder::new().delimiter(b';').from_writer(out);
        out.write_record([
            "time",
            "engine_speed",
            "engine_torque",
            "gear",
            "road_speed",
            "oil_temp",
            "axle_torque",
            "wheel_speed",
            "wheel_difference",
            "clutch_slip",
        ])?;
        let start_s = schedule.time_s.first().copied().unwrap_or(0.0);
        let rows = (schedule.duration_s() / step_s) as usize;
        for row in 0..rows * repeats {
            let time_s = row as f64 * step_s;
            let (speed, acceleration) = schedule.at(start_s + (row % rows) as f64 * step_s);
            let moment = self.at(speed, acceleration);
            let oil_c = WARM_OIL_C - (WARM_OIL_C - AIR_C) * (-time_s / OIL_LAG_S).exp();
            out.write_record([
                format!("{time_s:.2}"),
                format!("{:.0}", moment.engine_rpm),
                format!("{:.1}", moment.engine_torque_n_m),
                moment.gear.to_string(),
                format!("{:.2}", 3.6 * speed),
                format!("{oil_c:.1}"),
                format!("{:.1}", moment.axle_torque_n_m),
                format!("{:.3}", speed / self.tyre_radius_m),
                "0".to_owned(), // it drives straight on
                format!("{:.0}", moment.clutch_slip_rpm),
            ])?;
        }
        Ok(out.flush().map_err(csv::Error::from)?)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// At steady speed the engine's power less the driveline's loss is the power of the resistances.
    #[test]
    fn steady_speed_balances_power() {
        let car = RoadCar::default();
        for speed in [8.0, 15.0, 25.0, 36.0] {
            let moment = car.at(speed, 0.0);
            let engine_w = moment.engine_torque_n_m * moment.engine_rpm * PI / 30.0;
            let road_w = car.resistance_n(speed) * speed;
            assert!(
                (engine_w * car.driveline_efficiency / road_w - 1.0).abs() < 1e-12,
                "{speed} m/s"
            );
        }
    }

    /// Work at the wheels over a drive that starts and ends at rest is what the resistances took: kinetic energy
    /// comes back to nothing.
    #[test]
    fn wheel_work_is_the_work_of_the_resistances() {
        let csv = "cycSecs,cycMps\n0,0\n10,15\n30,22\n60,8\n90,30\n120,0\n";
        let schedule = Schedule::read(csv.as_bytes()).unwrap();
        let car = RoadCar::default();
        let step_s = 0.001;
        let (mut wheel_j, mut resistance_j) = (0.0, 0.0);
        for k in 0..120_000 {
            let (speed, acceleration) = schedule.at((f64::from(k) + 0.5) * step_s);
            wheel_j += car.at(speed, acceleration).wheel_force_n * speed * step_s;
            resistance_j += car.resistance_n(speed) * speed * step_s;
        }
        assert!(
            (wheel_j / resistance_j - 1.0).abs() < 1e-6,
            "{wheel_j} {resistance_j}"
        );
    }

    #[test]
    fn brakes_do_what_closed_throttle_cannot() {
        let car = RoadCar::default();
        let braking = car.at(25.0, -3.0);
        assert!((braking.engine_torque_n_m - car.overrun_torque_n_m).abs() < 1e-12);
        for idle in [car.at(0.0, 0.0), car.at(1.0, -1.0)] {
            assert_eq!((idle.gear, idle.engine_rpm), (0, 800.0));
            assert!(idle.clutch_slip_rpm.abs() < f64::EPSILON);
        }
        let launch = car.at(0.5, 1.0);
        assert_eq!((launch.gear, launch.engine_rpm), (1, 800.0));
        assert!((launch.clutch_slip_rpm - (800.0 - car.rpm(0.5, 1))).abs() < 1e-9);
    }
}
