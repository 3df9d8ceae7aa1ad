//! Duty to what it does: each operating point and over-rev as a block, looked up in the map.

use ringland_engine::Block;
use ringland_mechanics::film::pack::StateRate;

use crate::bore_map::{BoreMap, HEIGHTS, REVERSAL};
use crate::constants::GLAZE_LOAD;
use crate::spec::Spec;

/// What a stretch of duty adds, whatever the condition it meets.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stretch {
    /// Wear at each height.
    pub heights: [StateRate; HEIGHTS],
    /// Seating dose \[1\].
    pub seating: f64,
    /// Hours at the bore temperature of full load.
    pub heat_h: f64,
    /// Hours at low load.
    pub low_load_h: f64,
}

/// What one block adds, and where on the map it lies.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Its stretch.
    pub stretch: Stretch,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

/// What a block adds.
pub fn added(spec: &Spec, map: &BoreMap<'_>, block: &Block) -> Added {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let looked = map.look_up(spec, block);
    let (rings, hours) = (&spec.rings, block.time_s / 3600.0);
    let multiplier = rings.bore.running_in_multiplier;
    let wear_per_dose = rings.bore.wear_coefficient_m2_n * block.cycles() * block.contamination;
    let fresh = looked.dose_pa_m[REVERSAL][2];
    let depth_m = rings.pack.seating_depth_m();
    let low = looked.imep_pa < GLAZE_LOAD * rings.pack.full_load_imep_pa;
    Added {
        stretch: Stretch {
            heights: looked
                .dose_pa_m
                .map(|doses| StateRate::new(&doses, wear_per_dose, multiplier)),
            seating: wear_per_dose * multiplier * fresh / depth_m,
            heat_h: hours * rings.pack.power_share(block.speed_rad_s, looked.imep_pa),
            low_load_h: if low { hours } else { 0.0 },
        },
        extrapolated: looked.extrapolated,
    }
}

/// The sum of what blocks add.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Stretch {
    let mut sum = Stretch::default();
    for block in added {
        for (rate, more) in sum.heights.iter_mut().zip(&block.stretch.heights) {
            rate.add(more);
        }
        sum.seating += block.stretch.seating;
        sum.heat_h += block.stretch.heat_h;
        sum.low_load_h += block.stretch.low_load_h;
    }
    sum
}
