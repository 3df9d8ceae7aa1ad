//! Loads of the crank train over the four-stroke cycle at one operating point.

use ringland_mechanics::engine::{
    ChenFlynn, CrankForces, CycleModel, CycleSetup, Cylinder, EngineError, LoadControl, LoadTarget,
    Operating, Reciprocating, SliderCrank,
};

use crate::fields::Engine;

/// Usual number of points of a traced cycle: 2° of crank.
pub const POINTS: usize = 360;

/// Absolute pressure under the piston \[Pa\].
const CRANKCASE_PA: f64 = 1.0e5;
/// Exhaust pressure without load \[Pa\].
const IDLE_EXHAUST_PA: f64 = 1.05e5;

/// An engine ready to be solved at operating points.
#[derive(Debug, Clone)]
pub struct CycleSolver {
    engine: Engine,
    crank: SliderCrank,
    model: CycleModel,
}

/// Loads over one cycle. Point i lies at crank angle −2π + i · 4π/N: 0 is firing top dead centre, −2π that of gas exchange.
#[derive(Debug, Clone, PartialEq)]
pub struct CycleLoads {
    /// Crank speed \[rad/s\].
    pub speed_rad_s: f64,
    /// Net indicated mean effective pressure asked for \[Pa\].
    pub imep_pa: f64,
    /// Crank angle \[rad\].
    pub angle_rad: Vec<f64>,
    /// Absolute cylinder pressure \[Pa\].
    pub pressure_pa: Vec<f64>,
    /// Forces on piston and rod.
    pub forces: Vec<CrankForces>,
    /// Highest cylinder pressure \[Pa\].
    pub peak_pressure_pa: f64,
    /// Brake mean effective pressure \[Pa\].
    pub bmep_pa: f64,
    crank: SliderCrank,
    rotating_rod_mass_kg: f64,
}

/// A force in the plane of a throw \[N\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PinForce {
    /// Along the first axis \[N\].
    pub along_n: f64,
    /// Along the second axis \[N\].
    pub across_n: f64,
}

impl PinForce {
    /// Its magnitude \[N\].
    pub fn magnitude_n(&self) -> f64 {
        self.along_n.hypot(self.across_n)
    }
}

impl CycleSolver {
    /// Prepares an engine for traces of so many points over 720°, a multiple of 4 from 72.
    ///
    /// # Errors
    /// A geometry or number of points out of range.
    pub fn new(engine: &Engine, points: usize) -> Result<Self, EngineError> {
        let crank = SliderCrank::centred(0.5 * engine.stroke_m, engine.rod_length_m)?;
        let setup = CycleSetup {
            cylinder: Cylinder {
                crank,
                bore_m: engine.bore_m,
                compression_ratio: engine.compression_ratio,
            },
            ..CycleSetup::default()
        };
        Ok(Self {
            engine: *engine,
            crank,
            model: CycleModel::new(setup, points)?,
        })
    }

    /// The engine.
    pub fn engine(&self) -> &Engine {
        &self.engine
    }

    /// Loads at a crank speed \[rad/s\], 10 to 3000, and a net indicated mean effective pressure \[Pa\], 0 or more. The charge pressure is
    /// moved until the cycle gives it; exhaust pressure rises with load. At 0 the cylinder is fired just enough, or motored.
    ///
    /// # Errors
    /// A load out of reach.
    pub fn loads(&self, speed_rad_s: f64, imep_pa: f64) -> Result<CycleLoads, EngineError> {
        self.loads_with_knock(speed_rad_s, imep_pa, 1.0)
    }

