//! A duty record as what it adds: each operating point and over-rev looked up.

use ringland_engine::{Block, OperatingMap};
use ringland_mechanics::fatigue::mean_stress::goodman;
use ringland_mechanics::oil::dilution_factor;

use crate::constants as c;
use crate::solve;
use crate::spec::Spec;

/// What blocks add.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Wear of the bush, on diameter \[m\].
    pub bush_m: f64,
    /// Wear step of the pin, on diameter \[m\].
    pub pin_m: f64,
    /// Highest friction power over area \[W/m²\].
    pub severity_w_m2: f64,
    /// Hazard of losing the coating \[1\].
    pub coating: f64,
    /// Damage of the pin \[1\].
    pub pin_damage: f64,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

/// What a block adds.
pub fn added(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> Added {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let imep_pa = map.imep_pa(block);
    let viscosity_pa_s = viscosity_pa_s(spec, block, imep_pa);
    let peak = knock_multiplier(block.knock_level);
    let (cycle, extrapolated) =
        solve::look_up(map, block.speed_rad_s, imep_pa, viscosity_pa_s, peak);
    let slid_pa_m = cycle.dose_pa_m * block.cycles();
    let worn_pa_m = slid_pa_m * block.contamination;
    let coated = f64::from(u8::from(spec.coating_m > 0.0));
    Added {
        bush_m: spec.bush_wear.0 * worn_pa_m,
        pin_m: spec.pin_wear.0 * worn_pa_m,
        severity_w_m2: spec.boundary_friction * cycle.severity_w_m2,
        coating: coated * c::COATING_HAZARD_M2_J * spec.boundary_friction * slid_pa_m,
        pin_damage: pin_damage(spec, cycle.force_n, block.cycles()),
        extrapolated,
    }
}

/// Viscosity in the bush \[Pa·s\].
pub fn viscosity_pa_s(spec: &Spec, block: &Block, imep_pa: f64) -> f64 {
    let load = (imep_pa / spec.engine.full_load_imep_pa).min(1.5);
    let film_k = block.oil_k + c::FILM_RISE_K * load;
    spec.oil.viscosity_pa_s(film_k) * dilution_factor(block.fuel_fraction)
}

/// Peak pressure with knock over that without.
pub fn knock_multiplier(level: f64) -> f64 {
    let [for_each, most] = c::KNOCK_PEAK;
    1.0 + (for_each * level).min(most)
}

/// Largest share of the tensile strength that a mean stress is followed to on Goodman's line.
const MOST_MEAN: f64 = 0.98;

/// Damage of the pin between its highest and lowest force: bending and ovalisation, Goodman to fully reversed, S-N line with the same slope
/// below the knee.
pub fn pin_damage(spec: &Spec, [high_n, low_n]: [f64; 2], cycles: f64) -> f64 {
    let (high_pa, low_pa) = (
        spec.pin.equivalent_stress_pa(high_n),
        spec.pin.equivalent_stress_pa(low_n),
    );
    let amplitude_pa = 0.5 * (high_pa - low_pa);
    let mean_pa = 0.5 * (high_pa + low_pa) + spec.pin_residual_pa;
    let mean_pa = mean_pa.min(MOST_MEAN * spec.pin_tensile_pa);
    let reversed_pa = goodman(amplitude_pa, mean_pa, spec.pin_tensile_pa);
    spec.pin_line.damage(reversed_pa.max(0.0), cycles)
}

/// The sum of what blocks add; the worst of their severities.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Added {
    added.fold(Added::default(), |sum, block| Added {
        bush_m: sum.bush_m + block.bush_m,
        pin_m: sum.pin_m + block.pin_m,
        severity_w_m2: sum.severity_w_m2.max(block.severity_w_m2),
        coating: sum.coating + block.coating,
        pin_damage: sum.pin_damage + block.pin_damage,
        extrapolated: sum.extrapolated || block.extrapolated,
    })
}
