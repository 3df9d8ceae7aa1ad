//! The condition: what duty has done so far. Advancing, reworking.

use ringland_engine::valvetrain::{LOAD_SHARES, SpeedMap};
use ringland_engine::{Block, points_and_over_revs};
use ringland_plugin::{Duty, DutyNeed, Finding, Specimen, check_row, error};

use crate::card::{self, slot};
use crate::spec::Spec;
use crate::speed_map::{GRID, LOADS, Looked, look_up};
use crate::wire::ZONES;

/// Ends of the steps in which a stretch is added, over its length: closer where a new spring loses its load.
const STEP_ENDS: [f64; 6] = [0.01, 0.06, 0.18, 0.38, 0.66, 1.0];

/// A stretch of duty: its blocks mixed evenly, at each seat load of the map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Damage by zone.
    pub damage: [[f64; ZONES]; LOADS],
    /// Reduced time of relaxation \[s\].
    pub reduced_s: [f64; LOADS],
    /// Turns of the cam.
    pub turns: f64,
    /// Largest closure of the coils \[m\].
    pub closure_m: f64,
    /// Highest stress \[Pa\].
    pub highest_pa: f64,
    /// By how much the spring gets hotter than the oil \[K\].
    pub rise_k: f64,
    /// Share of the seat load at whose loss the valve floats, at the speeds up to the limiter's where it does not as built. Beyond the limiter no spring is asked to hold.
    pub float_loss: f64,
    /// By how much retainer and valve let the spring stand taller \[m\].
    pub taller_m: f64,
}

impl Stretch {
    /// All blocks together.
    pub fn of<'a>(blocks: impl Iterator<Item = &'a Looked>, taller_m: f64) -> Self {
        let mut stretch = Self {
            damage: [[0.0; ZONES]; LOADS],
            reduced_s: [0.0; LOADS],
            turns: 0.0,
            closure_m: 0.0,
            highest_pa: 0.0,
            rise_k: 0.0,
            float_loss: f64::INFINITY,
            taller_m,
        };
        for block in blocks {
            stretch.turns += block.turns;
            if block.held && !block.floats() {
                stretch.float_loss = stretch.float_loss.min(block.float_loss());
            }
            for load in 0..LOADS {
                stretch.reduced_s[load] += block.reduced_s[load];
                for zone in 0..ZONES {
                    stretch.damage[load][zone] += block.damage[load][zone];
                }
                let turn = &block.turn[load];
                stretch.closure_m = stretch.closure_m.max(turn.closure_m);
                stretch.highest_pa = stretch.highest_pa.max(turn.highest_pa);
                stretch.rise_k = stretch.rise_k.max(turn.rise_k);
            }
        }
        stretch
    }
}

/// A record, looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// At each operating point; `None` where the engine stands.
    pub points: Vec<Option<Looked>>,
    /// In each over-rev.
    pub over_revs: Vec<Option<Looked>>,
    /// By how much retainer and valve let the spring stand taller \[m\].
    pub taller_m: f64,
}

impl Record {
    /// Blocks with the engine running, points first.
    pub fn blocks(&self) -> impl Iterator<Item = &Looked> {
        self.points.iter().chain(&self.over_revs).flatten()
    }

    /// As a stretch.
    pub fn stretch(&self) -> Stretch {
        Stretch::of(self.blocks(), self.taller_m)
    }
}

/// A specimen with its map.
pub struct Springs<'a> {
    /// The spec.
    pub spec: Spec,
    /// The map.
    pub map: SpeedMap<'a>,
}

impl<'a> Springs<'a> {
    /// Reads specimen and map.
    ///
    /// # Errors
    /// Lists of the wrong length, or a map of another specimen or version.
    pub fn new(specimen: &Specimen, prepared: &'a [f64]) -> Result<Self, Vec<Finding>> {
        let spec = Spec::read(specimen)?;
        let map = SpeedMap::read(prepared, &spec.train, &GRID)?;
        Ok(Self { spec, map })
    }

