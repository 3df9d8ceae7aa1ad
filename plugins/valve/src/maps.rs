//! Two maps, one after the other: the gas over speed and load, the motion over speed and seat load.

use ringland_engine::valvetrain::{self, SpeedGrid, SpeedMap, TrainCycle};
use ringland_engine::{CycleLoads, MapGrid, OperatingMap};
use ringland_mechanics::counting::NotFinite;
use ringland_mechanics::engine::EngineError;
use ringland_mechanics::guide::{SlideDose, press};
use ringland_mechanics::valve_train::MotionError;
use ringland_plugin::{Finding, error};

use crate::gas::{self, HeadGas};
use crate::groove::forces_n;
use crate::spec::Spec;

/// Values of the gas map: heat transfer, gas temperature, heat transfer of the exhaust, three power means of pressure.
const GAS: usize = 6;
/// Grid of the gas map.
pub const GAS_GRID: MapGrid = MapGrid::usual(GAS, 1);

/// Values of the motion map.
const TURN: usize = 9;
/// Grid of the motion map.
pub const TURN_GRID: SpeedGrid = SpeedGrid::usual(TURN, 2);

/// One turn of the cam, as the valve feels it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Turn {
    /// Sum of the squares of all landings \[m²/s²\].
    pub impacts_m2_s2: f64,
    /// Speed of the first landing \[m/s\].
    pub seating_m_s: f64,
    /// Utilisation of the groove that does once what the turn does.
    pub groove: f64,
    /// Dose of stem on guide at the top and at the bottom \[N·m\].
    pub dose_n_m: [f64; 2],
    /// Share of the turn in which the valve is closed.
    pub closed_share: f64,
    /// Largest gap between valve and cam while the cam holds the valve open \[m\].
    pub loft_m: f64,
    /// Mean speed of the stem while it slides \[m/s\].
    pub sliding_m_s: f64,
    /// Largest stress at the groove \[Pa\].
    pub groove_stress_pa: f64,
}

impl Turn {
    fn values(&self) -> Vec<f64> {
        vec![
            self.impacts_m2_s2,
            self.seating_m_s,
            self.groove,
            self.dose_n_m[0],
            self.dose_n_m[1],
            self.closed_share,
            self.loft_m,
            self.sliding_m_s,
            self.groove_stress_pa,
        ]
    }

    fn of(values: [f64; TURN]) -> Self {
        let [
            impacts_m2_s2,
            seating_m_s,
            groove,
            top_n_m,
            bottom_n_m,
            closed_share,
            loft_m,
            sliding_m_s,
            groove_stress_pa,
        ] = values;
        Self {
            impacts_m2_s2,
            seating_m_s,
            groove,
            dose_n_m: [top_n_m, bottom_n_m],
            closed_share,
            loft_m,
            sliding_m_s,
            groove_stress_pa,
        }
    }
}

/// Solves one turn, with the peak tension that a landing makes at the keepers for each m/s \[N·s/m\].
///
/// # Errors
/// A force that is not finite.
pub fn turn(spec: &Spec, impact_n_s_m: f64, cycle: &TrainCycle) -> Result<Turn, NotFinite> {
    let forces = forces_n(spec, impact_n_s_m, cycle);
    let peak_n = forces.iter().copied().fold(0.0, f64::max);
    let impacts = &cycle.motion.impacts_m_s;
    let open = cycle.instants.iter().filter(|i| i.point.seat_n <= 0.0);
    let open = open.count() as f64;
    let (dose, path_m) = slide(spec, cycle);
    Ok(Turn {
        impacts_m2_s2: impacts.iter().map(|v| v * v).sum(),
        seating_m_s: cycle.motion.seating_velocity_m_s(),
        groove: spec.groove.turn_utilisation(&forces, spec.slope)?,
        dose_n_m: [dose.top_n_m(), dose.bottom_n_m()],
        closed_share: 1.0 - open / cycle.instants.len() as f64,
        loft_m: cycle.loft_m(),
        sliding_m_s: path_m / (open.max(1.0) * cycle.instant_s()),
        groove_stress_pa: spec.groove.stress_pa(peak_n),
    })
}

/// Dose of the stem on both ends of the guide over a turn, and the path it slides \[m\]: the contact law of `ringland_mechanics::guide`.
fn slide(spec: &Spec, cycle: &TrainCycle) -> (SlideDose, f64) {
    let (mut dose, mut path_m) = (SlideDose::default(), 0.0);
    for pair in cycle.instants.windows(2) {
        let at = &pair[1];
        let slid_m = (at.point.lift_m - pair[0].point.lift_m).abs();
        let overhang_m = spec.tip_overhang_m - at.point.lift_m;
        let moment_n_m = at.point.train_n * at.tip_offset_m;
        let forces = press(spec.guide_length_m, overhang_m, at.side_n, moment_n_m);
        dose.add(forces, slid_m);
        path_m += slid_m;
    }
    (dose, path_m)
}

