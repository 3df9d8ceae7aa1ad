use super::cylinder::{Cycle, CycleModel, Operating};
use super::error::EngineError;
use super::friction::ChenFlynn;

/// The load that a cycle has to give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LoadTarget {
    /// Net indicated mean effective pressure \[Pa\].
    Imep(f64),
    /// Brake mean effective pressure \[Pa\]: indicated less friction.
    Bmep(f64),
}

/// What is moved to meet the load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LoadControl {
    /// The charge pressure \[Pa\], mixture fixed: throttle and boost. Below the least pressure the
    /// fuel is reduced instead, down to none.
    Charge {
        /// Closed-throttle manifold pressure.
        least_pa: f64,
        /// Highest boost.
        most_pa: f64,
    },
    /// The heat for each kilogram of charge, up to that of the operating point, at its charge pressure.
    Fuelling,
}

impl Default for LoadControl {
    fn default() -> Self {
        Self::Charge {
            least_pa: 2.5e4,
            most_pa: 5e5,
        }
    }
}

/// A cycle that meets a load.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadCycle {
    /// The traced cycle.
    pub cycle: Cycle,
    /// The operating point found.
    pub operating: Operating,
    /// Friction mean effective pressure \[Pa\].
    pub fmep_pa: f64,
    /// Brake mean effective pressure \[Pa\]: above the target when [`LoadCycle::motored`].
    pub bmep_pa: f64,
    /// True when even the unfired engine brakes less than the target asks: the cycle is then the
    /// motored one at the least charge pressure, and the target is not met.
    pub motored: bool,
}

const TOLERANCE: f64 = 1e-6;
const MOST_RUNS: usize = 60;

impl CycleModel {
    /// Finds the charge pressure (or fuelling) with which the cycle gives the wanted mean effective
    /// pressure to within 1e-6 of it (or 0.1 Pa).
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] when a field of `point` is wrong or the load cannot be reached with
    /// the control fully open; [`EngineError::NotConverged`] when the solution does not settle.
    pub fn run_to_load(
        &self,
        point: &Operating,
        target: LoadTarget,
        control: LoadControl,
        friction: &ChenFlynn,
    ) -> Result<LoadCycle, EngineError> {
        let search = Search {
            model: self,
            target,
            friction,
        };
        let fuelled = |base: Operating, share: f64| Operating {
            heat_j_kg: point.heat_j_kg * share,
            ..base
        };
        let idle = match control {
            LoadControl::Fuelling => *point,
            LoadControl::Charge { least_pa, most_pa } => {
                let charged = |pa: f64| Operating {
                    charge_pressure_pa: pa,
                    ..*point
                };
                let least = search.run(charged(least_pa))?;
                if search.miss(&least) <= 0.0 {
                    return search.between(charged, (least_pa, &least), most_pa);
                }
                charged(least_pa)
            }
        };
        let unfired = search.run(fuelled(idle, 0.0))?;
        if search.miss(&unfired) > 0.0 {
            return Ok(LoadCycle {
                motored: true,
                ..unfired
            });
        }
        search.between(|share| fuelled(idle, share), (0.0, &unfired), 1.0)
    }
}

struct Search<'a> {
    model: &'a CycleModel,
    target: LoadTarget,
    friction: &'a ChenFlynn,
}

impl Search<'_> {
    fn run(&self, operating: Operating) -> Result<LoadCycle, EngineError> {
        let cycle = self.model.run(&operating)?;
        let piston_speed = self
            .model
            .setup()
            .cylinder
            .crank
            .mean_speed_m_s(operating.speed_rad_s);
        let fmep_pa = self.friction.fmep_pa(cycle.peak_pressure_pa, piston_speed);
        let bmep_pa = cycle.imep_pa - fmep_pa;
        Ok(LoadCycle {
            cycle,
            operating,
            fmep_pa,
            bmep_pa,
            motored: false,
        })
    }

    /// How far the cycle is above the target \[Pa\].
    fn miss(&self, solved: &LoadCycle) -> f64 {
        match self.target {
            LoadTarget::Imep(wanted) => solved.cycle.imep_pa - wanted,
            LoadTarget::Bmep(wanted) => solved.bmep_pa - wanted,
        }
    }

    /// Regula falsi with the Illinois halving of the end that stays: load rises with the control.
    fn between(
        &self,
        at: impl Fn(f64) -> Operating,
        below: (f64, &LoadCycle),
        most: f64,
    ) -> Result<LoadCycle, EngineError> {
        let (LoadTarget::Imep(wanted) | LoadTarget::Bmep(wanted)) = self.target;
        let scale = wanted.abs().max(1e5);
        let above = self.run(at(most))?;
        let (mut low, mut low_miss) = (below.0, self.miss(below.1));
        let (mut high, mut high_miss) = (most, self.miss(&above));
        if high_miss < 0.0 {
            let expected = "a mean effective pressure within reach of the control";
            return Err(EngineError::OutOfRange {
                field: "target_pa",
                value: wanted,
                expected,
            });
        }
        let mut residual = f64::INFINITY;
        let mut last_side = 0_i8;
        for _ in 0..MOST_RUNS {
            let try_at = high - high_miss * (high - low) / (high_miss - low_miss);
            let solved = self.run(at(try_at))?;
            let miss = self.miss(&solved);
            residual = miss.abs() / scale;
            if residual <= TOLERANCE {
                return Ok(solved);
            }
            let side = if miss > 0.0 { 1 } else { -1 };
            if side > 0 {
                (high, high_miss) = (try_at, miss);
                low_miss *= if last_side == side { 0.5 } else { 1.0 };
            } else {
                (low, low_miss) = (try_at, miss);
                high_miss *= if last_side == side { 0.5 } else { 1.0 };
            }
            last_side = side;
        }
        let advice = "trace the cycle in finer steps";
        Err(EngineError::NotConverged {
            solving: "charge for a wanted load",
            residual,
            advice,
        })
    }
}
