//! Readings from a condition, with their spread.

use ringland_plugin::{QUANTILES, ReadingPath};

use crate::buckling::beam_force_n;
use crate::card::{BEND_SD, LENGTH_SD_M, OUT_OF_ROUND_SD_M, reading, slot};
use crate::condition::Model;
use crate::constants::{MARGIN_LN_SD, RELAXATION, STRESS_LN_SD};
use crate::cycle_damage::start_depth_m;
use crate::spec::SITES;

/// Readings at a condition: 5 %, 50 % and 95 % quantiles. The pair is what full load gives.
pub fn readings(
    model: &Model<'_>,
    (tension_n, stress_pa): (f64, [f64; SITES]),
    row: &[f64],
) -> [[f64; 3]; reading::COUNT] {
    let spec = &model.spec;
    let spread = |median: f64, ln_sd: f64| QUANTILES.map(|z| median * libm::exp(z * ln_sd));
    let about = |median: f64, sd: f64| QUANTILES.map(|z| (median + z * sd).max(0.0));
    let mut values = [[0.0; 3]; reading::COUNT];
    values[reading::BEND] = about(spec.build_bend_ratio, BEND_SD);
    values[reading::OUT_OF_ROUND] = about(spec.build_out_of_round_m, OUT_OF_ROUND_SD_M);
    values[reading::LENGTH_CHANGE] = about(0.0, LENGTH_SD_M);
    values[reading::BUCKLING_MARGIN] = spread(margin(model, row[slot::COMPRESSION]), MARGIN_LN_SD);
    values[reading::HIGHEST_SPEED] = [row[slot::SPEED]; 3];
    values[reading::TENSION] = spread(tension_n, STRESS_LN_SD);
    let retained = RELAXATION.retained(row[slot::CYCLES]);
    for (index, site) in spec.sites.iter().enumerate() {
        let stress_pa = stress_pa[index];
        values[reading::EYE_STRESS + index] = spread(stress_pa, STRESS_LN_SD);
        values[reading::EYE_DEPTH + index] = [start_depth_m(site, stress_pa, retained); 3];
    }
    values
}

/// Largest margin that is told: a rod that has hardly run.
const LARGEST_MARGIN: f64 = 1.0e3;

/// Buckling load over a compression.
pub fn margin(model: &Model<'_>, compression_n: f64) -> f64 {
    let force_n = beam_force_n(&model.spec);
    (force_n / compression_n.max(f64::MIN_POSITIVE)).min(LARGEST_MARGIN)
}

/// Reject values.
pub fn limits(model: &Model<'_>) -> [Option<f64>; reading::COUNT] {
    let spec = &model.spec;
    let mut limits = [None; reading::COUNT];
    limits[reading::BEND] = Some(spec.limit_bend_ratio);
    limits[reading::OUT_OF_ROUND] = Some(spec.limit_out_of_round_m);
    limits[reading::LENGTH_CHANGE] = Some(spec.limit_length_change_m);
    limits[reading::BUCKLING_MARGIN] = Some(spec.limit_buckling_margin);
    limits[reading::HIGHEST_SPEED] = Some(spec.limit_speed_rad_s);
    limits
}

/// Empty paths with their limits.
pub fn empty_paths(model: &Model<'_>, length: usize) -> Vec<ReadingPath> {
    let path = |limit| ReadingPath {
        low: Vec::with_capacity(length),
        median: Vec::with_capacity(length),
        high: Vec::with_capacity(length),
        limit,
    };
    limits(model).into_iter().map(path).collect()
}
