//! Readings from a condition.

use crate::card::{mechanism, reading, slot};
use crate::condition::{Model, Row};
use crate::gears::DRIVE;
use crate::mesh::Running;
use crate::spec::Spec;

/// Damage of each mechanism at a condition: 1 where its limit is reached. A rate multiplier multiplies it.
pub fn damages(spec: &Spec, row: &Row) -> [f64; mechanism::COUNT] {
    let settling = row[slot::SETTLING];
    let mut damages = [0.0; mechanism::COUNT];
    damages[mechanism::DRIVE_PITTING] = row[slot::DRIVE_PITTING];
    damages[mechanism::COAST_PITTING] = row[slot::COAST_PITTING];
    damages[mechanism::ROOT_FATIGUE] = row[slot::PINION_ROOT].max(row[slot::RING_ROOT]);
    damages[mechanism::SCUFF] = row[slot::SCUFF];
    damages[mechanism::BACKLASH] = row[slot::BACKLASH_GROWTH] / spec.backlash_room_m();
    damages[mechanism::PRELOAD] = settling / -libm::log(spec.limit_drag_fraction);
    damages[mechanism::PATTERN] = settling_at_pattern_limit(spec).map_or(0.0, |end| settling / end);
    damages
}

/// Settling at which the pattern has moved by its limit; none when all of the preload is not enough.
fn settling_at_pattern_limit(spec: &Spec) -> Option<f64> {
    let share = spec.limit_pattern_shift / (spec.pattern_per_m * spec.preload_m);
    (share < 1.0).then(|| -libm::log1p(-share))
}

/// Every reading at a condition, for a multiplier on each mechanism. `steady` are those of [`steady`].
pub fn readings(
    spec: &Spec,
    row: &Row,
    by: &[f64; mechanism::COUNT],
    steady: [f64; 3],
) -> [f64; reading::COUNT] {
    let settling = row[slot::SETTLING];
    let growth_m = by[mechanism::BACKLASH] * row[slot::BACKLASH_GROWTH];
    let root = row[slot::PINION_ROOT].max(row[slot::RING_ROOT]);
    let mut values = [0.0; reading::COUNT];
    values[reading::BACKLASH] = spec.backlash_m + growth_m;
    values[reading::BACKLASH_GROWTH] = growth_m;
    values[reading::DRAG] = spec.drag_n_m * libm::exp(-by[mechanism::PRELOAD] * settling);
    let lost_m = -spec.preload_m * libm::expm1(-by[mechanism::PATTERN] * settling);
    values[reading::PATTERN_SHIFT] = spec.pattern_per_m * lost_m;
    values[reading::DRIVE_PITTING] = by[mechanism::DRIVE_PITTING] * row[slot::DRIVE_PITTING];
    values[reading::COAST_PITTING] = by[mechanism::COAST_PITTING] * row[slot::COAST_PITTING];
    values[reading::ROOT] = by[mechanism::ROOT_FATIGUE] * root;
    values[reading::SCUFF] = by[mechanism::SCUFF] * row[slot::SCUFF];
    [
        values[reading::CONTACT_STRESS],
        values[reading::ROOT_STRESS],
        values[reading::FILM_RATIO],
    ] = steady;
    values
}

/// Reject values.
pub fn limits(spec: &Spec) -> [Option<f64>; reading::COUNT] {
    let mut limits = [None; reading::COUNT];
    limits[reading::BACKLASH] = Some(spec.limit_backlash_m);
    limits[reading::BACKLASH_GROWTH] = Some(spec.backlash_room_m());
    limits[reading::DRAG] = Some(spec.limit_drag_fraction * spec.drag_n_m);
    limits[reading::PATTERN_SHIFT] = Some(spec.limit_pattern_shift);
    limits[reading::DRIVE_PITTING] = Some(1.0);
    limits[reading::COAST_PITTING] = Some(1.0);
    limits[reading::ROOT] = Some(1.0);
    limits[reading::SCUFF] = Some(1.0);
    limits
}

/// Contact stress of the drive flank and root stress of the pinion at the rated torque \[Pa\], and film over roughness there.
pub fn steady(model: &Model<'_>) -> [f64; 3] {
    let spec = &model.spec;
    let torque_n_m = spec.rated_torque_n_m;
    let flank = &model.gears.flanks[DRIVE];
    let running = Running {
        ring_rad_s: 100.0,
        torque_n_m,
        oil_k: ringland_driveline::Block::default().axle_oil_k,
    };
    let (mesh, _) = model.map.at(DRIVE, &running);
    [
        flank.contact_stress_pa(spec, torque_n_m),
        flank.root_stress_pa(spec, torque_n_m)[0],
        mesh.film_ratio,
    ]
}