    /// [`Self::loads`] with the rise of cylinder pressure about its peak multiplied: where the gas pressure is above half of its peak, the
    /// part above is stretched so that the peak is `peak_multiplier` (1 to 3) times that of clean combustion. A stand-in for the slow part
    /// of the pressure rise of knock; the ringing is left out.
    ///
    /// # Errors
    /// A load out of reach.
    pub fn loads_with_knock(
        &self,
        speed_rad_s: f64,
        imep_pa: f64,
        peak_multiplier: f64,
    ) -> Result<CycleLoads, EngineError> {
        let engine = &self.engine;
        let share = (imep_pa / engine.full_load_imep_pa).clamp(0.0, 1.5);
        let point = Operating {
            speed_rad_s,
            exhaust_pressure_pa: IDLE_EXHAUST_PA
                + (engine.exhaust_pressure_pa - IDLE_EXHAUST_PA) * share,
            ..Operating::default()
        };
        let control = LoadControl::Charge {
            least_pa: 2.5e4,
            most_pa: 1.5e6,
        };
        let target = LoadTarget::Imep(imep_pa);
        let solved = self
            .model
            .run_to_load(&point, target, control, &ChenFlynn::default())?;
        let mut pressure_pa = solved.cycle.pressure_pa;
        let half_pa = 0.5 * solved.cycle.peak_pressure_pa;
        for pressure in &mut pressure_pa {
            let above = (*pressure - half_pa).max(0.0);
            *pressure += above * 2.0 * (peak_multiplier - 1.0);
        }
        let masses = Reciprocating {
            mass_kg: engine.reciprocating_mass_kg,
            bore_m: engine.bore_m,
        };
        let angles = solved.cycle.angle_rad.iter().zip(&pressure_pa);
        let forces = angles
            .map(|(angle, pressure)| {
                masses.forces(&self.crank, *angle, speed_rad_s, pressure - CRANKCASE_PA)
            })
            .collect();
        Ok(CycleLoads {
            speed_rad_s,
            imep_pa,
            angle_rad: solved.cycle.angle_rad,
            pressure_pa,
            forces,
            peak_pressure_pa: solved.cycle.peak_pressure_pa * peak_multiplier,
            bmep_pa: solved.bmep_pa,
            crank: self.crank,
            rotating_rod_mass_kg: engine.rotating_rod_mass_kg,
        })
    }
}

impl CycleLoads {
    /// Crank and rod.
    pub fn crank(&self) -> &SliderCrank {
        &self.crank
    }

    /// Duration of the cycle \[s\].
    pub fn period_s(&self) -> f64 {
        4.0 * std::f64::consts::PI / self.speed_rad_s
    }

    /// Force of the rod on the crank pin, in axes that turn with the crank: along the throw outwards, across it in the direction
    /// of rotation. The rotating share of the rod pulls outwards.
    pub fn pin_in_crank(&self, point: usize) -> Option<PinForce> {
        let (rod_n, throw_rad) = self.rod(point)?;
        let speed = self.speed_rad_s;
        let outward_n = self.rotating_rod_mass_kg * self.crank.crank_radius_m * speed * speed;
        Some(PinForce {
            along_n: outward_n - rod_n * throw_rad.cos(),
            across_n: rod_n * throw_rad.sin(),
        })
    }

    /// The same force in axes that swing with the rod: along it from the crank pin to the piston pin, across it towards the side the
    /// crank pin moves to on the downstroke.
    pub fn pin_in_rod(&self, point: usize) -> Option<PinForce> {
        let force = self.pin_in_crank(point)?;
        let (_, throw_rad) = self.rod(point)?;
        // The throw leads the rod's axis by the sum of crank angle and rod angle.
        let (sin, cos) = throw_rad.sin_cos();
        Some(PinForce {
            along_n: force.along_n * cos - force.across_n * sin,
            across_n: force.along_n * sin + force.across_n * cos,
        })
    }

    /// The same force in axes of the cylinder: along it from the crank to the piston, across it towards the side the crank pin moves
    /// to on the downstroke.
    pub fn pin_in_cylinder(&self, point: usize) -> Option<PinForce> {
        let force = self.pin_in_crank(point)?;
        let (sin, cos) = self.angle_rad.get(point)?.sin_cos();
        Some(PinForce {
            along_n: force.along_n * cos - force.across_n * sin,
            across_n: force.along_n * sin + force.across_n * cos,
        })
    }

