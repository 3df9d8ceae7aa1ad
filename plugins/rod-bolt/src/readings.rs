//! Readings from a condition.

use ringland_plugin::{ReadingPath, Spread};

use crate::bolt::{alternating, damaging_preload_n, opening_preload_n};
use crate::card::{mechanism, reading};
use crate::condition::{Bolts, Condition};
use crate::loads::{self, BoltLoad};
use crate::set::Set;

/// One cycle at redline and full load on one bolt: what the limits are computed for.
pub fn redline_load(bolts: &Bolts<'_>) -> BoltLoad {
    let spec = &bolts.spec;
    let full_load_pa = spec.engine.full_load_imep_pa;
    BoltLoad {
        cycles: 1.0,
        ..loads::at(
            spec,
            &bolts.rod,
            &bolts.map,
            spec.redline_rad_s,
            full_load_pa,
        )
    }
}

/// Alternating stress over endurance of a bolt of a preload \[N\], the worse of its two cycles.
pub fn stress_use(bolts: &Bolts<'_>, preload_n: f64, load: &BoltLoad) -> f64 {
    let rod = &bolts.rod;
    let each = |which: usize| {
        let stress = alternating(rod, preload_n, load, which);
        stress.amplitude_pa / rod.endurance.limit_pa(stress.mean_over_yield)
    };
    each(0).max(each(1))
}

/// Reject values.
pub fn limits(bolts: &Bolts<'_>) -> [Option<f64>; reading::COUNT] {
    let spec = &bolts.spec;
    let least_n = opening_preload_n(&bolts.rod, &[redline_load(bolts)]);
    let mut limits = [None; reading::COUNT];
    limits[reading::LEAST_PRELOAD] = Some(least_n);
    limits[reading::LEAST_STRETCH] = Some(least_n * bolts.rod.joint.bolt_compliance_m_n);
    limits[reading::PERMANENT_STRETCH] = Some(spec.limit_permanent_stretch_m);
    limits[reading::TIGHTENINGS] = Some(spec.limit_tightenings);
    limits[reading::HIGHEST_SPEED] = Some(spec.limit_over_redline * spec.redline_rad_s);
    limits[reading::STRESS_USE] = Some(1.0);
    limits
}

/// 95 % quantile of the standard normal distribution.
const Z95: f64 = 1.644_853_626_951_472_7;

/// Every reading at a condition, with its 5 %, 50 % and 95 % quantiles over sets of bolts. What preloads the coming event damages and opens is given.
fn at(
    bolts: &Bolts<'_>,
    condition: &Condition,
    [damaging_n, opening_n]: [f64; 2],
    stretch_rate: &Spread,
) -> [[f64; 3]; reading::COUNT] {
    let set = Set {
        bolts: bolts.spec.bolts(),
    };
    let rod = &bolts.rod;
    let preload = |p: f64| bolts.bolt(condition, set.lowest(p)).preload_n;
    let preloads = [preload(0.05), preload(0.5), preload(0.95)];
    let stretch =
        |p: f64, z: f64| stretch_rate.at(z) * bolts.bolt(condition, set.highest(p)).stretch_m;
    let median_n = bolts.bolt(condition, 0.0).preload_n;
    let loosening = rod.friction.loosening_torque_per_preload_m(&rod.thread);
    let redline = redline_load(bolts);
    let mut values = [[0.0; 3]; reading::COUNT];
    values[reading::LEAST_PRELOAD] = preloads;
    values[reading::LEAST_STRETCH] = preloads.map(|n| n * rod.joint.bolt_compliance_m_n);
    values[reading::PERMANENT_STRETCH] =
        [stretch(0.05, -Z95), stretch(0.5, 0.0), stretch(0.95, Z95)];
    values[reading::TIGHTENINGS] = [condition.tightenings; 3];
    values[reading::HIGHEST_SPEED] = [condition.highest_speed_rad_s; 3];
    values[reading::LOOSENING_TORQUE] = [(median_n * loosening).max(0.0); 3];
    values[reading::DAMAGING_PRELOAD] = [damaging_n; 3];
    values[reading::OPENING_PRELOAD] = [opening_n; 3];
    values[reading::STRESS_USE] = preloads.map(|n| stress_use(bolts, n, &redline));
    values
}

/// Readings now and at each of `ahead` events. Preload, stretch and speed change with the first event of a kind and stay while it repeats; a count of
/// tightenings changes in the shop only.
pub fn paths(
    bolts: &Bolts<'_>,
    now: &Condition,
    next: &Condition,
    event: &[BoltLoad],
    rates: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    let stretch_rate = &rates[mechanism::STRETCH];
    let of_event = [
        damaging_preload_n(&bolts.rod, event),
        opening_preload_n(&bolts.rod, event),
    ];
    let (here, there) = (
        at(bolts, now, of_event, stretch_rate),
        at(bolts, next, of_event, stretch_rate),
    );
    let limits = limits(bolts);
    let path = |index: usize| {
        let rows: Vec<[f64; 3]> = ahead
            .iter()
            .map(|events| {
                let values = if *events > 0.0 { there } else { here };
                let mut row = values[index];
                row.sort_by(f64::total_cmp);
                row
            })
            .collect();
        ReadingPath {
            low: rows.iter().map(|row| row[0]).collect(),
            median: rows.iter().map(|row| row[1]).collect(),
            high: rows.iter().map(|row| row[2]).collect(),
            limit: limits[index],
        }
    };
    (0..reading::COUNT).map(path).collect()
}
