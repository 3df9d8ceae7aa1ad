//! A duty record as what it adds: each operating point and shock looked up.

use ringland_engine::{Block, OperatingMap, points_and_over_revs};
use ringland_mechanics::engine::bmep_pa;
use ringland_mechanics::fatigue::mean_stress::goodman;
use ringland_mechanics::oil::dilution_factor;
use ringland_plugin::{Duty, Finding, time_mean};

use crate::card::{self, shock_index};
use crate::constants as c;
use crate::law::Stretch;
use crate::solve::{self, Cycle};
use crate::spec::Spec;

/// Blocks of a record: operating points, and the shocks of each kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Blocks {
    /// Operating points.
    pub points: Vec<Block>,
    /// Over-revs, then knock bursts.
    pub shocks: [Vec<Block>; 2],
}

/// Reads a record.
///
/// # Errors
/// Every entry out of bounds.
pub fn blocks(duty: &Duty) -> Result<Blocks, Vec<Finding>> {
    let need = card::duty();
    let (points, over_revs) = points_and_over_revs(&need, duty)?;
    let bursts = knock_bursts(duty, &points);
    Ok(Blocks {
        points,
        shocks: [over_revs, bursts],
    })
}

/// A knock burst is a block at its peak level and its mean torque, at the record's mean speed and temperatures.
fn knock_bursts(duty: &Duty, points: &[Block]) -> Vec<Block> {
    let column = |field: usize| duty.shock_field(shock_index::KNOCK_BURST, field);
    let mean = |of: fn(&Block) -> f64, otherwise: f64| {
        let values: Vec<f64> = points.iter().map(of).collect();
        time_mean(duty, &values, otherwise)
    };
    let usual = Block::default();
    let speed_rad_s = mean(|block| block.speed_rad_s, 0.0);
    let oil_k = mean(|block| block.oil_k, usual.oil_k);
    let coolant_k = mean(|block| block.coolant_k, usual.coolant_k);
    let oil_pressure_pa = mean(|block| block.oil_pressure_pa, usual.oil_pressure_pa);
    let bursts = column(0).iter().zip(column(1)).zip(column(2));
    bursts
        .map(|((time_s, knock_level), torque_n_m)| Block {
            time_s: *time_s,
            speed_rad_s,
            torque_n_m: *torque_n_m,
            oil_k,
            coolant_k,
            oil_pressure_pa,
            knock_level: *knock_level,
            ..usual
        })
        .collect()
}

/// Temperatures of a piston \[K\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Temperatures {
    /// Top groove.
    pub groove_k: f64,
    /// Second groove.
    pub second_groove_k: f64,
    /// Upper skirt.
    pub skirt_k: f64,
    /// Boss.
    pub boss_k: f64,
    /// Oil film under the skirt.
    pub film_k: f64,
}

impl Temperatures {
    /// At an operating point with a net indicated mean effective pressure \[Pa\].
    pub fn new(spec: &Spec, block: &Block, imep_pa: f64) -> Self {
        let engine = &spec.engine;
        let displacement_m3 = engine.cylinders * engine.displacement_m3();
        let brake_pa = bmep_pa(block.torque_n_m, displacement_m3).max(0.0);
        let [shut_pa, open_pa] = c::JETS_OPEN_PA;
        let jets = ((block.oil_pressure_pa - shut_pa) / (open_pa - shut_pa)).clamp(0.0, 1.0);
        let groove_k = spec.groove_base_k
            + spec.groove_rise_k_per_pa * brake_pa
            + spec.groove_rise_k_s_per_rad * (block.speed_rad_s - c::GROOVE_SPEED_RAD_S)
            + c::COOLANT_SHARE * (block.coolant_k - c::WARM_COOLANT_K)
            + c::OIL_SHARE * (block.oil_k - c::WARM_OIL_K)
            + c::KNOCK_RISE_K * block.knock_level.min(1.0)
            - spec.jet_cooling_k * jets;
        let groove_k = groove_k.clamp(block.coolant_k, c::MELTING_K);
        let over_k = groove_k - block.coolant_k;
        let load = (imep_pa / engine.full_load_imep_pa).min(1.5);
        Self {
            groove_k,
            second_groove_k: (groove_k - spec.second_groove_drop_k).max(block.coolant_k),
            skirt_k: block.coolant_k + c::SKIRT_HEAT_SHARE * over_k,
            boss_k: block.coolant_k + c::BOSS_HEAT_SHARE * over_k,
            film_k: 0.5 * (block.coolant_k + block.oil_k) + c::FILM_RISE_K * load,
        }
    }
}

/// What one block adds, and what was found on the way.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Its stretch.
    pub stretch: Stretch,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
    /// Temperature of the top groove \[K\].
    pub groove_k: f64,
}

