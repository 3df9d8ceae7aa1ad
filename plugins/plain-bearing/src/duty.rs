//! Duty records as what they add to the condition.

use std::f64::consts::PI;

use ringland_engine::{Block, points_and_over_revs};
use ringland_mechanics::oil::dilution_factor;
use ringland_plugin::{Duty, Finding};

use crate::bearing::Solution;
use crate::card::{self, shock};
use crate::constants::{
    CAUTION_PRESSURE_PA, CAUTION_S, CAUTION_SPEED_RAD_S, FATIGUE_CYCLES, FATIGUE_EXPONENT,
    FATIGUE_SLOPE_PER_K, FATIGUE_TEMP_K, KNOCK_RISE, MAIN_SHARE, OIL_DENSITY_KG_M3,
    OIL_HEAT_J_KG_K, WALL_HEAT_W_M2_K,
};
use crate::operating_map::{BearingMap, Place};
use crate::spec::{Position, Spec};

/// What one stretch of duty adds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Dose on upper and lower shell \[Pa·m\].
    pub dose_pa_m: [f64; 2],
    /// Miner sum of upper and lower shell.
    pub fatigue: [f64; 2],
    /// Highest boundary heat \[W/m²\].
    pub boundary_heat_w_m2: f64,
    /// Low-pressure dips that call for a look at the shells.
    pub cautions: f64,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

impl Added {
    /// Joins another stretch to this one.
    pub fn join(&mut self, more: &Self) {
        for side in 0..2 {
            self.dose_pa_m[side] += more.dose_pa_m[side];
            self.fatigue[side] += more.fatigue[side];
        }
        self.boundary_heat_w_m2 = self.boundary_heat_w_m2.max(more.boundary_heat_w_m2);
        self.cautions += more.cautions;
        self.extrapolated |= more.extrapolated;
    }
}

/// A record by what it consists of.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// One for each operating point.
    pub points: Vec<Added>,
    /// The sum of each kind of shock, in card order.
    pub shocks: Vec<Added>,
}

impl Record {
    /// Everything together.
    pub fn total(&self) -> Added {
        let mut total = Added::default();
        for added in self.points.iter().chain(&self.shocks) {
            total.join(added);
        }
        total
    }
}

/// Looks a record up.
///
/// # Errors
/// Every entry out of bounds.
pub fn record(spec: &Spec, map: &BearingMap<'_>, duty: &Duty) -> Result<Record, Vec<Finding>> {
    let (points, over_revs) = points_and_over_revs(&card::duty(), duty)?;
    let mut shocks = vec![Added::default(); card::duty().shocks.len()];
    for block in &over_revs {
        shocks[shock::OVER_REV].join(&block_added(spec, map, block));
    }
    for block in dips(duty, &points) {
        let dip = &mut shocks[shock::DIP];
        dip.join(&block_added(spec, map, &block));
        dip.cautions += f64::from(u8::from(
            block.oil_pressure_pa < CAUTION_PRESSURE_PA
                && block.time_s > CAUTION_S
                && block.speed_rad_s > CAUTION_SPEED_RAD_S,
        ));
    }
    let durations = duty.shock_field(shock::START, 0).iter();
    for (time_s, oil_k) in durations.zip(duty.shock_field(shock::START, 1)) {
        shocks[shock::START].join(&start(spec, map, *time_s, *oil_k));
    }
    let one = |block: &Block| block_added(spec, map, block);
    Ok(Record {
        points: points.iter().map(one).collect(),
        shocks,
    })
}

/// Dips as blocks: at their own speed and pressure, with the rest of the operating point nearest in speed. Their time is also in the
/// operating points, at the pressures the log had: what a dip adds is on the safe side by that.
fn dips(duty: &Duty, points: &[Block]) -> Vec<Block> {
    let durations = duty.shock_field(shock::DIP, 0).iter();
    let pressures = duty.shock_field(shock::DIP, 1).iter();
    let speeds = duty.shock_field(shock::DIP, 2).iter();
    let dip = |((time_s, pressure), speed): ((&f64, &f64), &f64)| {
        let off = |block: &&Block| (block.speed_rad_s - speed).abs();
        let nearest = points.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
        Block {
            time_s: *time_s,
            speed_rad_s: *speed,
            oil_pressure_pa: *pressure,
            ..nearest.copied().unwrap_or_default()
        }
    };
    durations.zip(pressures).zip(speeds).map(dip).collect()
}