/// Why the motion has no values.
#[derive(Debug)]
enum Unsolved {
    Motion(MotionError),
    Force(NotFinite),
}

impl From<MotionError> for Unsolved {
    fn from(wrong: MotionError) -> Self {
        Self::Motion(wrong)
    }
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Motion(wrong) => wrong.fmt(out),
            Self::Force(wrong) => wrong.fmt(out),
        }
    }
}

/// Prepares both maps.
///
/// # Errors
/// The operating point or speed without a solution.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    prepare_on(spec, &GAS_GRID, &TURN_GRID)
}

/// [`prepare`] on grids of one's own.
///
/// # Errors
/// The operating point or speed without a solution.
pub fn prepare_on(
    spec: &Spec,
    gas_grid: &MapGrid,
    turn_grid: &SpeedGrid,
) -> Result<Vec<f64>, Vec<Finding>> {
    let node = |loads: &CycleLoads| {
        let gas = gas::solve(&spec.engine, loads);
        let mut values = vec![gas.face_w_m2_k, gas.face_k, gas.exhaust_w_m2_k];
        values.extend(gas.power_mean_pa);
        Ok::<_, EngineError>(values)
    };
    let mut prepared = ringland_engine::prepare(&spec.engine, gas_grid, node)?;
    let impact_n_s_m = spec.stem().peak_n_s_m();
    prepared.extend(valvetrain::prepare(&spec.train, turn_grid, |cycle| {
        let turn = turn(spec, impact_n_s_m, cycle).map_err(Unsolved::Force)?;
        Ok::<_, Unsolved>(turn.values())
    })?);
    Ok(prepared)
}

/// Both prepared maps.
#[derive(Debug, Clone, Copy)]
pub struct Maps<'a> {
    /// Over speed and load, with peak pressure.
    pub gas: OperatingMap<'a>,
    motion: SpeedMap<'a>,
}

impl<'a> Maps<'a> {
    /// Reads what [`prepare`] gave.
    ///
    /// # Errors
    /// A map of another specimen or version.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        Self::read_on(prepared, spec, &GAS_GRID, &TURN_GRID)
    }

    /// [`Self::read`] of maps on grids of one's own.
    ///
    /// # Errors
    /// A map of another specimen or version.
    pub fn read_on(
        prepared: &'a [f64],
        spec: &Spec,
        gas_grid: &MapGrid,
        turn_grid: &SpeedGrid,
    ) -> Result<Self, Vec<Finding>> {
        let Some((gas, motion)) = prepared.split_at_checked(gas_grid.length()) else {
            let expected = format!("{} numbers", gas_grid.length() + turn_grid.length());
            let remedy = "prepare the specimen again";
            let given = prepared.len() as f64;
            return Err(vec![error("prepared", given, &expected, remedy)]);
        };
        Ok(Self {
            gas: OperatingMap::read(gas, &spec.engine, gas_grid)?,
            motion: SpeedMap::read(motion, &spec.train, turn_grid)?,
        })
    }

    /// The gas at a speed \[rad/s\] and load \[Pa\], and whether the point lies off the map.
    pub fn gas_at(&self, speed_rad_s: f64, imep_pa: f64) -> (HeadGas, bool) {
        let mut values = [0.0; GAS];
        let outside = self.gas.look_up(speed_rad_s, imep_pa, &mut values);
        let [
            face_w_m2_k,
            face_k,
            exhaust_w_m2_k,
            low_pa,
            middle_pa,
            high_pa,
        ] = values;
        let gas = HeadGas {
            face_w_m2_k: face_w_m2_k.max(0.0),
            face_k: face_k.max(200.0),
            exhaust_w_m2_k: exhaust_w_m2_k.max(0.0),
            power_mean_pa: [low_pa, middle_pa, high_pa].map(|mean_pa| mean_pa.max(0.0)),
        };
        (gas, outside)
    }

    /// A turn at a crank speed \[rad/s\] and a seat load \[N\], and whether it lies off the map.
    pub fn turn_at(&self, speed_rad_s: f64, seat_load_n: f64) -> (Turn, bool) {
        let mut values = [0.0; TURN];
        let outside = self.motion.look_up(speed_rad_s, seat_load_n, &mut values);
        (Turn::of(values), outside)
    }
}
