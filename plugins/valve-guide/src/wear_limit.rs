//! How far wear has gone towards a limit of clearance or wobble.
//!
//! Depth does not grow in proportion to volume, but worn volume does grow in proportion to a rate multiplier. So damage is defined by
//! volume: 1 over the multiplier at which the worn guide would stand at its limit. A rate multiplier then multiplies damage exactly.

use ringland_mechanics::guide::{BellMouth, WornDepths, WornVolumes};

use crate::card::slot;
use crate::condition::{Row, volumes};
use crate::constants as c;
use crate::spec::{Own, Spec};

/// Mechanisms of wear, in the order of the card: clearance, wobble.
pub const LIMITS: usize = 2;

/// The geometry and the limits of a guide with its stem.
///
/// A stem that has worn unequally at both ends tilts as one that has lost the mean of both; each mouth's clearance has its own loss.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WearLimit {
    /// The guide with its stem as worn.
    pub bell: BellMouth,
    /// What the bottom's loss of the stem is over the mean of both ends \[m\].
    bottom_more_m: f64,
    gauge_m: f64,
    limits_m: [f64; LIMITS],
}

/// Damage of a guide that its stem alone has brought past a limit.
const PAST: f64 = 1.0e9;
/// Worn volume below which nothing is worn \[m³\].
const LEAST_M3: f64 = 1.0e-25;

impl WearLimit {
    /// For a stem that has lost so much of its diameter at the top and at the bottom \[m\].
    pub fn new(spec: &Spec, [top_m, bottom_m]: [f64; 2]) -> Self {
        Self {
            bell: spec.bell_mouth(0.5 * (top_m + bottom_m)),
            bottom_more_m: 0.5 * (bottom_m - top_m),
            gauge_m: gauge_m(&spec.own),
            limits_m: [spec.own.limit_clearance_m, spec.own.limit_wobble_m],
        }
    }

    /// Clearance at the top and at the bottom mouth, and wobble \[m\].
    pub fn sizes_m(&self, worn: &WornVolumes) -> [f64; 3] {
        self.at(&self.bell.depths(worn))
    }

    fn at(&self, depths: &WornDepths) -> [f64; 3] {
        let clearance_m = self.bell.clearance_m;
        [
            clearance_m - self.bottom_more_m + depths.top_m(),
            clearance_m + self.bottom_more_m + depths.bottom_m(),
            self.bell.wobble_m(depths, self.gauge_m) + self.bottom_more_m,
        ]
    }

    /// What a limit is set on: the wider mouth, wobble \[m\].
    fn limited_m(&self, depths: &WornDepths) -> [f64; LIMITS] {
        let [top_m, bottom_m, wobble_m] = self.at(depths);
        [top_m.max(bottom_m), wobble_m]
    }

    /// Damage by clearance and by wobble.
    pub fn damages(&self, row: &Row) -> [f64; LIMITS] {
        [0, 1].map(|limit| self.damage(row, limit))
    }

    /// Secant method on the logarithms of growth and multiplier, in which growth is nearly straight.
    fn damage(&self, row: &Row, limit: usize) -> f64 {
        let new_m = self.limited_m(&WornDepths::default())[limit];
        let room_m = self.limits_m[limit] - new_m;
        if room_m <= 0.0 {
            return PAST;
        }
        let worn: f64 = row[..slot::GALLING].iter().sum();
        if worn < LEAST_M3 {
            return 0.0;
        }
        let off = |ln_by: f64| {
            let depths = self.bell.depths(&volumes(row, libm::exp(ln_by)));
            // Wear on the tighter mouth alone widens nothing at first.
            libm::log(((self.limited_m(&depths)[limit] - new_m) / room_m).max(NOTHING))
        };
        let (mut at, mut gap) = (0.0, off(0.0));
        let mut slope = USUAL_SLOPE;
        for _ in 0..STEPS {
            let next = at - gap / slope;
            let next_gap = off(next);
            if (next - at).abs() < CLOSE {
                return libm::exp(-next);
            }
            let found = (next_gap - gap) / (next - at);
            if found.is_finite() {
                slope = found.clamp(LEAST_SLOPE, MOST_SLOPE);
            }
            (at, gap) = (next, next_gap);
        }
        libm::exp(-at)
    }
}

/// Slope of ln(growth) over ln(volume) to begin with; it lies between 2/5 (fresh edges) and 1.
const USUAL_SLOPE: f64 = 0.5;
const LEAST_SLOPE: f64 = 0.3;
const MOST_SLOPE: f64 = 1.1;
/// Least share of the room that counts as growth.
const NOTHING: f64 = 1.0e-9;
const STEPS: usize = 60;
const CLOSE: f64 = 1.0e-9;

/// Where wobble is measured, below the guide with the valve at its lift \[m\].
fn gauge_m(own: &Own) -> f64 {
    own.gauge_below_m + c::WOBBLE_LIFT_M
}

/// Damage along repeated events. Damage is homogeneous in the volumes: along `now + e · event` it is the total volume times a smooth function of the
/// event's share of it. That function is taken as linear between [`NODES`] exact values of the share, which makes damage linear in e between
/// them, and exact at both ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Ahead {
    events: Vec<f64>,
    damages: Vec<[f64; LIMITS]>,
    /// Damage of each event in the far future.
    slope: [f64; LIMITS],
}

/// Exact values along the path.
pub const NODES: u32 = 12;

impl Ahead {
    /// From a condition, with an event's worn volumes \[m³\] in the order of the slots.
    pub fn new(limit: &WearLimit, now: &Row, event_m3: &[f64; 4]) -> Self {
        let worn: f64 = now[..slot::GALLING].iter().sum();
        let added: f64 = event_m3.iter().sum();
        let after = |events: f64| {
            let mut row = *now;
            for (worn, more) in row.iter_mut().zip(event_m3) {
                *worn += events * more;
            }
            row
        };
        let mut ahead = Self {
            events: vec![0.0],
            damages: vec![limit.damages(now)],
            slope: [0.0; LIMITS],
        };
        if added <= LEAST_M3 {
            return ahead;
        }
        let mut event = [0.0; slot::COUNT];
        event[..slot::GALLING].copy_from_slice(event_m3);
        ahead.slope = limit.damages(&event);
        if worn > LEAST_M3 {
            for node in 1..NODES {
                // Close together at first: sides that were fresh wear in fast, with the power 2/5 of volume.
                let share = libm::pow(f64::from(node) / f64::from(NODES), 2.5);
                let events = worn / added * share / (1.0 - share);
                ahead.events.push(events);
                ahead.damages.push(limit.damages(&after(events)));
            }
        }
        ahead
    }

    /// After so many events, 0 or more.
    pub fn at(&self, events: f64) -> [f64; LIMITS] {
        let upper = self.events.partition_point(|node| *node <= events).max(1);
        let (from, low) = (self.events[upper - 1], self.damages[upper - 1]);
        let mut damages = low;
        for (index, damage) in damages.iter_mut().enumerate() {
            let slope = match (self.events.get(upper), self.damages.get(upper)) {
                (Some(to), Some(high)) => (high[index] - low[index]) / (to - from),
                _ => self.slope[index],
            };
            *damage += slope * (events - from);
        }
        damages
    }
}