/// A running film: its temperature balanced against its losses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Mean temperature of the film \[K\].
    pub film_k: f64,
    /// Viscosity at that temperature \[Pa·s\].
    pub viscosity_pa_s: f64,
    /// The solution at it.
    pub solution: Solution,
}

/// Largest rise over the oil that is looked for \[K\].
const MOST_RISE_K: f64 = 250.0;

/// Balances a film: losses heat the oil that leaves at the sides (which leaves twice as warm, over the feed, as the film is in the mean:
/// ISO 7902) and the walls.
pub fn running(spec: &Spec, place: &Place, block: &Block, layer: f64) -> Running {
    let area_m2 = PI * spec.journal_diameter_m * spec.film_width_m;
    let at = |rise_k: f64| {
        let film_k = block.oil_k + rise_k;
        let viscosity_pa_s = spec.oil.viscosity_pa_s(film_k) * dilution_factor(block.fuel_fraction);
        Running {
            film_k,
            viscosity_pa_s,
            solution: place.at(viscosity_pa_s, layer),
        }
    };
    let rise_k = |found: &Solution| {
        let power_w = found.film_power_w + spec.shell.boundary_friction * found.asperity_power_w;
        let carried = 2.0 * OIL_DENSITY_KG_M3 * OIL_HEAT_J_KG_K * found.side_flow_m3_s;
        power_w / (carried + WALL_HEAT_W_M2_K * area_m2)
    };
    let (mut low, mut high) = (0.0, MOST_RISE_K);
    for _ in 0..16 {
        let middle = 0.5 * (low + high);
        if rise_k(&at(middle).solution) > middle {
            low = middle;
        } else {
            high = middle;
        }
    }
    at(0.5 * (low + high))
}

/// What a block adds.
pub fn block_added(spec: &Spec, map: &BearingMap<'_>, block: &Block) -> Added {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let imep_pa = map.imep_pa(block);
    let place = map.place(block.speed_rad_s, imep_pa);
    let layer = map.layer(block.speed_rad_s, block.oil_pressure_pa);
    let running = running(spec, &place, block, layer);
    let cycles = block.cycles();
    let found = &running.solution;
    let peak_pa = map.peak_pressure_pa(block.speed_rad_s, imep_pa);
    let pulses = knocking(spec, place.pulses_pa(), peak_pa, block.knock_level);
    let strength_pa = strength_pa(spec, running.film_k);
    let damage = |pulse_pa: f64| {
        cycles / FATIGUE_CYCLES * libm::pow(pulse_pa / strength_pa, FATIGUE_EXPONENT)
    };
    Added {
        dose_pa_m: found
            .dose_pa_m
            .map(|dose| dose * cycles * block.contamination),
        fatigue: pulses.map(damage),
        boundary_heat_w_m2: spec.shell.boundary_friction * found.flux_w_m2,
        cautions: 0.0,
        extrapolated: place.extrapolated,
    }
}

/// Fatigue strength \[Pa\] of the overlay at a temperature, at least a tenth of that at the reference.
pub fn strength_pa(spec: &Spec, film_k: f64) -> f64 {
    let lost = FATIGUE_SLOPE_PER_K * (film_k - FATIGUE_TEMP_K);
    spec.fatigue_strength_pa * (1.0 - lost).max(0.1)
}

/// Knock raises the pulse of the shell that takes the gas load.
fn knocking(spec: &Spec, mut pulses_pa: [f64; 2], peak_pa: f64, knock_level: f64) -> [f64; 2] {
    let bore_m = spec.engine.bore_m;
    let rise_n = KNOCK_RISE * knock_level * peak_pa * 0.25 * PI * bore_m * bore_m;
    match spec.position {
        Position::Rod => pulses_pa[0] += rise_n / spec.projected_area_m2(),
        Position::Main => pulses_pa[1] += MAIN_SHARE * rise_n / spec.projected_area_m2(),
    }
    pulses_pa
}

fn start(spec: &Spec, map: &BearingMap<'_>, time_s: f64, oil_k: f64) -> Added {
    let cranking = map.starts.at(spec.oil.viscosity_pa_s(oil_k));
    let cycles = time_s * spec.cranking_speed_rad_s / (4.0 * PI);
    Added {
        dose_pa_m: cranking.dose_pa_m.map(|dose| dose * cycles),
        boundary_heat_w_m2: if time_s > 0.0 {
            spec.shell.boundary_friction * cranking.flux_w_m2
        } else {
            0.0
        },
        ..Added::default()
    }
}
