//! A map over engine speed and seat load.

use std::fmt::Display;

use ringland_mechanics::valve_train::MotionError;
use ringland_plugin::{Finding, error};

use super::cycle::{TrainCycle, TrainSolver};
use super::fields::ValveTrain;

/// Seat loads of the map over that of the spec: as built, and a spring that has lost a quarter.
pub const LOAD_SHARES: [f64; 2] = [1.0, 0.75];

/// Nodes of a map, even in speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeedGrid {
    /// Nodes of speed, at least 2.
    pub speeds: usize,
    /// Slowest node over the limiter's speed.
    pub slowest: f64,
    /// Fastest node over the limiter's speed.
    pub fastest: f64,
    /// How many of [`LOAD_SHARES`] are solved, 1 or 2.
    pub seat_loads: usize,
    /// Values that the plugin keeps at each node.
    pub width: usize,
    /// Raised when the meaning of the values changes, so that a map of an older model is not read.
    pub version: u32,
}

impl SpeedGrid {
    /// 161 speeds from 0.15 to 1.35 of the limiter's, 0.75 % apart: four in the width of a resonance with 2 % of critical damping.
    pub const fn usual(width: usize, version: u32) -> Self {
        Self {
            speeds: 161,
            slowest: 0.15,
            fastest: 1.35,
            seat_loads: LOAD_SHARES.len(),
            width,
            version,
        }
    }

    /// [`Self::usual`] with the seat load as built only, for a part that does not feel the spring's loss.
    pub const fn as_built(width: usize, version: u32) -> Self {
        Self {
            seat_loads: 1,
            ..Self::usual(width, version)
        }
    }

    /// Crank speed of a node \[rad/s\].
    pub fn speed_rad_s(&self, train: &ValveTrain, node: usize) -> f64 {
        let share = node as f64 / (self.speeds - 1) as f64;
        train.limiter_speed_rad_s * (self.slowest + (self.fastest - self.slowest) * share)
    }

    /// Length of a prepared map.
    pub fn length(&self) -> usize {
        1 + self.speeds * self.seat_loads * self.width
    }
}

/// Solves the map: `node` turns a cycle of the train into the grid's number of values.
///
/// # Errors
/// The speed without a solution, and why.
pub fn prepare<E: From<MotionError> + Display>(
    train: &ValveTrain,
    grid: &SpeedGrid,
    mut node: impl FnMut(&TrainCycle) -> Result<Vec<f64>, E>,
) -> Result<Vec<f64>, Vec<Finding>> {
    let unsolved = |error: E| vec![refusal(&error.to_string())];
    let solver = TrainSolver::new(train);
    let mut prepared = Vec::with_capacity(grid.length());
    prepared.push(f64::from(grid.version));
    for speed in 0..grid.speeds {
        let speed_rad_s = grid.speed_rad_s(train, speed);
        for share in &LOAD_SHARES[..grid.seat_loads] {
            let cycle = solver.cycle(speed_rad_s, share * train.seat_load_n);
            let values = node(&cycle.map_err(|e| unsolved(e.into()))?).map_err(unsolved)?;
            if values.len() != grid.width || values.iter().any(|value| !value.is_finite()) {
                return Err(vec![refusal(&format!(
                    "no finite solution at {speed_rad_s:.0} rad/s"
                ))]);
            }
            prepared.extend(values);
        }
    }
    Ok(prepared)
}

fn refusal(why: &str) -> Finding {
    let remedy = "bring the spec nearer to the defaults of the card, field by field";
    error("spec", why, "a motion of the valve at every speed", remedy)
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct SpeedMap<'a> {
    grid: SpeedGrid,
    limiter_speed_rad_s: f64,
    seat_load_n: f64,
    rows: &'a [f64],
}

impl<'a> SpeedMap<'a> {
    /// Reads what [`prepare`] gave for the same train and grid.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(
        prepared: &'a [f64],
        train: &ValveTrain,
        grid: &SpeedGrid,
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
                    limiter_speed_rad_s: train.limiter_speed_rad_s,
                    seat_load_n: train.seat_load_n,
                    rows,
                })
            }
            _ => {
                let expected = format!(
                    "{} finite numbers, as this version of the model prepares them",
                    grid.length()
                );
                Err(vec![error(
                    "prepared",
                    prepared.len() as f64,
                    &expected,
                    "prepare the specimen again",
                )])
            }
        }
    }

    /// Looks up the plugin's values at a crank speed \[rad/s\] and a seat load \[N\]: linear between nodes, held beyond them. Says
    /// whether the speed lies above the map or the load below it. With one seat load solved, that one serves for all.
    pub fn look_up(&self, speed_rad_s: f64, seat_load_n: f64, values: &mut [f64]) -> bool {
        let grid = &self.grid;
        let last = (grid.speeds - 1) as f64;
        let place = (speed_rad_s / self.limiter_speed_rad_s - grid.slowest)
            / (grid.fastest - grid.slowest)
            * last;
        let held = place.clamp(0.0, last);
        let first = (held as usize).min(grid.speeds - 2);
        let above = held - first as f64;
        let lost = (1.0 - seat_load_n / self.seat_load_n) / (LOAD_SHARES[0] - LOAD_SHARES[1]);
        let loss = lost.clamp(0.0, 1.0);
        values.fill(0.0);
        for (speed, speed_weight) in [(first, 1.0 - above), (first + 1, above)] {
            for (load, load_weight) in [(0, 1.0 - loss), (grid.seat_loads - 1, loss)] {
                let at = (speed * grid.seat_loads + load) * grid.width;
                for (value, node) in values.iter_mut().zip(&self.rows[at..at + grid.width]) {
                    *value += speed_weight * load_weight * node;
                }
            }
        }
        place > last + 1.0e-9 || (grid.seat_loads > 1 && lost > 1.0 + 1.0e-9)
    }
}
