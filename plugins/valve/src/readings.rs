//! Damages and readings from a condition.

use crate::card::{mechanism, reading, slot};
use crate::condition::Model;
use crate::constants::HEAD_SD_K;
use crate::head::{Surroundings, temperature};
use crate::spec::Spec;

/// Loss of the stem's diameter at its worse end \[m\].
pub fn stem_loss_m(row: &[f64]) -> f64 {
    row[slot::STEM_TOP].max(row[slot::STEM_BOTTOM])
}

/// Damage of each mechanism at a condition: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damages(spec: &Spec, row: &[f64]) -> [f64; mechanism::COUNT] {
    let galling = if spec.titanium && spec.coating_thickness_m > 0.0 {
        stem_loss_m(row) / spec.coating_loss_m()
    } else {
        0.0
    };
    [
        row[slot::RECESSION] / spec.limit_recession_m,
        stem_loss_m(row) / spec.limit_stem_loss_m,
        galling,
        row[slot::GROOVE],
        row[slot::HEAD_FATIGUE] + row[slot::HEAD_CREEP],
    ]
}

/// What the card's reference of full load gives: temperature of the head's centre \[K\], speed of landing at the limiter \[m/s\], largest stress at
/// the groove there \[Pa\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FullLoad {
    /// Head at full load and rated speed \[K\].
    pub centre_k: f64,
    /// Seating at the limiter's speed \[m/s\].
    pub seating_m_s: f64,
    /// Groove at the limiter's speed \[Pa\].
    pub groove_stress_pa: f64,
}

/// Solves the reference.
pub fn full_load(model: &Model<'_>) -> FullLoad {
    let (spec, maps) = (&model.spec, &model.maps);
    let engine = &spec.engine;
    let (gas, _) = maps.gas_at(engine.rated_speed_rad_s, engine.full_load_imep_pa);
    let (rated, _) = maps.turn_at(engine.rated_speed_rad_s, spec.train.seat_load_n);
    let (limiter, _) = maps.turn_at(spec.train.limiter_speed_rad_s, spec.train.seat_load_n);
    let around = Surroundings {
        gas,
        exhaust_k: spec.full_load_exhaust_temp_k,
        coolant_k: ringland_engine::Block::default().coolant_k,
        flow: 1.0,
        closed_share: rated.closed_share,
    };
    FullLoad {
        centre_k: temperature(spec, &around).centre_k,
        seating_m_s: limiter.seating_m_s,
        groove_stress_pa: limiter.groove_stress_pa,
    }
}

/// Every reading at a condition, for a multiplier on each mechanism, `z` standard deviations from the median.
pub fn readings(
    spec: &Spec,
    full: &FullLoad,
    row: &[f64],
    by: &[f64; mechanism::COUNT],
    z: f64,
) -> [f64; reading::COUNT] {
    let (recession, stem) = (by[mechanism::RECESSION], by[mechanism::STEM]);
    let mut values = [0.0; reading::COUNT];
    values[reading::RECESSION] = recession * row[slot::RECESSION];
    values[reading::LASH] = (spec.train.lash_m - recession * row[slot::LASH_TAKEN]).max(0.0);
    values[reading::STEM_LOSS] = stem * stem_loss_m(row);
    values[reading::MARGIN] = (spec.build_margin_m - recession * row[slot::MARGIN_LOST]).max(0.0);
    let damages = damages(spec, row);
    values[reading::GROOVE] = by[mechanism::GROOVE] * damages[mechanism::GROOVE];
    values[reading::HEAD] = by[mechanism::HEAD] * damages[mechanism::HEAD];
    values[reading::HEAD_TEMP] = full.centre_k + z * HEAD_SD_K;
    values[reading::SEATING] = full.seating_m_s * libm::exp(0.1 * z);
    values[reading::RUN] = row[slot::RUN];
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::RECESSION] = Some(spec.limit_recession_m);
    limits[reading::LASH] = Some(spec.limit_lash_m);
    limits[reading::STEM_LOSS] = Some(if spec.titanium {
        spec.limit_stem_loss_m.min(spec.coating_loss_m())
    } else {
        spec.limit_stem_loss_m
    });
    limits[reading::MARGIN] = Some(spec.limit_margin_m);
    limits[reading::GROOVE] = Some(1.0);
    limits[reading::HEAD] = Some(1.0);
    limits[reading::HEAD_TEMP] = Some(spec.material.service_k);
    limits[reading::RUN] = Some(spec.limit_run_s);
    limits
}
