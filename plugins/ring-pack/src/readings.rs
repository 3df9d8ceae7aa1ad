//! Readings from a condition.

use std::f64::consts::PI;

use crate::card::reading;
use crate::condition::{Condition, Model};
use crate::constants::{
    LEAK_DOWN_BUILD, LEAK_DOWN_PER_M, LEAK_DOWN_UNSEATED, POWER_PER_CHARGE, RELAXATION,
    TENSION_EXPONENT,
};
use crate::operating_map::REFERENCE_GROWTH_M;
use crate::spec::Spec;

/// Growth of the top end gap \[m\]: `2π` times the wear of face and bore.
pub fn gap_growth_m(condition: &Condition) -> f64 {
    2.0 * PI * (condition.face_wear_m[0] + condition.bore_wear_m)
}

/// Share of the top ring's tension lost.
pub fn tension_loss(spec: &Spec, condition: &Condition) -> f64 {
    let thinner = (1.0 - condition.face_wear_m[0] / spec.rings.top_thickness_m).max(0.0);
    let relaxed = (1.0 - RELAXATION * libm::log1p(condition.heat_h)).max(0.0);
    1.0 - libm::pow(thinner, TENSION_EXPONENT) * relaxed
}

/// Multipliers on what the model computes: of gap growth and blow-by, of the top face's wear, of tension loss, of leak-down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Multipliers {
    /// Of wear, by which gaps and thickness go.
    pub wear: f64,
    /// Of leak-down growth.
    pub leak: f64,
    /// Of face wear, by which the band goes.
    pub flat: f64,
    /// Of tension loss.
    pub tension: f64,
}

/// Every reading at a condition.
pub fn readings(
    model: &Model<'_>,
    condition: &Condition,
    by: &Multipliers,
) -> [f64; reading::COUNT] {
    let spec = &model.spec;
    let growth_m = by.wear * gap_growth_m(condition);
    let second_m = condition.face_wear_m[1] + condition.bore_wear_m;
    let unseated = libm::exp(-by.wear * condition.seating);
    let reference = model.map.reference();
    let blow_by_kg_s = blow_by_kg_s(model, growth_m, unseated);
    let lost = (blow_by_kg_s - reference.blow_by_kg_s) / reference.charge_kg_s;
    let (full_load, pack) = (model.map.full_load(spec), &spec.rings.pack);
    let cycles_per_s = pack.rated_speed_rad_s / (4.0 * PI);
    let mut values = [0.0; reading::COUNT];
    values[reading::END_GAP] = pack.top_gap_m + growth_m;
    values[reading::SECOND_END_GAP] = pack.second_gap_m + 2.0 * PI * by.wear * second_m;
    values[reading::TOP_THICKNESS] =
        (spec.rings.top_thickness_m - by.wear * condition.face_wear_m[0]).max(0.0);
    values[reading::TOP_TENSION] =
        pack.rings[0].tension_n * (1.0 - by.tension * tension_loss(spec, condition)).max(0.0);
    values[reading::CONTACT_BAND] = contact_band(model, by.flat * condition.face_wear_m[0]);
    values[reading::LEAK_DOWN] = LEAK_DOWN_BUILD
        + LEAK_DOWN_PER_M * by.leak * gap_growth_m(condition)
        + LEAK_DOWN_UNSEATED * unseated;
    values[reading::BLOW_BY] = spec.rings.cylinders * volume_flow_m3_s(blow_by_kg_s);
    values[reading::POWER_LOSS] = POWER_PER_CHARGE * lost;
    values[reading::FRICTION_POWER] = spec.rings.cylinders * cycles_per_s * full_load.friction_j;
    values[reading::SEATING] = 1.0 - unseated;
    values[reading::LEAST_FILM] = full_load.least_film_m;
    values
}

/// Reject values.
pub fn limits(model: &Model<'_>) -> [Option<f64>; reading::COUNT] {
    let spec = &model.spec;
    let pack = &spec.rings.pack;
    let mut limits = [None; reading::COUNT];
    limits[reading::END_GAP] = Some(pack.top_gap_m + spec.limit_gap_growth_m);
    limits[reading::TOP_TENSION] =
        Some(pack.rings[0].tension_n * (1.0 - spec.limit_tension_loss_fraction));
    limits[reading::CONTACT_BAND] = Some(spec.limit_contact_band_fraction);
    limits[reading::LEAK_DOWN] = Some(spec.limit_leak_down_fraction);
    let seated = volume_flow_m3_s(model.map.reference().blow_by_kg_s);
    limits[reading::BLOW_BY] = Some(2.0 * spec.rings.cylinders * seated);
    limits
}

/// Blow-by of one cylinder at full load: the reference solutions, linear in gap growth and in what is unseated.
fn blow_by_kg_s(model: &Model<'_>, growth_m: f64, unseated: f64) -> f64 {
    let reference = model.map.reference();
    let seated = reference.blow_by_kg_s;
    seated
        + (reference.grown_blow_by_kg_s - seated) * growth_m / REFERENCE_GROWTH_M
        + (reference.unseated_blow_by_kg_s - seated) * unseated
}

/// At 1 bar and 300 K.
fn volume_flow_m3_s(kg_s: f64) -> f64 {
    kg_s * 287.0 * 300.0 / 1.0e5
}

/// Worn band of the top face over its width.
fn contact_band(model: &Model<'_>, wear_m: f64) -> f64 {
    let pack = &model.spec.rings.pack;
    let (new_m, kept_m) = (pack.crown_m(0), pack.kept_crown_m(0));
    let left = libm::exp(-wear_m / model.spec.rings.pack.crown_length_m(0));
    ((1.0 - left) * (new_m - kept_m) / new_m).max(0.0).sqrt()
}
