//! A duty record as what it adds: each operating point and over-rev looked up.

use ringland_engine::Block;
use ringland_engine::valvetrain::SpeedMap;

use crate::operating_map::look_up;
use crate::spec::Spec;
use crate::turn::Turn;

/// What blocks add.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Added {
    /// Pressure times sliding on the taper \[Pa·m\], mean over it, contamination counted in.
    pub taper_pa_m: f64,
    /// The same where it is largest, without contamination.
    pub worst_pa_m: f64,
    /// Pressure times sliding under the end coil \[Pa·m\], contamination counted in.
    pub seat_pa_m: f64,
    /// Damage of the flange \[1\].
    pub flange: f64,
    /// Damage of the hub \[1\].
    pub hub: f64,
    /// Highest axial force on the taper \[N\].
    pub force_n: f64,
    /// Force to which the retainer stays driven on \[N\].
    pub held_n: f64,
    /// Lowest share of its highest force to which the force on the taper falls at an operating point \[1\].
    pub least_share: f64,
    /// How often the retainer came off its keepers.
    pub came_off: f64,
    /// Whether the map had to be extrapolated.
    pub off_the_map: bool,
}

/// Blocks that add nothing.
pub const NOTHING: Added = Added {
    taper_pa_m: 0.0,
    worst_pa_m: 0.0,
    seat_pa_m: 0.0,
    flange: 0.0,
    hub: 0.0,
    force_n: 0.0,
    held_n: 0.0,
    least_share: 1.0,
    came_off: 0.0,
    off_the_map: false,
};

/// What a block adds. The cam turns once in an engine cycle.
pub fn added(spec: &Spec, map: &SpeedMap<'_>, block: &Block) -> Added {
    let turns = block.cycles();
    if turns <= 0.0 {
        return NOTHING;
    }
    let (turn, off_the_map) = look_up(spec, map, block.speed_rad_s);
    let [mean, worst] = turn.taper_pa_m;
    let [low_n, high_n] = turn.force_n;
    Added {
        taper_pa_m: mean * turns * block.contamination,
        worst_pa_m: worst * turns,
        seat_pa_m: turn.seat_pa_m * turns * block.contamination,
        flange: turn.flange * turns,
        hub: turn.hub * turns,
        force_n: high_n.max(0.0),
        held_n: held_n(spec, &turn),
        least_share: if high_n > 0.0 { low_n / high_n } else { 1.0 },
        came_off: turn.came_off * turns,
        off_the_map,
    }
}

/// Force to which a retainer stays driven on \[N\]: a cone that locks itself keeps the highest; another slides back until the lowest
/// force of the turn holds it; one that comes off starts anew.
fn held_n(spec: &Spec, turn: &Turn) -> f64 {
    let [low_n, high_n] = turn.force_n;
    let share = spec.cone().slides_back_share();
    if turn.came_off > 0.0 {
        0.0
    } else if share <= 0.0 {
        high_n.max(0.0)
    } else {
        high_n.min(low_n / share).max(0.0)
    }
}

/// The sum of what blocks add; the worst of their forces.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Added {
    added.fold(NOTHING, |sum, block| Added {
        taper_pa_m: sum.taper_pa_m + block.taper_pa_m,
        worst_pa_m: sum.worst_pa_m + block.worst_pa_m,
        seat_pa_m: sum.seat_pa_m + block.seat_pa_m,
        flange: sum.flange + block.flange,
        hub: sum.hub + block.hub,
        force_n: sum.force_n.max(block.force_n),
        held_n: sum.held_n.max(block.held_n),
        least_share: sum.least_share.min(block.least_share),
        came_off: sum.came_off + block.came_off,
        off_the_map: sum.off_the_map || block.off_the_map,
    })
}
