//! Balance of both bearings over the loads of the place and the growth of play, and of impacts.

use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::rolling_bearing::distribution::rest_n;
use ringland_mechanics::rolling_bearing::{Row, pair, row::Loading, single};
use ringland_plugin::{Finding, error};

use crate::constants as c;
use crate::shaft::{ShaftLoad, cases, hardest, impact, load, reach};
use crate::spec::{Build, Spec};

/// Loads to either side of nothing, so many and nothing itself.
pub const SIDE: usize = 20;
const LOADS: usize = 2 * SIDE + 1;
/// Growths of play that are solved, over its limit.
pub const GROWTHS: [f64; STATES] = [0.0, 0.2, 0.4, 0.7, 1.0, 2.0];
/// How many.
pub const STATES: usize = 6;
/// Impacts that are solved, evenly from none to [`HARDEST_M_S2`].
const IMPACTS: usize = 26;
const HARDEST_M_S2: f64 = 500.0;
/// Equivalent loads of A and B at each growth, then what wears them at the play as set.
const WIDTH: usize = 2 * STATES + 2;
const VERSION: f64 = 1.0;

/// Both rows at a growth of play.
struct Set {
    rows: [Row; 2],
    approach_m: f64,
    build: Build,
}

impl Set {
    fn new(spec: &Spec, growth_m: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            rows: [spec.row(0, growth_m)?, spec.row(1, growth_m)?],
            approach_m: spec.approach_m(growth_m),
            build: spec.build,
        })
    }

    fn balance(&self, load: &ShaftLoad) -> [Loading; 2] {
        let [a, b] = &self.rows;
        if self.build.paired() {
            return pair([a, b], self.approach_m, load.radial_n, load.axial_n).rows;
        }
        let axial_n = match self.build {
            Build::DeepGroove => load.axial_n,
            _ => 0.0,
        };
        let [held] = single(a, load.radial_n[0], axial_n).rows;
        let [free] = single(b, load.radial_n[1], 0.0).rows;
        [held, free]
    }

    fn preload_n(&self) -> f64 {
        if self.build.paired() {
            rest_n([&self.rows[0], &self.rows[1]], self.approach_m)
        } else {
            0.0
        }
    }
}

/// What wears a raceway in a revolution \[N/m\]: mean load of an element over the contact's length, times elements that pass, times their slip.
fn wear_n_m(row: &Row, loading: &Loading) -> f64 {
    if loading.mean_n <= 0.0 {
        return 0.0;
    }
    let passes = 0.5 * row.count as f64 * (1.0 + row.gamma());
    loading.mean_n / loading.length_m * passes * c::SLIP
}

/// Solves the map.
///
/// # Errors
/// The geometry that cannot be.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    solve(spec).map_err(|found| {
        let remedy = "measure elements and pitch circle again";
        vec![error(found.field, found.value, found.expected, remedy)]
    })
}

fn solve(spec: &Spec) -> Result<Vec<f64>, OutOfRange> {
    let growths = GROWTHS.map(|share| share * spec.limit_play_growth_m);
    let sets: Vec<Set> = growths
        .iter()
        .map(|growth_m| Set::new(spec, *growth_m))
        .collect::<Result<_, _>>()?;
    let mut map = vec![VERSION, play_limit_m(spec, sets[0].preload_n())?];
    map.extend(sets.iter().map(Set::preload_n));
    for k in 0..IMPACTS {
        let peak_m_s2 = HARDEST_M_S2 * k as f64 / (IMPACTS - 1) as f64;
        map.extend(static_shares(spec, &sets[0], &impact(spec, peak_m_s2)));
    }
    for case in 0..cases(spec) {
        for k in 0..LOADS {
            let driver = reach(spec) * (k as f64 / SIDE as f64 - 1.0);
            let load = load(spec, case, driver);
            let solved: Vec<[Loading; 2]> = sets.iter().map(|set| set.balance(&load)).collect();
            for rows in &solved {
                map.extend(rows.iter().map(|row| row.equivalent_n));
            }
            for (row, loading) in sets[0].rows.iter().zip(&solved[0]) {
                map.push(wear_n_m(row, loading));
            }
        }
    }
    Ok(map)
}

/// Equivalent loads of A and B \[N\] under a load of the shaft, at a growth of play \[m\], solved directly.
///
/// # Errors
/// The geometry that cannot be.
pub fn equivalent_n(spec: &Spec, growth_m: f64, load: &ShaftLoad) -> Result<[f64; 2], OutOfRange> {
    let rows = Set::new(spec, growth_m)?.balance(load);
    Ok(rows.map(|row| row.equivalent_n))
}

/// Largest element load of A and B over that of the static rating.
fn static_shares(spec: &Spec, set: &Set, load: &ShaftLoad) -> [f64; 2] {
    let rows = set.balance(load);
    [0, 1].map(|k| rows[k].largest_n / spec.bearings[k].static_element_n())
}

