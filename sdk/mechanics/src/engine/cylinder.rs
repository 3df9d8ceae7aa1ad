use std::f64::consts::PI;

use super::error::{EngineError, within};
use super::geometry::{CycleSetup, Station, angle_at, stations};
use super::heat_loss::Woschni;

/// Crank angle after gas-exchange top dead centre over which the pressure goes from exhaust to charge.
const CHANGEOVER_RAD: f64 = 20.0 * PI / 180.0;

/// What an operator sets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Operating {
    /// Crank speed \[rad/s\], 10 to 3000.
    pub speed_rad_s: f64,
    /// Absolute pressure of the charge from changeover to intake closing \[Pa\], 5e3 to 2e6.
    pub charge_pressure_pa: f64,
    /// Temperature of the charge at intake closing, residual gas included \[K\], 200 to 1000.
    pub charge_temp_k: f64,
    /// Absolute pressure while the exhaust pushes out \[Pa\], 2e4 to 2e6.
    pub exhaust_pressure_pa: f64,
    /// Heat released for each kilogram of trapped charge if all of it burned \[J/kg\], 0 to 5e6;
    /// 2.6e6 is about petrol at a slightly rich mixture.
    pub heat_j_kg: f64,
}

impl Default for Operating {
    /// 8000 1/min, 2.0 bar of charge.
    fn default() -> Self {
        Self {
            speed_rad_s: 8000.0 * PI / 30.0,
            charge_pressure_pa: 2.0e5,
            charge_temp_k: 350.0,
            exhaust_pressure_pa: 1.8e5,
            heat_j_kg: 2.6e6,
        }
    }
}

impl Operating {
    fn check(&self) -> Result<(), EngineError> {
        within(
            "speed_rad_s",
            self.speed_rad_s,
            10.0,
            3000.0,
            "10 to 3000 rad/s",
        )?;
        within(
            "charge_pressure_pa",
            self.charge_pressure_pa,
            5e3,
            2e6,
            "5e3 to 2e6 Pa",
        )?;
        within(
            "charge_temp_k",
            self.charge_temp_k,
            200.0,
            1000.0,
            "200 to 1000 K",
        )?;
        within(
            "exhaust_pressure_pa",
            self.exhaust_pressure_pa,
            2e4,
            2e6,
            "2e4 to 2e6 Pa",
        )?;
        within("heat_j_kg", self.heat_j_kg, 0.0, 5e6, "0 to 5e6 J/kg")
    }
}

/// One four-stroke cycle, traced. Point i lies at crank angle `−2π + i · 4π/N`; point N would be point 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Cycle {
    /// Crank angle \[rad\].
    pub angle_rad: Vec<f64>,
    /// Absolute cylinder pressure \[Pa\].
    pub pressure_pa: Vec<f64>,
    /// Mean gas temperature \[K\].
    pub temp_k: Vec<f64>,
    /// Duration of the cycle \[s\].
    pub period_s: f64,
    /// Mass in the closed cylinder \[kg\].
    pub trapped_mass_kg: f64,
    /// Heat released \[J\].
    pub heat_released_j: f64,
    /// Heat lost to the walls while closed \[J\].
    pub wall_heat_j: f64,
    /// Work on the piston while closed \[J\].
    pub closed_work_j: f64,
    /// Net indicated mean effective pressure, all four strokes \[Pa\].
    pub imep_pa: f64,
    /// Highest pressure \[Pa\].
    pub peak_pressure_pa: f64,
    /// Crank angle of the highest pressure \[rad\].
    pub peak_angle_rad: f64,
}

/// A cylinder prepared for many operating points.
///
/// Closed part: one zone, first law `m c_v dT = dQ_burned − dQ_wall − p dV` with the perfect-gas law,
/// fourth-order Runge-Kutta over equal steps of crank angle; the heat of a step is the exact
/// difference of the burned fraction. Open part: stated pressures. From exhaust opening the pressure
/// falls in a straight line to the exhaust pressure at bottom dead centre; over the first 20° of
/// intake it goes to the charge pressure and stays there until closing. Valve events fall on the
/// nearest step. Leaves out valve flow and waves, residual-gas bookkeeping (it is in the charge
/// temperature), blow-by loss of mass, knock and cycle-to-cycle scatter.
#[derive(Debug, Clone)]
pub struct CycleModel {
    setup: CycleSetup,
    steps: usize,
    closing: usize,
    opening: usize,
    stations: Vec<Station>,
    burned: Vec<f64>,
    burn_from: usize,
}

