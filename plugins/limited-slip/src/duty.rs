//! A duty record as rates: what it would add to a condition that stayed as it is.

use ringland_driveline::{Block, TorqueCycle, Use};

use crate::constants as c;
use crate::pack::{highest_friction, lock_n_m, ramp_n, sliding_m_s, spring_n};
use crate::plate_heat::Rise;
use crate::spec::Spec;

/// What a record adds at one operating point.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PointEffect {
    /// Force of the ramps \[N\].
    pub ramp_n: f64,
    /// Sliding \[m\].
    pub sliding_m: f64,
    /// Wear over that of clean, warm oil.
    pub wear_factor: f64,
    /// Mean temperature of the face while it slips \[K\].
    pub face_k: f64,
    /// Dose of glazing.
    pub glaze: f64,
    /// Depth of scoring \[m\].
    pub scoring_m: f64,
    /// Plastic strain of a hot band.
    pub band_strain: f64,
}

/// What a record adds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Added {
    /// Each operating point.
    pub points: Vec<PointEffect>,
    /// Sliding weighted by wear \[m\], and that times the ramps' force \[N·m\].
    pub worn: [f64; 2],
    /// Sliding \[m\], and that times the ramps' force \[N·m\].
    pub slid: [f64; 2],
    /// Dose of glazing.
    pub glaze: f64,
    /// Depth of scoring \[m\].
    pub scoring_m: f64,
    /// Largest plastic strain of a hot band.
    pub band_strain: f64,
    /// Wear of the tabs \[m\].
    pub tab_wear_m: f64,
    /// Hottest face, mean of a burst \[K\]; 0 without slip.
    pub hottest_k: f64,
    /// Whether the record has any time.
    pub lasts: bool,
}

/// What a record adds.
pub fn added(spec: &Spec, rise: Rise, record: &Use) -> Added {
    // On the hot side: springs as new, friction without modifier.
    let flux: Vec<f64> = record.points.iter().map(|b| flux_w_m2(spec, b)).collect();
    let whole: f64 = flux
        .iter()
        .zip(&record.points)
        .map(|(q, b)| q * b.time_s)
        .sum();
    let mean_flux = if record.mean.time_s > 0.0 {
        whole / record.mean.time_s
    } else {
        0.0
    };
    let warm_k = mean_flux / spec.cooling_w_m2_k;
    let blocks = record.points.iter().zip(&flux);
    let points: Vec<PointEffect> = blocks
        .map(|(b, q)| point(spec, rise, b, *q, warm_k))
        .collect();
    let sum = |of: fn(&PointEffect) -> f64| points.iter().map(of).fold(0.0, |sum, x| sum + x);
    let most = |of: fn(&PointEffect) -> f64| points.iter().map(of).fold(0.0, f64::max);
    Added {
        worn: [
            sum(|p| p.sliding_m * p.wear_factor),
            sum(|p| p.sliding_m * p.wear_factor * p.ramp_n),
        ],
        slid: [sum(|p| p.sliding_m), sum(|p| p.sliding_m * p.ramp_n)],
        glaze: sum(|p| p.glaze),
        scoring_m: sum(|p| p.scoring_m),
        band_strain: most(|p| p.band_strain),
        tab_wear_m: record
            .cycles
            .iter()
            .map(|cycle| tab_wear_m(spec, cycle))
            .fold(0.0, |a, b| a + b),
        hottest_k: most(|p| if p.sliding_m > 0.0 { p.face_k } else { 0.0 }),
        lasts: record.duration_s > 0.0,
        points,
    }
}

/// Heat of slip over the area of all faces \[W/m²\].
fn flux_w_m2(spec: &Spec, block: &Block) -> f64 {
    let force_n = spring_n(spec, 0.0) + ramp_n(spec, block.axle_torque_n_m);
    let power_w =
        lock_n_m(spec, highest_friction(spec), force_n) * 0.5 * block.differential_slip_rad_s.abs();
    power_w / (spec.faces * spec.face.area_m2())
}

fn point(spec: &Spec, rise: Rise, block: &Block, flux: f64, warm_k: f64) -> PointEffect {
    let sliding_m = sliding_m_s(spec, block.differential_slip_rad_s) * block.time_s;
    let ramp_n = ramp_n(spec, block.axle_torque_n_m);
    if sliding_m <= 0.0 {
        return PointEffect::default();
    }
    let face_k = (block.axle_oil_k + warm_k + flux * rise.mean).min(c::HOTTEST_K);
    // Up to the severe wear of bare steel, and no further.
    let most = (c::SCORING_M2_N / spec.pair_wear_m2_n()).max(1.0);
    let hot = libm::exp((face_k - c::WEAR_AT_K) / c::WEAR_SCALE_K).min(most);
    let pressure_pa = (spring_n(spec, 0.0) + ramp_n) / spec.face.area_m2();
    let band_k = (spec.hot_band_factor - 1.0) * flux * rise.peak;
    PointEffect {
        ramp_n,
        sliding_m,
        wear_factor: block.contamination * hot,
        face_k,
        glaze: block.time_s / c::GLAZING_S * arrhenius(c::GLAZING_K, c::GLAZING_AT_K, face_k),
        scoring_m: c::SCORING_M2_N * film_lost(face_k) * pressure_pa * sliding_m,
        band_strain: (c::EXPANSION_PER_K * band_k - yield_strain(face_k)).clamp(0.0, 1.0),
    }
}

/// Strain at which the steel yields, hot.
fn yield_strain(temp_k: f64) -> f64 {
    let [from_k, to_k] = c::SOFTENS_K;
    let softened = ((temp_k - from_k) / (to_k - from_k)).clamp(0.0, 1.0);
    c::YIELD_STRAIN * (1.0 - (1.0 - c::SOFT_SHARE) * softened)
}

/// Rate over that at a temperature: S. A. Arrhenius's law.
fn arrhenius(activation_k: f64, at_k: f64, temp_k: f64) -> f64 {
    libm::exp(activation_k * (1.0 / at_k - 1.0 / temp_k))
}

/// Share of the steel that the oil's film has left: E. P. Kingsbury's fractional film defect.
pub fn film_lost(temp_k: f64) -> f64 {
    -libm::expm1(-arrhenius(c::FILM_K, c::FILM_AT_K, temp_k))
}

/// Wear of a plate's tabs by counted cycles of the axle's torque \[m\]: at the peak its two faces hang on them, and the pack gives way along
/// the axis by the change of the ramps' force, there and back.
pub fn tab_wear_m(spec: &Spec, cycle: &TorqueCycle) -> f64 {
    let ends = [0.5, -0.5].map(|half| ramp_n(spec, cycle.mean_n_m + half * cycle.range_n_m));
    let peak_n = ends[0].max(ends[1]);
    let stroke_m = (ends[0] - ends[1]).abs() / spec.axial_n_m;
    let on_tabs_n = 2.0 * highest_friction(spec) * peak_n * spec.radius_m() / spec.tab_radius_m;
    spec.tab_wear_m2_n * on_tabs_n / spec.tab_area_m2 * 2.0 * stroke_m * cycle.count
}
