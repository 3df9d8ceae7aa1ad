//! A map over operating points: what a plugin solves at nodes of speed and load, and looks up between them.

use ringland_mechanics::engine::{ChenFlynn, EngineError, bmep_pa};
use ringland_mechanics::interpolate::Weights;
use ringland_plugin::{Finding, error};
use std::fmt::Display;

use crate::blocks::Block;
use crate::fields::Engine;
use crate::loads::{CycleLoads, CycleSolver, POINTS};

/// Nodes of a map: even in speed and in net indicated mean effective pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MapGrid {
    /// Nodes of speed, at least 4.
    pub speeds: usize,
    /// Slowest node over rated speed, above 0.
    pub slowest: f64,
    /// Fastest node over rated speed.
    pub fastest: f64,
    /// Nodes of load from 0 on, at least 4.
    pub loads: usize,
    /// Highest load node over full load.
    pub highest: f64,
    /// Points of the traced cycle over 720°.
    pub points: usize,
    /// Values that the plugin keeps at each node.
    pub width: usize,
    /// Raised when the meaning of the values changes, so that a map of an older model is not read.
    pub version: u32,
}

impl MapGrid {
    /// 9 speeds from 0.15 to 1.35 of rated, 6 loads up to 1.25 of full load, a cycle in steps of 2°.
    pub const fn usual(width: usize, version: u32) -> Self {
        Self {
            speeds: 9,
            slowest: 0.15,
            fastest: 1.35,
            loads: 6,
            highest: 1.25,
            points: POINTS,
            width,
            version,
        }
    }

    /// Speed of a node \[rad/s\].
    pub fn speed_rad_s(&self, engine: &Engine, node: usize) -> f64 {
        let share = node as f64 / (self.speeds - 1) as f64;
        engine.rated_speed_rad_s * (self.slowest + (self.fastest - self.slowest) * share)
    }

    /// Load of a node: net indicated mean effective pressure \[Pa\].
    pub fn imep_pa(&self, engine: &Engine, node: usize) -> f64 {
        engine.full_load_imep_pa * self.highest * node as f64 / (self.loads - 1) as f64
    }

    /// Length of a prepared map.
    pub fn length(&self) -> usize {
        1 + self.speeds * self.loads * self.row()
    }

    /// The plugin's values, after the peak pressure.
    fn row(&self) -> usize {
        1 + self.width
    }
}

/// Solves the map: `node` turns the loads of an operating point into the grid's number of values.
///
/// # Errors
/// The operating point without a solution, and why.
pub fn prepare<E: From<EngineError> + Display>(
    engine: &Engine,
    grid: &MapGrid,
    mut node: impl FnMut(&CycleLoads) -> Result<Vec<f64>, E>,
) -> Result<Vec<f64>, Vec<Finding>> {
    let unsolved = |error: E| vec![refusal(&error.to_string())];
    let solver = CycleSolver::new(engine, grid.points).map_err(|e| unsolved(e.into()))?;
    let mut prepared = Vec::with_capacity(grid.length());
    prepared.push(f64::from(grid.version));
    for speed in 0..grid.speeds {
        for load in 0..grid.loads {
            let (speed_rad_s, imep_pa) =
                (grid.speed_rad_s(engine, speed), grid.imep_pa(engine, load));
            let loads = solver.loads(speed_rad_s, imep_pa);
            let loads = loads.map_err(|e| unsolved(e.into()))?;
            prepared.push(loads.peak_pressure_pa);
            let values = node(&loads).map_err(unsolved)?;
            if values.len() != grid.width || values.iter().any(|value| !value.is_finite()) {
                let point =
                    format!("no finite solution at {speed_rad_s:.0} rad/s and {imep_pa:.2e} Pa");
                return Err(vec![refusal(&point)]);
            }
            prepared.extend(values);
        }
    }
    Ok(prepared)
}

fn refusal(why: &str) -> Finding {
    error(
        "spec",
        why,
        "an operating point with a solution",
        "bring the spec nearer to the defaults of the card, field by field",
    )
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct OperatingMap<'a> {
    grid: MapGrid,
    engine: Engine,
    rows: &'a [f64],
}