impl CycleModel {
    /// Prepares the tables for `steps` equal parts of the 720° cycle (720: one degree).
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] when the set-up is out of range or `steps` is not a multiple of 4
    /// from 72 to 72 000.
    pub fn new(setup: CycleSetup, steps: usize) -> Result<Self, EngineError> {
        setup.check()?;
        within("steps", steps as f64, 72.0, 72_000.0, "72 to 72000")?;
        if !steps.is_multiple_of(4) {
            let expected = "a multiple of 4, so that dead centres lie on points";
            return Err(EngineError::OutOfRange {
                field: "steps",
                value: steps as f64,
                expected,
            });
        }
        let nearest =
            |angle: f64| ((angle + 2.0 * PI) / (4.0 * PI) * steps as f64).round() as usize;
        let closing = nearest(setup.intake_close_rad);
        let opening = nearest(setup.exhaust_open_rad);
        let burned = (0..=steps)
            .map(|k| setup.burn.burned(angle_at(k, steps)))
            .collect();
        Ok(Self {
            stations: stations(&setup, steps, closing),
            burn_from: nearest(setup.burn.start_rad),
            setup,
            steps,
            closing,
            opening,
            burned,
        })
    }

    /// The set-up it was made from.
    pub fn setup(&self) -> &CycleSetup {
        &self.setup
    }

    /// Swept volume of the cylinder \[m³\].
    pub fn displacement_m3(&self) -> f64 {
        self.setup.cylinder.displacement_m3()
    }

    /// Traces the cycle at one operating point.
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] naming the field of `point` that is wrong.
    pub fn run(&self, point: &Operating) -> Result<Cycle, EngineError> {
        point.check()?;
        let r = self.setup.gas.gas_constant_j_kg_k;
        let closed_m3 = self.stations[2 * self.closing].volume_m3;
        let mut cycle = Cycle {
            angle_rad: (0..self.steps).map(|k| angle_at(k, self.steps)).collect(),
            pressure_pa: vec![point.charge_pressure_pa; self.steps],
            temp_k: vec![point.charge_temp_k; self.steps],
            period_s: 4.0 * PI / point.speed_rad_s,
            trapped_mass_kg: point.charge_pressure_pa * closed_m3 / (r * point.charge_temp_k),
            heat_released_j: 0.0,
            wall_heat_j: 0.0,
            closed_work_j: 0.0,
            imep_pa: 0.0,
            peak_pressure_pa: 0.0,
            peak_angle_rad: 0.0,
        };
        self.close(point, &mut cycle);
        let open_work_j = self.exchange(point, &mut cycle);
        cycle.imep_pa = (cycle.closed_work_j + open_work_j) / self.displacement_m3();
        for (angle, pressure) in cycle.angle_rad.iter().zip(&cycle.pressure_pa) {
            if *pressure > cycle.peak_pressure_pa {
                cycle.peak_pressure_pa = *pressure;
                cycle.peak_angle_rad = *angle;
            }
        }
        Ok(cycle)
    }

    /// Compression, combustion and expansion.
    fn close(&self, point: &Operating, cycle: &mut Cycle) {
        let step_rad = 4.0 * PI / self.steps as f64;
        let r = self.setup.gas.gas_constant_j_kg_k;
        let mass = cycle.trapped_mass_kg;
        let mut temp = point.charge_temp_k;
        for k in self.closing..self.opening {
            let heat_j = point.heat_j_kg * mass * (self.burned[k + 1] - self.burned[k]);
            let rates = Rates {
                model: self,
                point,
                mass,
                heat_j_rad: heat_j / step_rad,
                burning: k >= self.burn_from,
            };
            let [a, b, c] = [0, 1, 2].map(|half| &self.stations[2 * k + half]);
            let k1 = rates.at(temp, a);
            let k2 = rates.at(temp + 0.5 * step_rad * k1.temp_k, b);
            let k3 = rates.at(temp + 0.5 * step_rad * k2.temp_k, b);
            let k4 = rates.at(temp + step_rad * k3.temp_k, c);
            let mean = |of: fn(&Rate) -> f64| {
                step_rad / 6.0 * (of(&k1) + 2.0 * (of(&k2) + of(&k3)) + of(&k4))
            };
            temp += mean(|rate| rate.temp_k);
            cycle.closed_work_j += mean(|rate| rate.work_j);
            cycle.wall_heat_j += mean(|rate| rate.wall_j);
            cycle.heat_released_j += heat_j;
            cycle.temp_k[k + 1] = temp;
            cycle.pressure_pa[k + 1] = mass * r * temp / c.volume_m3;
        }
    }

    /// Blow-down, exhaust and intake at stated pressures; returns the work on the piston \[J\].
    fn exchange(&self, point: &Operating, cycle: &mut Cycle) -> f64 {
        let bottom = self.steps * 3 / 4;
        let opened_pa = cycle.pressure_pa[self.opening];
        let opened_k = cycle.temp_k[self.opening];
        let gamma = self.setup.gas.gamma(opened_k);
        let changeover = CHANGEOVER_RAD / (4.0 * PI) * self.steps as f64;
        let pressure_at = |k: usize| {
            if k < self.closing {
                let share = (k as f64 / changeover).min(1.0);
                return point.exhaust_pressure_pa
                    + share * (point.charge_pressure_pa - point.exhaust_pressure_pa);
            }
            let past = (k - self.opening) as f64 / (bottom - self.opening) as f64;
            // 0/0 when it opens at bottom dead centre: the fall is then at once.
            let share = if past.is_nan() { 1.0 } else { past.min(1.0) };
            opened_pa + share * (point.exhaust_pressure_pa - opened_pa)
        };
        let mut work_j = 0.0;
        for k in (0..self.closing).chain(self.opening..self.steps) {
            let (from, to) = (
                pressure_at(k),
                if k + 1 == self.closing {
                    point.charge_pressure_pa
                } else {
                    pressure_at(k + 1)
                },
            );
            let swept = self.stations[2 * k + 2].volume_m3 - self.stations[2 * k].volume_m3;
            work_j += 0.5 * (from + to) * swept;
            if k > self.opening {
                cycle.pressure_pa[k] = from;
                cycle.temp_k[k] = opened_k * (from / opened_pa).powf((gamma - 1.0) / gamma);
            } else if k < self.closing {
                cycle.pressure_pa[k] = from;
            }
        }
        work_j
    }
}