/// Largest element load over that of the static rating, of either bearing at full torque or in a hard corner.
///
/// # Errors
/// The geometry that cannot be.
pub fn highest_static_share(spec: &Spec) -> Result<f64, OutOfRange> {
    let set = Set::new(spec, 0.0)?;
    let mut highest = 0.0_f64;
    for case in 0..cases(spec) {
        for side in [-1.0, 1.0] {
            let load = load(spec, case, side * hardest(spec));
            let [a, b] = static_shares(spec, &set, &load);
            highest = highest.max(a).max(b);
        }
    }
    Ok(highest)
}

/// Growth of play \[m\] that ends its life: the card's limit, or where the preload has fallen to half if that comes first.
fn play_limit_m(spec: &Spec, preload_n: f64) -> Result<f64, OutOfRange> {
    let limit_m = spec.limit_play_growth_m;
    if preload_n <= 0.0 {
        return Ok(limit_m);
    }
    let (mut kept, mut lost) = (0.0, limit_m);
    for _ in 0..40 {
        let growth_m = 0.5 * (kept + lost);
        if Set::new(spec, growth_m)?.preload_n() >= c::PRELOAD_LEFT * preload_n {
            kept = growth_m;
        } else {
            lost = growth_m;
        }
    }
    Ok(0.5 * (kept + lost))
}

/// A map, as prepared.
#[derive(Debug, Clone, Copy)]
pub struct OperatingMap<'a> {
    /// Growth of play that ends its life \[m\].
    pub play_limit_m: f64,
    preload_n: &'a [f64],
    impacts: &'a [f64],
    loads: &'a [f64],
    reach: f64,
    most_growth_m: f64,
}

/// One load, looked up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// Equivalent load of A and B \[N\] at each growth of play.
    pub equivalent_n: [[f64; STATES]; 2],
    /// What wears a raceway of A and B in a revolution \[N/m\].
    pub wear_n_m: [f64; 2],
    /// Whether the load lies beyond the map.
    pub beyond: bool,
}

impl<'a> OperatingMap<'a> {
    /// Takes up what [`prepare`] made.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let length = 2 + STATES + 2 * IMPACTS + cases(spec) * LOADS * WIDTH;
        let whole = prepared.len() == length
            && prepared[0].to_bits() == VERSION.to_bits()
            && prepared.iter().all(|value| value.is_finite());
        if !whole {
            let expected =
                format!("{length} finite numbers, as this version of the model prepares them");
            let found = prepared.len() as f64;
            return Err(vec![error(
                "prepared",
                found,
                &expected,
                "prepare the specimen again",
            )]);
        }
        let (head, rest) = prepared.split_at(2);
        let (preload_n, rest) = rest.split_at(STATES);
        let (impacts, loads) = rest.split_at(2 * IMPACTS);
        Ok(Self {
            play_limit_m: head[1],
            preload_n,
            impacts,
            loads,
            reach: reach(spec),
            most_growth_m: spec.limit_play_growth_m,
        })
    }

    /// The load of a case: straight between nodes; beyond the last, by its last stretch.
    pub fn look_up(&self, case: usize, driver: f64) -> Looked {
        let place = SIDE as f64 * (driver / self.reach + 1.0);
        let node = (place.max(0.0) as usize).min(LOADS - 2);
        let share = place - node as f64;
        let from = (case * LOADS + node) * WIDTH;
        let at = |index: usize| {
            let (low, high) = (self.loads[from + index], self.loads[from + WIDTH + index]);
            (low + share * (high - low)).max(0.0)
        };
        Looked {
            equivalent_n: [0, 1].map(|k| std::array::from_fn(|state| at(2 * state + k))),
            wear_n_m: [0, 1].map(|k| at(2 * STATES + k)),
            beyond: driver.abs() > 1.000_001 * self.reach,
        }
    }

    /// Largest element load over that of the static rating in an impact \[m/s²\], of A and B.
    pub fn static_shares(&self, peak_m_s2: f64) -> [f64; 2] {
        let place = (IMPACTS - 1) as f64 * peak_m_s2 / HARDEST_M_S2;
        let node = (place.max(0.0) as usize).min(IMPACTS - 2);
        let share = place - node as f64;
        [0, 1].map(|k| {
            let (low, high) = (self.impacts[2 * node + k], self.impacts[2 * node + 2 + k]);
            low + share * (high - low)
        })
    }

    /// Growth of play \[m\] of each state.
    pub fn growths_m(&self) -> [f64; STATES] {
        GROWTHS.map(|share| share * self.most_growth_m)
    }

    /// Preload \[N\] at a growth of play \[m\].
    pub fn preload_n(&self, growth_m: f64) -> f64 {
        let growths = self.growths_m();
        let after = growths
            .partition_point(|node| *node < growth_m)
            .clamp(1, STATES - 1);
        let share = (growth_m - growths[after - 1]) / (growths[after] - growths[after - 1]);
        let (low, high) = (self.preload_n[after - 1], self.preload_n[after]);
        low + share.clamp(0.0, 1.0) * (high - low)
    }
}
