//! The map over engine speed and seat load.

use ringland_engine::Block;
use ringland_engine::valvetrain::{
    self, FLOAT_LOFT_M, LOAD_SHARES, SpeedGrid, SpeedMap, TrainCycle,
};
use ringland_mechanics::valve_train::MotionError;
use ringland_plugin::Finding;

use crate::spec::Spec;
use crate::turn::{Turn, WIDTH};
use crate::wire::ZONES;

/// The grid.
pub const GRID: SpeedGrid = SpeedGrid::usual(WIDTH, 2);

/// Prepares the map.
///
/// # Errors
/// The speed without a solution.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    prepare_on(spec, &GRID)
}

/// [`prepare`] on a grid of one's own.
///
/// # Errors
/// The speed without a solution.
pub fn prepare_on(spec: &Spec, grid: &SpeedGrid) -> Result<Vec<f64>, Vec<Finding>> {
    valvetrain::prepare(&spec.train, grid, |cycle: &TrainCycle| {
        // A stress that is not finite has no life: the map refuses the speed.
        let row = Turn::of(spec, cycle).map_or_else(|_| vec![f64::NAN; WIDTH], |turn| turn.row());
        Ok::<_, MotionError>(row)
    })
}

/// Seat loads of the map over that of the spec.
pub const LOADS: usize = LOAD_SHARES.len();

/// What a block of duty does, at each seat load of the map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// Turns of the cam.
    pub turns: f64,
    /// One of them.
    pub turn: [Turn; LOADS],
    /// Damage of all of them, by seat load and zone.
    pub damage: [[f64; ZONES]; LOADS],
    /// Time in the relaxation test that would relax the wire as far \[s\].
    pub reduced_s: [f64; LOADS],
    /// Whether the speed is one that springs have to hold: no faster than the limiter's.
    pub held: bool,
    /// Whether the speed lies above the map.
    pub extrapolated: bool,
}

impl Looked {
    /// Whether the valve floats with springs as built.
    pub fn floats(&self) -> bool {
        self.turn[0].loft_m >= FLOAT_LOFT_M
    }

    /// Share of the seat load at whose loss the valve floats: linear between the seat loads of the map; infinite where it does not float within them.
    pub fn float_loss(&self) -> f64 {
        let [built, low] = self.turn.map(|turn| turn.loft_m);
        if low <= FLOAT_LOFT_M {
            return f64::INFINITY;
        }
        let place = ((FLOAT_LOFT_M - built) / (low - built)).max(0.0);
        place * (LOAD_SHARES[0] - LOAD_SHARES[1])
    }
}

/// Looks up a turn; says whether the speed lies above the map.
pub fn turn_at(map: &SpeedMap<'_>, speed_rad_s: f64, seat_load_n: f64) -> (Turn, bool) {
    let mut row = [0.0; WIDTH];
    let extrapolated = map.look_up(speed_rad_s, seat_load_n, &mut row);
    (Turn::from_row(row), extrapolated)
}

/// Looks up a block of duty; `None` where the engine stands or no time passes.
pub fn look_up(spec: &Spec, map: &SpeedMap<'_>, block: &Block) -> Option<Looked> {
    let turns = block.cycles();
    if turns <= 0.0 {
        return None;
    }
    let at =
        LOAD_SHARES.map(|share| turn_at(map, block.speed_rad_s, share * spec.train.seat_load_n));
    let turn = at.map(|(turn, _)| turn);
    let relaxation = &spec.relaxation;
    Some(Looked {
        turns,
        turn,
        damage: turn.map(|turn| turn.utilisation.map(|u| turns * spec.wire.damage(u))),
        reduced_s: turn.map(|turn| {
            block.time_s
                * relaxation.heat_factor(block.oil_k + turn.rise_k)
                * relaxation.stress_factor(turn.relaxing_pa)
        }),
        held: block.speed_rad_s <= spec.train.limiter_speed_rad_s,
        extrapolated: at[0].1,
    })
}
