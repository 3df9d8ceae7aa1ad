//! Readings from a condition.

use crate::card::reading;
use crate::condition::{Condition, aged, damper_weights};
use crate::constants::TAPER_SHARE;
use crate::duty::Crank;
use crate::operating_map::DAMPERS;
use crate::stress::CycleStress;

/// Readings of a crank, without what changes with the condition.
pub struct Readings<'a> {
    crank: &'a Crank<'a>,
    twist_rad: [f64; DAMPERS],
    /// Stress cycles of the most stressed pin fillet at full load, by damper state.
    stress: [CycleStress; DAMPERS],
    growing_crack_m: [f64; DAMPERS],
}

impl<'a> Readings<'a> {
    /// For a crank at full load.
    pub fn new(crank: &'a Crank<'a>) -> Self {
        let looked = crank.full_load();
        let worst = |damper: usize| {
            let state = looked.state(damper);
            let pins = (0..crank.spec().throws()).map(|pin| crank.ground(pin, state.site(pin)));
            pins.max_by(|a, b| a.amplitude_pa.total_cmp(&b.amplitude_pa))
                .unwrap_or_default()
        };
        let stress = [0, 1, 2].map(worst);
        let strength = crank.pin_strength();
        let growing_crack_m =
            stress.map(|stress| strength.growing_crack_m(stress.amplitude_pa, stress.mean_pa));
        Self {
            crank,
            twist_rad: crank.twist_peaks_rad(),
            stress,
            growing_crack_m,
        }
    }

    /// Every reading at a condition, wear times a multiplier.
    pub fn at(&self, condition: &Condition, wear_multiplier: f64) -> [f64; reading::COUNT] {
        let spec = self.crank.spec();
        let wear_m = wear_multiplier * condition.journal_wear_m;
        let age_s = condition.damper_age_s;
        let weights = damper_weights(spec, age_s, age_s);
        let weighed = |values: [f64; DAMPERS]| -> f64 {
            values.iter().zip(weights).map(|(value, w)| value * w).sum()
        };
        let mut values = [0.0; reading::COUNT];
        values[reading::JOURNAL_WEAR] = wear_m;
        values[reading::JOURNAL_TAPER] = TAPER_SHARE * wear_m;
        values[reading::PIN_DIAMETER] = spec.pin_diameter_m - 2.0 * condition.ground_m - wear_m;
        values[reading::JOURNAL_RA] = spec.journal.ra_m;
        values[reading::RUNOUT] = condition.runout_m;
        values[reading::TWIST] = weighed(self.twist_rad);
        values[reading::DAMPER_AGED] = aged(spec, age_s);
        values[reading::FILLET_STRESS] = weighed(self.stress.map(|stress| stress.amplitude_pa));
        values[reading::START_DEPTH] = self.crank.pin_strength().start_m;
        values[reading::GROWING_CRACK] = weighed(self.growing_crack_m);
        values[reading::CASE_LEFT] = (spec.fillet.case_depth_m - condition.ground_m).max(0.0);
        values
    }

    /// Reject values.
    pub fn limits(&self) -> [Option<f64>; reading::COUNT] {
        let spec = self.crank.spec();
        let mut limits = [None; reading::COUNT];
        limits[reading::JOURNAL_WEAR] = Some(spec.limit_journal_wear_m);
        limits[reading::JOURNAL_TAPER] = Some(spec.limit_taper_m);
        limits[reading::JOURNAL_RA] = Some(spec.limit_journal_ra_m);
        limits[reading::RUNOUT] = Some(spec.limit_runout_m);
        limits
    }
}
