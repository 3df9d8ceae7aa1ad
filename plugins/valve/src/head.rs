//! The head at an operating point: temperature, fatigue, creep, slip on the seat.

use std::f64::consts::PI;

use ringland_mechanics::fatigue::mean_stress::goodman;
use ringland_mechanics::valve::{
    HeadHeat, HeadTemperature, centre_thermal_pa, limit_stress_pa, rim_thermal_pa,
};

use crate::constants::{
    CHARGE_K, EDGE_FALL, EXHAUST_W_M2_K, GUIDE_W_M2_K, IDLE_FLOW, INTAKE_W_M2_K, LARGEST,
    RADIAL_LOG, SEAT_W_M2_K,
};
use crate::gas::{HeadGas, head_area_m2};
use crate::material::at;
use crate::spec::Spec;

/// What surrounds a head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// The cylinder's gas.
    pub gas: HeadGas,
    /// Exhaust gas \[K\]: in the port of an exhaust valve, and on the face of any while it leaves.
    pub exhaust_k: f64,
    /// Coolant \[K\].
    pub coolant_k: f64,
    /// Flow through the port over that at full load and rated speed.
    pub flow: f64,
    /// Share of time in which the valve is closed.
    pub closed_share: f64,
}

/// Flow through the port over that at full load and rated speed, at a speed \[rad/s\] and load \[Pa\]: charge grows in a straight line from idle.
pub fn flow(spec: &Spec, speed_rad_s: f64, imep_pa: f64) -> f64 {
    let engine = &spec.engine;
    let load = (imep_pa / engine.full_load_imep_pa).max(0.0);
    speed_rad_s / engine.rated_speed_rad_s * (IDLE_FLOW + (1.0 - IDLE_FLOW) * load)
}

/// Temperatures of the head.
pub fn temperature(spec: &Spec, around: &Surroundings) -> HeadTemperature {
    let half_m2 = 0.5 * head_area_m2(spec.seat_radius_m);
    let conductivity = spec.material.conductivity_w_m_k;
    let (port_w_m2_k, port_k) = if spec.exhaust {
        (EXHAUST_W_M2_K, around.exhaust_k)
    } else {
        (INTAKE_W_M2_K, CHARGE_K)
    };
    let port_w_k = half_m2 * port_w_m2_k * libm::pow(around.flow, 0.8);
    let seat_m2 = 2.0 * PI * spec.seat_radius_m * spec.seat_width_m;
    let (face_w_m2_k, face_k) = around.gas.face(around.exhaust_k);
    let heat = HeadHeat {
        face_w_k: [half_m2 * face_w_m2_k; 2],
        face_k,
        port_w_k: [port_w_k; 2],
        port_k,
        radial_w_k: 2.0 * PI * conductivity * spec.head_thickness_m / RADIAL_LOG,
        seat_w_k: SEAT_W_M2_K * seat_m2 * around.closed_share,
        stem_w_k: stem_w_k(spec),
        coolant_k: around.coolant_k,
        drawn_w: spec.fuel_cooling_w * around.flow,
    };
    heat.balance()
}

/// Conductance from the neck along the stem into the guide \[W/K\]: a bar, then a fin.
fn stem_w_k(spec: &Spec) -> f64 {
    let bar = spec.material.conductivity_w_m_k * spec.stem().area_m2;
    let rate = fin_per_m(spec);
    let fin_w_k = bar * rate * libm::tanh(rate * spec.guide_length_m);
    1.0 / (spec.port_length_m / bar + 1.0 / fin_w_k)
}

/// Decay of temperature along the stem in the guide \[1/m\].
fn fin_per_m(spec: &Spec) -> f64 {
    let conductivity = spec.material.conductivity_w_m_k;
    (4.0 * GUIDE_W_M2_K / (conductivity * spec.stem_diameter_m)).sqrt()
}

/// Temperatures of the stem at the guide's top and bottom \[K\].
pub fn stem_k(spec: &Spec, centre_k: f64, coolant_k: f64) -> [f64; 2] {
    let bar = spec.material.conductivity_w_m_k * spec.stem().area_m2;
    let drop = stem_w_k(spec) * spec.port_length_m / bar;
    let bottom_k = centre_k - drop * (centre_k - coolant_k);
    let along = fin_per_m(spec) * spec.guide_length_m;
    [
        coolant_k + (bottom_k - coolant_k) / libm::cosh(along),
        bottom_k,
    ]
}

/// Utilisation of the head by one firing at a peak pressure above ambient \[Pa\]: that of the neck or of the rim, whichever is larger.
///
/// Pressure pulses the stress from 0; thermal stress is a steady part of the mean. Goodman's line with the strengths at the local temperature.
pub fn utilisation(spec: &Spec, peak_pa: f64, at_k: &HeadTemperature) -> f64 {
    let plate = spec.plate();
    let fall_k = EDGE_FALL * (at_k.centre_k - at_k.rim_k);
    let expansion = spec.material.expansion_per_k;
    let modulus = |temp_k: f64| at(spec.material.modulus_pa, temp_k);
    let site = |range_pa: f64, thermal_pa: f64, temp_k: f64| {
        let amplitude_pa = 0.5 * range_pa;
        let ultimate_pa = at(spec.material.ultimate_pa, temp_k);
        let mean_pa = (amplitude_pa + thermal_pa).max(-amplitude_pa);
        goodman(amplitude_pa, mean_pa, ultimate_pa) / spec.head_strength_pa(temp_k)
    };
    let neck = site(
        spec.neck_notch_factor * plate.hub_stress_ratio() * peak_pa,
        centre_thermal_pa(modulus(at_k.centre_k), expansion, fall_k),
        at_k.centre_k,
    );
    let rim = site(
        plate.edge_stress_ratio() * peak_pa,
        rim_thermal_pa(modulus(at_k.rim_k), expansion, fall_k),
        at_k.rim_k,
    );
    neck.max(rim).min(LARGEST)
}

/// Creep life fraction of a time \[s\], at the centre's temperature.
pub fn creep_fraction(spec: &Spec, gas: &HeadGas, centre_k: f64, time_s: f64) -> f64 {
    let creep = &spec.material.creep;
    let pressure_pa = gas.creep_pressure_pa(creep.stress_exponent(centre_k));
    let stress_pa = limit_stress_pa(pressure_pa, spec.seat_radius_m, spec.head_thickness_m);
    creep
        .life_fraction(time_s, stress_pa, centre_k)
        .min(MOST_CREEP)
}

/// Largest creep life fraction that is told: beyond all life.
const MOST_CREEP: f64 = 1.0e9;

/// Load of the gas on the head \[N\] times slip of the rim on its seat \[m\] at a peak pressure above ambient \[Pa\].
pub fn load_slip_n_m(spec: &Spec, peak_pa: f64, rim_k: f64) -> f64 {
    let load_n = peak_pa * head_area_m2(spec.seat_radius_m);
    let modulus_pa = at(spec.material.modulus_pa, rim_k);
    load_n * spec.plate().edge_slip_m_pa(modulus_pa) * peak_pa
}