/// Change for each radian of crank angle.
struct Rate {
    temp_k: f64,
    work_j: f64,
    wall_j: f64,
}

struct Rates<'a> {
    model: &'a CycleModel,
    point: &'a Operating,
    mass: f64,
    heat_j_rad: f64,
    burning: bool,
}

impl Rates<'_> {
    fn at(&self, temp_k: f64, station: &Station) -> Rate {
        let gas = &self.model.setup.gas;
        let pressure_pa = self.mass * gas.gas_constant_j_kg_k * temp_k / station.volume_m3;
        let work_j = pressure_pa * station.volume_per_rad_m3;
        let wall_j = self
            .model
            .setup
            .wall
            .as_ref()
            .map_or(0.0, |wall| self.wall(wall, temp_k, pressure_pa, station));
        Rate {
            temp_k: (self.heat_j_rad - wall_j - work_j) / (self.mass * gas.cv_j_kg_k(temp_k)),
            work_j,
            wall_j,
        }
    }

    fn wall(&self, wall: &Woschni, temp_k: f64, pressure_pa: f64, station: &Station) -> f64 {
        let cylinder = &self.model.setup.cylinder;
        let point = self.point;
        let mut velocity =
            wall.piston_speed_factor * cylinder.crank.mean_speed_m_s(point.speed_rad_s);
        if self.burning {
            let closed_m3 = self.model.stations[2 * self.model.closing].volume_m3;
            let scale = cylinder.displacement_m3() * point.charge_temp_k
                / (point.charge_pressure_pa * closed_m3);
            let excess_pa = pressure_pa - point.charge_pressure_pa * station.motored_ratio;
            velocity += wall.combustion_factor_m_s_k * scale * excess_pa.max(0.0);
        }
        let coefficient =
            Woschni::coefficient_w_m2_k(cylinder.bore_m, pressure_pa, temp_k, velocity);
        coefficient * station.wall_area_m2 * (temp_k - wall.wall_temp_k) / point.speed_rad_s
    }
}