/// What a block adds.
pub fn added(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> Added {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let imep_pa = map.imep_pa(block);
    let temperatures = Temperatures::new(spec, block, imep_pa);
    let viscosity_pa_s = viscosity_pa_s(spec, block, &temperatures);
    let (cycle, extrapolated) = solve::look_up(map, block.speed_rad_s, imep_pa, viscosity_pa_s);
    let knock = knock_multiplier(block.knock_level);
    let peak_pa = map.peak_pressure_pa(block.speed_rad_s, imep_pa);
    let mut stretch = Stretch::default();
    grooves(spec, block, &temperatures, &cycle, &mut stretch);
    skirt(spec, block, &temperatures, &cycle, &mut stretch);
    stretch.softening = spec
        .ageing()
        .fraction(temperatures.groove_k, block.time_s / 3600.0);
    stretch.pin_bore_m =
        spec.pin_bore_wear_m2_n * block.contamination * cycle.pin_bore_pa_m * block.cycles();
    let risen_n = (knock - 1.0) * peak_pa.max(0.0) * bore_area_m2(spec);
    let boss_n = [cycle.boss_n[0] + risen_n, cycle.boss_n[1]];
    stretch.boss = boss_damage(spec, boss_n, temperatures.boss_k, block.cycles());
    Added {
        stretch,
        extrapolated,
        groove_k: temperatures.groove_k,
    }
}

/// Viscosity under the skirt \[Pa·s\].
pub fn viscosity_pa_s(spec: &Spec, block: &Block, temperatures: &Temperatures) -> f64 {
    spec.oil.viscosity_pa_s(temperatures.film_k) * dilution_factor(block.fuel_fraction)
}

/// Peak pressure with knock over that without.
pub fn knock_multiplier(level: f64) -> f64 {
    let [for_each, most] = c::KNOCK_PEAK;
    1.0 + (for_each * level).min(most)
}

fn bore_area_m2(spec: &Spec) -> f64 {
    0.25 * std::f64::consts::PI * spec.engine.bore_m * spec.engine.bore_m
}

/// Multiplier of groove wear at a temperature: doubles every 20 K (common practice).
pub fn hot_wear(temp_k: f64) -> f64 {
    libm::exp2((temp_k - c::WEAR_TEMP_K) / c::WEAR_DOUBLING_K)
}

fn grooves(spec: &Spec, block: &Block, temps: &Temperatures, cycle: &Cycle, stretch: &mut Stretch) {
    let cycles = block.cycles();
    let hot = [hot_wear(temps.groove_k), hot_wear(temps.second_groove_k)];
    let surfaces = [&spec.top_groove, &spec.second_groove];
    for groove in 0..2 {
        let worn = hot[groove] * block.contamination * cycles;
        stretch.sliding[groove] = worn * surfaces[groove].wear_m2_n * cycle.crossing_pa[groove];
        // Impact wear goes with the wear coefficient of the flanks as sliding wear does.
        let toughness = surfaces[groove].wear_m2_n / c::GROOVE_WEAR_M2_N;
        stretch.impact_m[groove] = worn * toughness * c::IMPACT_WEAR_M3_J * cycle.impact_j[groove]
            / spec.ring_side_area_m2();
    }
    let slid_m = stretch.sliding[0] * spec.skirt_clearance_m + stretch.impact_m[0];
    stretch.seating = slid_m / (c::SEATING_DEPTH * spec.top_groove.rpk_m);
    let [reference_k, reference_pa, reference_s] = c::WELDING_REFERENCE;
    let colder =
        spec.activation_energy_j_mol / c::GAS_J_MOL_K * (1.0 / temps.groove_k - 1.0 / reference_k);
    stretch.welding =
        libm::exp(-colder) * cycle.flank_pa / reference_pa * block.time_s / reference_s;
}

fn skirt(spec: &Spec, block: &Block, temps: &Temperatures, cycle: &Cycle, stretch: &mut Stretch) {
    for face in 0..2 {
        for (material, surface) in [&spec.skirt, &spec.skirt_coat].iter().enumerate() {
            stretch.skirt_m[face][material] = surface.wear_m2_n
                * block.contamination
                * block.cycles()
                * cycle.skirt_pa_m[face][material];
        }
    }
    let hot_k = (temps.skirt_k - c::COLLAPSE_TEMP_K).max(0.0);
    stretch.collapse_m = c::COLLAPSE_M_N_S_K * hot_k * cycle.side_n * block.time_s;
}

/// Least share of the tensile strength that the mean stress leaves: nearer to it Goodman's line is not followed.
const LEAST_LEFT: f64 = 0.02;

/// Damage of the boss: bearing stress between its highest and lowest force, Goodman to fully reversed, S-N line at temperature, the
/// same slope below the knee.
pub fn boss_damage(spec: &Spec, [high_n, low_n]: [f64; 2], boss_k: f64, cycles: f64) -> f64 {
    let stress = |force_n: f64| spec.boss_load_factor * force_n / spec.boss_area_m2();
    let amplitude_pa = 0.5 * (stress(high_n) - stress(low_n));
    let mean_pa = 0.5 * (stress(high_n) + stress(low_n)) + spec.boss_residual_pa;
    let weaker = (1.0 - c::BOSS_WEAKENING_PER_K * (boss_k - c::BOSS_TEMP_K)).clamp(0.1, 1.4);
    let tensile_pa = weaker * spec.boss_tensile_pa;
    let reversed_pa = goodman(
        amplitude_pa,
        mean_pa.min((1.0 - LEAST_LEFT) * tensile_pa),
        tensile_pa,
    );
    // The line holds at 230 °C; a weaker boss takes a stress as one of full strength takes a larger one.
    spec.boss_line.damage(reversed_pa.max(0.0) / weaker, cycles)
}

/// The sum of what blocks add.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Stretch {
    let mut sum = Stretch::default();
    added.for_each(|block| sum.add(&block.stretch));
    sum
}
