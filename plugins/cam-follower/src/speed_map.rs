//! Turns solved over speeds and viscosities, and looked up between them.

use ringland_engine::valvetrain::{self, SpeedGrid, SpeedMap, TrainCycle, TrainSolver};
use ringland_mechanics::valve_train::MotionError;
use ringland_plugin::{Finding, error};

use crate::spec::Spec;
use crate::turn::{Lobe, STATIONS, Turn};

/// Viscosities of the map \[Pa·s\]: even in their logarithm.
pub const VISCOSITIES_PA_S: [f64; 5] = [1.5e-3, 3.0e-3, 6.0e-3, 12.0e-3, 24.0e-3];
const NODES: usize = VISCOSITIES_PA_S.len();
/// Values of one turn.
const VALUES: usize = 2 * STATIONS + 4;
const WIDTH: usize = NODES * VALUES + 2;
/// Slopes that follow the grid: of ln(dose) and of ln(pitting) over ln(roughness).
const SLOPES: usize = 2;

/// Grid of the map.
pub const GRID: SpeedGrid = SpeedGrid::usual(WIDTH, 2);

/// What is added before a logarithm is taken, so that nothing is a number: far below what matters of a dose \[Pa·m\], a rate of pitting, a
/// temperature \[K\] and a ratio.
const FLOORS: [f64; 4] = [1.0, 1.0e-4, 0.1, 1.0e-3];

/// Kind of each value, as an index of [`FLOORS`].
fn kind(index: usize) -> usize {
    match index {
        0..=STATIONS => 0,
        _ if index <= 2 * STATIONS + 1 => 1,
        _ => index - 2 * STATIONS,
    }
}

fn logs(turn: &Turn) -> [f64; VALUES] {
    let mut values = [0.0; VALUES];
    values[..STATIONS].copy_from_slice(&turn.lobe_dose_pa_m);
    values[STATIONS] = turn.follower_dose_pa_m;
    values[STATIONS + 1..=2 * STATIONS].copy_from_slice(&turn.lobe_pitting);
    values[2 * STATIONS + 1] = turn.follower_pitting;
    values[2 * STATIONS + 2] = turn.flash_k;
    values[2 * STATIONS + 3] = turn.nose_film_ratio;
    for (index, value) in values.iter_mut().enumerate() {
        *value = libm::log(*value + FLOORS[kind(index)]);
    }
    values
}

fn from_logs(mut values: [f64; VALUES]) -> Turn {
    for (index, value) in values.iter_mut().enumerate() {
        let floor = FLOORS[kind(index)];
        *value = (libm::exp(*value) - floor).max(0.0);
        // Between nodes that have nothing there is nothing.
        if *value < 1.0e-6 * floor {
            *value = 0.0;
        }
    }
    let mut turn = Turn {
        follower_dose_pa_m: values[STATIONS],
        follower_pitting: values[2 * STATIONS + 1],
        flash_k: values[2 * STATIONS + 2],
        nose_film_ratio: values[2 * STATIONS + 3],
        ..Turn::default()
    };
    turn.lobe_dose_pa_m.copy_from_slice(&values[..STATIONS]);
    turn.lobe_pitting
        .copy_from_slice(&values[STATIONS + 1..=2 * STATIONS]);
    turn
}

/// Solves the map, then the slopes over roughness.
///
/// # Errors
/// A speed without a motion.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let lobe = Lobe::new(spec, 1.0);
    let mut prepared = valvetrain::prepare(&spec.train, &GRID, |cycle| {
        Ok::<_, MotionError>(node(&lobe, cycle))
    })?;
    prepared.extend(slopes(spec, &lobe)?);
    Ok(prepared)
}

fn node(lobe: &Lobe<'_>, cycle: &TrainCycle) -> Vec<f64> {
    let touches = lobe.touches(cycle);
    let mut values = Vec::with_capacity(WIDTH);
    for viscosity_pa_s in VISCOSITIES_PA_S {
        values.extend(logs(&lobe.turn(&touches, viscosity_pa_s)));
    }
    let pressures = touches.iter().map(|touch| touch.hertz.peak_pressure_pa);
    values.push(pressures.fold(0.0, f64::max));
    values.push(cycle.loft_m());
    values
}

/// Rougher surfaces by this much give the slopes.
const ROUGHER: f64 = 1.1;
/// Speed, over the limiter's, and viscosity \[Pa·s\] at which they are taken.
const SLOPES_AT: (f64, f64) = (0.8, 5.0e-3);