    /// Looks up the operating points and the over-revs of a record.
    ///
    /// # Errors
    /// Every entry of the record out of bounds.
    pub fn looked(&self, need: &DutyNeed, record: &Duty) -> Result<Record, Vec<Finding>> {
        let (points, over_revs) = points_and_over_revs(need, record)?;
        let look = |blocks: &[Block]| {
            let each = blocks
                .iter()
                .map(|block| look_up(&self.spec, &self.map, block));
            each.collect()
        };
        Ok(Record {
            points: look(&points),
            over_revs: look(&over_revs),
            taller_m: record.mates.iter().map(|shift_m| shift_m.max(0.0)).sum(),
        })
    }

    /// Load lost at the closed valve \[N\]: what the wire has relaxed and not been shimmed back, and what the spring stands taller.
    pub fn lost_n(&self, row: &[f64], taller_m: f64) -> f64 {
        let relaxed_n = self.spec.relaxed_n(row[slot::REDUCED_TIME]);
        let own_n = (relaxed_n - row[slot::REGAINED]).max(0.0);
        own_n + self.spec.train.spring.rate_n_m() * taller_m
    }

    /// How far the seat load has come from the map's load as built to its low one, 0 to 1.
    pub fn low_share(&self, row: &[f64], taller_m: f64) -> f64 {
        let lost = self.lost_n(row, taller_m) / self.spec.train.seat_load_n;
        (lost / (LOAD_SHARES[0] - LOAD_SHARES[1])).min(1.0)
    }

    /// The condition after `share` of a stretch (more than 1 repeats it). The seat load falls meanwhile, fast at first: the motion follows it
    /// step by step.
    pub fn after(&self, row: &[f64], stretch: &Stretch, share: f64) -> Vec<f64> {
        let mut row = row.to_vec();
        if stretch.turns <= 0.0 || share <= 0.0 {
            return row;
        }
        let mut reached = 0.0;
        for end in STEP_ENDS {
            self.step(&mut row, stretch, share * (end - reached));
            reached = end;
        }
        row[slot::CLOSURE] = row[slot::CLOSURE].max(stretch.closure_m);
        row[slot::HIGHEST_STRESS] = row[slot::HIGHEST_STRESS].max(stretch.highest_pa);
        hold(&mut row);
        row
    }

    /// Adds a share of a stretch with the motion of the seat load that there is.
    fn step(&self, row: &mut [f64], stretch: &Stretch, share: f64) {
        let low = self.low_share(row, stretch.taller_m);
        let mixed = |[built, low_load]: [f64; LOADS]| share * (built + (low_load - built) * low);
        for zone in 0..ZONES {
            row[zone] += mixed(stretch.damage.map(|zones| zones[zone]));
        }
        row[slot::REDUCED_TIME] += mixed(stretch.reduced_s);
        row[slot::TURNS] += share * stretch.turns;
    }

    /// Adds duty records one after the other; the condition after each.
    ///
    /// # Errors
    /// What is wrong with the condition or a record.
    pub fn advance(&self, row: &[f64], duties: &[Duty]) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let need = card::duty();
        let mut row = row.to_vec();
        let mut rows = Vec::with_capacity(duties.len());
        for record in duties {
            row = self.after(&row, &self.looked(&need, record)?.stretch(), 1.0);
            rows.push(row.clone());
        }
        Ok(rows)
    }

    /// The condition after a shop operation.
    ///
    /// # Errors
    /// An operation that the card does not have, or a row out of range.
    pub fn rework(&self, row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        if operation != card::SHIMMED {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (shimmed)",
                "choose an operation of the card",
            )]);
        }
        let mut row = row.to_vec();
        row[slot::REGAINED] = self.spec.relaxed_n(row[slot::REDUCED_TIME]);
        hold(&mut row);
        Ok(row)
    }
}

/// Holds a row within the ranges of its slots: no duty leads out of the contract.
fn hold(row: &mut [f64]) {
    for (value, most) in row.iter_mut().zip(card::MOST) {
        *value = value.clamp(0.0, most);
    }
}
