//! Temperatures of stem, guide and boss, and the clearance that they leave.

use ringland_mechanics::guide::{HeatPath, StemHeat, guide_conductance_w_m2_k};

use crate::constants as c;
use crate::spec::Spec;

/// Temperatures \[K\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heat {
    /// Stem at the guide's bottom.
    pub stem_bottom_k: f64,
    /// Stem at the guide's top.
    pub stem_top_k: f64,
    /// Bore of the guide at its bottom.
    pub bore_bottom_k: f64,
    /// Boss.
    pub boss_k: f64,
}

/// Slowest speed over the limiter's at which the port's heat transfer is still taken to fall.
const SLOWEST: f64 = 0.02;

/// Heat path from stem to boss, for the clearance as built.
pub fn path(spec: &Spec) -> HeatPath {
    guide_conductance_w_m2_k(
        spec.own.clearance_m,
        c::GAP_W_M_K,
        spec.alloy.conductivity_w_m_k,
        (spec.bore_diameter_m(), spec.own.guide_outer_m),
        c::FIT_W_M2_K,
    )
}

/// Temperatures at a crank speed \[rad/s\], exhaust gas and coolant temperature \[K\]. Exhaust colder than the coolant counts as that.
pub fn heat(
    spec: &Spec,
    path: &HeatPath,
    speed_rad_s: f64,
    exhaust_k: f64,
    coolant_k: f64,
) -> Heat {
    let own = &spec.own;
    let over_k = (exhaust_k - coolant_k).max(0.0);
    let share = (speed_rad_s / spec.train.limiter_speed_rad_s).max(SLOWEST);
    let stem = StemHeat {
        diameter_m: own.stem_diameter_m,
        conductivity_w_m_k: own.stem_w_m_k,
        port_length_m: own.port_length_m,
        gas_w_m2_k: own.gas_w_m2_k * libm::pow(share, c::GAS_EXPONENT),
        guide_length_m: own.guide_length_m,
        guide_w_m2_k: path.conductance_w_m2_k(),
    };
    let boss_k = coolant_k + c::BOSS_SHARE * over_k;
    let neck_k = coolant_k + own.neck_heat_share * over_k;
    let gas_k = coolant_k + own.gas_heat_share * over_k;
    let (stem_bottom_k, stem_top_k) = stem.ends_k(neck_k, gas_k, boss_k);
    Heat {
        stem_bottom_k,
        stem_top_k,
        bore_bottom_k: boss_k + path.bore_share() * (stem_bottom_k - boss_k),
        boss_k,
    }
}

/// Temperatures at the limiter and full load, warm.
pub fn full_load(spec: &Spec) -> Heat {
    let speed = spec.train.limiter_speed_rad_s;
    let exhaust = spec.own.full_load_exhaust_temp_k;
    heat(spec, &path(spec), speed, exhaust, c::WARM_COOLANT_K)
}

/// Clearance at the hot end \[m\], as built: cold, plus what bore and press fit grow, less what the stem grows.
pub fn hot_clearance_m(spec: &Spec, heat: &Heat) -> f64 {
    let bore_m = spec
        .pressed()
        .bore_growth_m(heat.bore_bottom_k - c::COLD_K, heat.boss_k - c::COLD_K);
    let own = &spec.own;
    let stem_m = own.stem_diameter_m * own.stem_expansion_per_k * (heat.stem_bottom_k - c::COLD_K);
    own.clearance_m + bore_m - stem_m
}
