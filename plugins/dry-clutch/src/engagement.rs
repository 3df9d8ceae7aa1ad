//! What one engagement does, from the temperature that the stack has when it begins.

use ringland_driveline::Engagement;

use crate::constants as c;
use crate::heat_check::look_up;
use crate::plate_set::Bending;
use crate::response_map::ResponseMap;
use crate::slip::Slip;
use crate::spec::Spec;
use crate::stack::{Response, SAMPLES};

/// What an engagement does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// From rest.
    pub launch: bool,
    /// Temperature of the stack as it begins \[K\].
    pub start_k: f64,
    /// Heat \[J\].
    pub energy_j: f64,
    /// Height that the stack loses \[m\], run in.
    pub wear_m: f64,
    /// Dose of glazing \[1\].
    pub glaze: f64,
    /// How the floaters are bent.
    pub floater: Bending,
    /// How the pressure plate is bent.
    pub pressure_plate: Bending,
    /// Damage of the hottest band by strain cycling \[1\].
    pub heat_check: f64,
    /// Highest mean temperature of a plate \[K\].
    pub plate_k: f64,
    /// Highest temperature of a hot band \[K\].
    pub band_k: f64,
    /// Largest torque \[N·m\].
    pub torque_n_m: f64,
    /// Whether it lasted longer than any on the map.
    pub off_the_map: bool,
}

/// What an engagement does from a temperature of the stack \[K\].
pub fn effect(
    spec: &Spec,
    map: &ResponseMap<'_>,
    capacity_j_k: f64,
    engagement: &Engagement,
    start_k: f64,
) -> Effect {
    let slip = Slip::of(engagement);
    let (response, off_the_map) = map.look_up(slip.duration_s, slip.hold);
    let heat_j_m2 = slip.energy_j / spec.area_m2();
    let times_s = std::array::from_fn(|k| share_of_time(&slip, k) * slip.duration_s);
    let bending = |bent| Bending::new(&spec.materials.plate, bent, heat_j_m2, start_k, &times_s);
    let band_k = start_k + spec.hot_band_factor * heat_j_m2 * response.face_peak;
    let settled_k = start_k + slip.energy_j / capacity_j_k;
    let (wear_m, glaze) = faces(spec, &response, &slip, &times_s, start_k);
    Effect {
        launch: engagement.launch,
        start_k,
        energy_j: slip.energy_j,
        wear_m,
        glaze,
        floater: bending(&response.floater),
        pressure_plate: bending(&response.pressure_plate),
        heat_check: look_up(map.heat_checks(), heat_j_m2 * response.band),
        plate_k: settled_k.max(start_k + heat_j_m2 * response.plate_mean),
        band_k,
        torque_n_m: engagement.peak_torque_n_m,
        off_the_map,
    }
}

/// Stack height worn, and mean dose of glazing, summed over points of equal heat on every face at the temperature of its hot band.
fn faces(
    spec: &Spec,
    response: &Response,
    slip: &Slip,
    times_s: &[f64; SAMPLES],
    start_k: f64,
) -> (f64, f64) {
    let lining = &spec.materials.lining;
    let rise = spec.hot_band_factor * slip.energy_j / spec.area_m2();
    let (mut factors, mut dose_s) = (0.0, 0.0);
    for face in &response.faces {
        for (value, time_s) in face.iter().zip(times_s) {
            let temp_k = start_k + rise * value;
            factors += lining.wear_factor(temp_k);
            dose_s += glazing_rate(temp_k, lining.glazes_k) * time_s;
        }
    }
    let count = spec.faces();
    let mean_factor = factors / (count * SAMPLES as f64);
    let volume_m3 = spec.wear_m3_j() * slip.energy_j * mean_factor;
    let wear_m = volume_m3 / (spec.face.area_m2() * spec.pad_share);
    (wear_m, dose_s / (count * c::GLAZING_S))
}

/// Share of the duration in which the k-th share of the heat is made.
fn share_of_time(slip: &Slip, k: usize) -> f64 {
    let at = |k: usize| slip.time_share(k as f64 / SAMPLES as f64);
    at(k + 1) - at(k)
}

/// Rate of glazing over that at the lining's glazing temperature \[1\] (S. A. Arrhenius).
fn glazing_rate(temp_k: f64, glazes_k: f64) -> f64 {
    libm::exp(c::GLAZING_K * (1.0 / glazes_k - 1.0 / temp_k))
}
