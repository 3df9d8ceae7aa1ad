//! Duty to what it does: each operating point and over-rev as a block, looked up in the map.

use ringland_engine::Block;
use ringland_mechanics::film::pack::StateRate;

use crate::constants::{RELAXATION_DECADE_K, RELAXATION_TEMP_K};
use crate::operating_map::OperatingMap;
use crate::spec::Spec;
use crate::wear_law::Stretch;

/// What one block adds, and where on the map it lies.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Its stretch.
    pub stretch: Stretch,
    /// Friction work of the pack \[J\].
    pub friction_j: f64,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

/// What a block adds.
pub fn added(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> Added {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let looked = map.look_up(spec, block);
    let rings = &spec.rings;
    let (cycles, bore) = (block.cycles(), &rings.bore);
    let faces = [0, 1, 2].map(|ring| {
        let coefficient = rings.faces[ring].wear_coefficient_m2_n;
        let wear_per_dose = coefficient * cycles * block.contamination;
        StateRate::new(
            &looked.dose_pa_m[ring],
            wear_per_dose,
            bore.running_in_multiplier,
        )
    });
    let bore_per_dose = bore.wear_coefficient_m2_n * cycles * block.contamination;
    let [seated, fresh] = looked.bore_dose_pa_m;
    // Peaks are worn where the bore is, at top-ring reversal, on the fresh surface.
    let depth_m = rings.pack.seating_depth_m();
    let share = rings.pack.power_share(block.speed_rad_s, looked.imep_pa);
    let groove_k = block.coolant_k + rings.pack.groove_rise_k * share;
    let decades = (groove_k - RELAXATION_TEMP_K).max(0.0) / RELAXATION_DECADE_K;
    Added {
        stretch: Stretch {
            faces,
            bore_m: bore_per_dose * seated,
            seating: bore_per_dose * fresh * bore.running_in_multiplier / depth_m,
            heat_h: block.time_s / 3600.0 * libm::exp(decades * std::f64::consts::LN_10),
        },
        friction_j: cycles * looked.friction_j,
        extrapolated: looked.extrapolated,
    }
}

/// The sum of what blocks add.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Stretch {
    let mut sum = Stretch::default();
    for block in added {
        for (face, more) in sum.faces.iter_mut().zip(&block.stretch.faces) {
            face.add(more);
        }
        sum.bore_m += block.stretch.bore_m;
        sum.seating += block.stretch.seating;
        sum.heat_h += block.stretch.heat_h;
    }
    sum
}