impl<'a> OperatingMap<'a> {
    /// Reads what [`prepare`] gave for the same engine and grid.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(
        prepared: &'a [f64],
        engine: &Engine,
        grid: &MapGrid,
    ) -> Result<Self, Vec<Finding>> {
        let finite = prepared.iter().all(|value| value.is_finite());
        match prepared.split_first() {
            Some((version, rows))
                if version.to_bits() == f64::from(grid.version).to_bits()
                    && prepared.len() == grid.length()
                    && finite =>
            {
                Ok(Self {
                    grid: *grid,
                    engine: *engine,
                    rows,
                })
            }
            _ => Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &format!(
                    "{} finite numbers, as this version of the model prepares them",
                    grid.length()
                ),
                "prepare the specimen again",
            )]),
        }
    }

    /// The engine.
    pub fn engine(&self) -> &Engine {
        &self.engine
    }

    /// Looks up the plugin's values at a speed \[rad/s\] and a net indicated mean effective pressure \[Pa\]: cubic between nodes; off the
    /// map straight on for at most one spacing, then held. Says whether the point lies off the map in speed above or in load.
    pub fn look_up(&self, speed_rad_s: f64, imep_pa: f64, values: &mut [f64]) -> bool {
        let (speed, load) = self.weights(speed_rad_s, imep_pa);
        values.fill(0.0);
        for (weight, row) in self.nodes(&speed, &load) {
            for (value, node) in values.iter_mut().zip(&row[1..]) {
                *value += weight * node;
            }
        }
        let slow = speed_rad_s < self.engine.rated_speed_rad_s * self.grid.slowest;
        (speed.outside && !slow) || load.outside
    }

    /// Peak cylinder pressure \[Pa\].
    pub fn peak_pressure_pa(&self, speed_rad_s: f64, imep_pa: f64) -> f64 {
        let (speed, load) = self.weights(speed_rad_s, imep_pa);
        let nodes = self.nodes(&speed, &load);
        nodes.map(|(weight, row)| weight * row[0]).sum()
    }

    /// Net indicated mean effective pressure \[Pa\] of a block: brake mean effective pressure plus friction after Chen and Flynn,
    /// not below 0.
    pub fn imep_pa(&self, block: &Block) -> f64 {
        let engine = &self.engine;
        let brake_pa = bmep_pa(
            block.torque_n_m,
            engine.cylinders * engine.displacement_m3(),
        );
        let piston_speed = engine.mean_piston_speed_m_s(block.speed_rad_s);
        let friction = ChenFlynn::default();
        let mut imep_pa = brake_pa.max(0.0);
        // Contracts by 1/200 of the rise of peak pressure with load, about 1/50, each time.
        for _ in 0..6 {
            let peak_pa = self.peak_pressure_pa(block.speed_rad_s, imep_pa);
            imep_pa = (brake_pa + friction.fmep_pa(peak_pa, piston_speed)).max(0.0);
        }
        imep_pa
    }

    fn weights(&self, speed_rad_s: f64, imep_pa: f64) -> (Weights, Weights) {
        let grid = &self.grid;
        let place = (speed_rad_s / self.engine.rated_speed_rad_s - grid.slowest)
            / (grid.fastest - grid.slowest);
        let load = imep_pa / (self.engine.full_load_imep_pa * grid.highest);
        (
            Weights::new(place * (grid.speeds - 1) as f64, grid.speeds),
            Weights::new(load * (grid.loads - 1) as f64, grid.loads),
        )
    }

    fn nodes(&self, speed: &Weights, load: &Weights) -> impl Iterator<Item = (f64, &'a [f64])> {
        let (row, loads, rows) = (self.grid.row(), self.grid.loads, self.rows);
        let (speed, load) = (*speed, *load);
        (0..16).map(move |k| {
            let (i, j) = (k / 4, k % 4);
            let at = ((speed.first + i) * loads + load.first + j) * row;
            (speed.nodes[i] * load.nodes[j], &rows[at..at + row])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fields::numbers;

    fn engine() -> Engine {
        let defaults: Vec<f64> = numbers().iter().map(|n| n.default_value).collect();
        Engine::read(&defaults).unwrap()
    }

    #[allow(clippy::unnecessary_wraps)] // the shape that `prepare` takes
    fn tension(loads: &CycleLoads) -> Result<Vec<f64>, EngineError> {
        Ok(vec![-loads.forces[0].rod_n, loads.imep_pa])
    }

    /// Rod tension at the gas-exchange dead centre is quadratic in speed, so a cubic carries its inertia part exactly; what is left is
    /// the gas.
    #[test]
    fn between_nodes_the_map_agrees_with_the_solution() {
        let (engine, grid) = (engine(), MapGrid::usual(2, 1));
        let prepared = prepare(&engine, &grid, tension).unwrap();
        assert_eq!(prepared.len(), grid.length());
        let map = OperatingMap::read(&prepared, &engine, &grid).unwrap();
        let solver = CycleSolver::new(&engine, grid.points).unwrap();
        let mut values = [0.0; 2];
        for (speed, imep) in [
            (300.0, 0.4e6),
            (650.0, 2.9e6),
            (838.0, 2.7e6),
            (905.0, 1.1e6),
        ] {
            let solved = solver.loads(speed, imep).unwrap();
            assert!(!map.look_up(speed, imep, &mut values));
            let direct = tension(&solved).unwrap();
            assert!(
                (values[0] / direct[0] - 1.0).abs() < 0.02,
                "{values:?} {direct:?}"
            );
            assert!((values[1] / direct[1] - 1.0).abs() < 1e-9);
            let peak = map.peak_pressure_pa(speed, imep) / solved.peak_pressure_pa;
            assert!((peak - 1.0).abs() < 0.03, "peak {peak} at {speed} {imep}");
        }
        assert!(map.look_up(1300.0, 1.0e6, &mut values));
        assert!(!map.look_up(20.0, 0.0, &mut values));
    }

    /// Torque to indicated pressure and back: indicated less friction is brake.
    #[test]
    fn indicated_less_friction_is_brake() {
        let (engine, grid) = (engine(), MapGrid::usual(2, 1));
        let prepared = prepare(&engine, &grid, tension).unwrap();
        let map = OperatingMap::read(&prepared, &engine, &grid).unwrap();
        let block = Block {
            speed_rad_s: 700.0,
            torque_n_m: 425.0,
            ..Block::default()
        };
        let imep_pa = map.imep_pa(&block);
        let peak_pa = map.peak_pressure_pa(700.0, imep_pa);
        let friction = ChenFlynn::default().fmep_pa(peak_pa, engine.mean_piston_speed_m_s(700.0));
        let brake = bmep_pa(425.0, 4.0 * engine.displacement_m3());
        assert!(((imep_pa - friction) / brake - 1.0).abs() < 1e-6);
    }

    #[test]
    fn another_map_is_not_read() {
        let (engine, grid) = (engine(), MapGrid::usual(2, 1));
        let prepared = prepare(&engine, &grid, tension).unwrap();
        let newer = MapGrid::usual(2, 2);
        assert!(OperatingMap::read(&prepared, &engine, &newer).is_err());
        assert!(OperatingMap::read(&prepared[1..], &engine, &grid).is_err());
        assert!(OperatingMap::read(&[], &engine, &grid).is_err());
    }
}