    /// Rod force \[N\], positive in compression, and angle from the rod's axis to the throw \[rad\].
    fn rod(&self, point: usize) -> Option<(f64, f64)> {
        let angle_rad = self.angle_rad.get(point)?;
        let forces = self.forces.get(point)?;
        Some((
            forces.rod_n,
            angle_rad + self.crank.rod_angle_rad(*angle_rad),
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fields::numbers;
    use std::f64::consts::PI;

    fn solver() -> CycleSolver {
        let defaults: Vec<f64> = numbers().iter().map(|n| n.default_value).collect();
        CycleSolver::new(&Engine::read(&defaults).unwrap(), POINTS).unwrap()
    }

    /// Statics: torque is the tangential pin force times the crank radius, at every angle.
    #[test]
    fn the_pin_force_turns_the_crank_with_the_torque() {
        let loads = solver().loads(800.0, 2.5e6).unwrap();
        let radius_m = loads.crank().crank_radius_m;
        for (point, forces) in loads.forces.iter().enumerate() {
            let pin = loads.pin_in_crank(point).unwrap();
            let off = pin.across_n * radius_m - forces.torque_n_m;
            assert!(off.abs() < 1e-6, "{point}: {off}");
        }
    }

    /// One force, three sets of axes. In the cylinder's, force on the pin and on the piston differ by the side thrust
    /// across and by nothing but the rotating mass along.
    #[test]
    fn the_axes_agree() {
        let loads = solver().loads(800.0, 2.5e6).unwrap();
        let speed = loads.speed_rad_s;
        let outward_n = 0.39 * loads.crank().crank_radius_m * speed * speed;
        for point in 0..POINTS {
            let crank = loads.pin_in_crank(point).unwrap();
            let rod = loads.pin_in_rod(point).unwrap();
            let cylinder = loads.pin_in_cylinder(point).unwrap();
            assert!((crank.magnitude_n() - rod.magnitude_n()).abs() < 1e-6);
            assert!((crank.magnitude_n() - cylinder.magnitude_n()).abs() < 1e-6);
            let forces = loads.forces[point];
            let (sin, cos) = loads.angle_rad[point].sin_cos();
            let down_n = forces.gas_n + forces.inertia_n;
            assert!((cylinder.along_n - (outward_n * cos - down_n)).abs() < 1e-6);
            assert!((cylinder.across_n - (outward_n * sin + forces.side_n)).abs() < 1e-6);
        }
    }

    /// Work of the torque over the cycle is indicated work: mean torque times 4π = imep times displacement.
    #[test]
    fn torque_work_is_indicated_work() {
        let solver = solver();
        let loads = solver.loads(700.0, 2.0e6).unwrap();
        let mean = loads.forces.iter().map(|f| f.torque_n_m).sum::<f64>() / POINTS as f64;
        let work_j = 4.0 * PI * mean;
        let indicated_j = 2.0e6 * solver.engine().displacement_m3();
        assert!(
            (work_j / indicated_j - 1.0).abs() < 0.01,
            "{work_j} {indicated_j}"
        );
    }

    /// At the gas-exchange top dead centre the rod is pulled by the reciprocating mass: m r ω² (1 + r/l), textbook.
    #[test]
    fn inertia_pulls_at_the_upper_dead_centre() {
        let loads = solver().loads(837.758, 2.5e6).unwrap();
        let lambda = 0.043 / 0.145;
        let inertia_n = 0.56 * 0.043 * 837.758_f64.powi(2) * (1.0 + lambda);
        let pull_n = -loads.forces[0].inertia_n;
        assert!(
            (pull_n / inertia_n - 1.0).abs() < 1e-9,
            "{pull_n} {inertia_n}"
        );
    }

    #[test]
    fn knock_raises_the_peak_and_nothing_below_half_of_it() {
        let solver = solver();
        let clean = solver.loads(600.0, 2.5e6).unwrap();
        let knocking = solver.loads_with_knock(600.0, 2.5e6, 1.4).unwrap();
        assert!((knocking.peak_pressure_pa / clean.peak_pressure_pa - 1.4).abs() < 1e-12);
        let highest = |trace: &[f64]| trace.iter().copied().fold(0.0, f64::max);
        assert!((highest(&knocking.pressure_pa) - knocking.peak_pressure_pa).abs() < 1.0);
        for (with, without) in knocking.pressure_pa.iter().zip(&clean.pressure_pa) {
            assert!(with >= without);
            if *without < 0.5 * clean.peak_pressure_pa {
                assert!((with - without).abs() < 1e-6);
            }
        }
    }
}