fn slopes(spec: &Spec, lobe: &Lobe<'_>) -> Result<[f64; SLOPES], Vec<Finding>> {
    let speed_rad_s = SLOPES_AT.0 * spec.train.limiter_speed_rad_s;
    let cycle = TrainSolver::new(&spec.train).cycle(speed_rad_s, spec.train.seat_load_n);
    let cycle = cycle.map_err(|wrong| {
        let remedy = "bring the spec nearer to the defaults of the card, field by field";
        vec![error(
            "spec",
            wrong.to_string().as_str(),
            "a motion of the valve",
            remedy,
        )]
    })?;
    let touches = lobe.touches(&cycle);
    let fine = lobe.turn(&touches, SLOPES_AT.1);
    let coarse = Lobe::new(spec, ROUGHER).turn(&touches, SLOPES_AT.1);
    let most = |values: &[f64; STATIONS]| values.iter().copied().fold(1.0e-12, f64::max);
    let slope = |fine: f64, coarse: f64| (libm::log(coarse / fine) / libm::log(ROUGHER)).abs();
    Ok([
        slope(most(&fine.lobe_dose_pa_m), most(&coarse.lobe_dose_pa_m)),
        slope(most(&fine.lobe_pitting), most(&coarse.lobe_pitting)),
    ])
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct CamMap<'a> {
    speeds: SpeedMap<'a>,
    /// Slope of ln(dose) over ln(roughness), without its sign.
    pub dose_slope: f64,
    /// The same of ln(pitting).
    pub pitting_slope: f64,
}

/// What the map says of a speed, a seat load and a viscosity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// The turn.
    pub turn: Turn,
    /// Highest Hertz pressure \[Pa\].
    pub peak_pressure_pa: f64,
    /// Share of the turn in which the valve has left the cam.
    pub loft_m: f64,
    /// Whether the speed lies above the map, or the seat load below it.
    pub extrapolated: bool,
}

impl<'a> CamMap<'a> {
    /// Reads what [`prepare`] gave.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let split = prepared.split_last_chunk::<SLOPES>();
        let (rows, &[dose_slope, pitting_slope]) = split.unwrap_or((prepared, &[f64::NAN; SLOPES]));
        let speeds = SpeedMap::read(rows, &spec.train, &GRID)?;
        if !(dose_slope.is_finite() && pitting_slope.is_finite()) {
            let remedy = "prepare the specimen again";
            return Err(vec![error("prepared", dose_slope, "finite slopes", remedy)]);
        }
        Ok(Self {
            speeds,
            dose_slope,
            pitting_slope,
        })
    }

    /// Looks up a crank speed \[rad/s\], a seat load \[N\] and the viscosity at the surfaces \[Pa·s\].
    pub fn at(&self, speed_rad_s: f64, seat_load_n: f64, viscosity_pa_s: f64) -> Found {
        let mut row = [0.0; WIDTH];
        let extrapolated = self.speeds.look_up(speed_rad_s, seat_load_n, &mut row);
        let step = libm::log(VISCOSITIES_PA_S[1] / VISCOSITIES_PA_S[0]);
        let place = libm::log(viscosity_pa_s / VISCOSITIES_PA_S[0]) / step;
        let held = place.clamp(0.0, (NODES - 1) as f64);
        let values = std::array::from_fn(|value| {
            monotone(std::array::from_fn(|node| row[node * VALUES + value]), held)
        });
        Found {
            turn: from_logs(values),
            peak_pressure_pa: row[WIDTH - 2],
            loft_m: row[WIDTH - 1],
            extrapolated: extrapolated || (held - place).abs() > 1.0e-9,
        }
    }
}

/// Cubic between even nodes that rises or falls only where they do, so that thinner oil never spares: slopes after F. N. Fritsch and
/// J. Butland (SIAM J. Sci. Stat. Comput. 5, 1984), the harmonic mean of the neighbouring rises, 0 at a turn; one-sided at the ends.
fn monotone(nodes: [f64; NODES], place: f64) -> f64 {
    let rise = |k: usize| nodes[k + 1] - nodes[k];
    let slope = |k: usize| {
        if k == 0 {
            return rise(0);
        }
        if k == NODES - 1 {
            return rise(NODES - 2);
        }
        let (before, after) = (rise(k - 1), rise(k));
        if before * after <= 0.0 {
            0.0
        } else {
            2.0 * before * after / (before + after)
        }
    };
    let k = (place as usize).min(NODES - 2);
    let t = place - k as f64;
    let (from, to, up) = (slope(k), slope(k + 1), rise(k));
    nodes[k] + t * (from + t * (3.0 * up - 2.0 * from - to + t * (from + to - 2.0 * up)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_rising_nodes_it_rises_and_a_line_is_met() {
        let nodes = [0.0, 0.1, 0.1, 2.0, 2.5];
        let mut before = -1.0;
        for step in 0..=400 {
            let found = monotone(nodes, f64::from(step) / 100.0);
            assert!(found >= before - 1e-15, "{step}");
            before = found;
        }
        for step in 0..=40 {
            let place = f64::from(step) / 10.0;
            let line = monotone([1.0, 0.5, 0.0, -0.5, -1.0], place);
            assert!((line - (1.0 - 0.5 * place)).abs() < 1e-12);
        }
    }
}
