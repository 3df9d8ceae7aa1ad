/// When the thread was rolled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rolling {
    /// Rolled (or cut), then quenched and tempered: residual stress of rolling is gone.
    BeforeHeatTreatment,
    /// Rolled last: residual stress is there, and fades as the mean load nears yield.
    AfterHeatTreatment,
}

/// Endurance of a bolt's thread by its diameter, VDI 2230 part 1 (from memory): amplitude on the core area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltEndurance {
    /// Nominal diameter \[m\], 4 to 40 mm.
    pub diameter_m: f64,
    /// When the thread was rolled.
    pub rolling: Rolling,
}

/// Cycles at the endurance limit.
const KNEE_CYCLES: f64 = 2.0e6;
/// Mean load over yield load within which the form is given.
const MEAN_LOADS: (f64, f64) = (0.3, 1.0);

impl BoltEndurance {
    /// Endurance limit as an amplitude \[Pa\] at a mean load over yield load: 0.85 (150/d + 45) N/mm², d in mm, and times
    /// 2 − F/F₀.₂ when rolled last. The ratio is held within 0.3 to 1, where the form is given.
    pub fn limit_pa(&self, mean_over_yield: f64) -> f64 {
        let before_pa = 0.85e6 * (0.15 / self.diameter_m + 45.0);
        match self.rolling {
            Rolling::BeforeHeatTreatment => before_pa,
            Rolling::AfterHeatTreatment => {
                before_pa * (2.0 - mean_over_yield.clamp(MEAN_LOADS.0, MEAN_LOADS.1))
            }
        }
    }

    /// Exponent of finite life above the limit: 3, or 6 when rolled last.
    pub fn exponent(&self) -> i32 {
        match self.rolling {
            Rolling::BeforeHeatTreatment => 3,
            Rolling::AfterHeatTreatment => 6,
        }
    }

    /// Cycles that an amplitude \[Pa\] above the limit is borne: 2e6 (limit/amplitude)^exponent; infinite at or below it. Given for 1e4
    /// cycles and more; fewer are an extrapolation.
    pub fn cycles(&self, amplitude_pa: f64, mean_over_yield: f64) -> f64 {
        let used = amplitude_pa / self.limit_pa(mean_over_yield);
        if used <= 1.0 {
            f64::INFINITY
        } else {
            KNEE_CYCLES * used.powi(-self.exponent())
        }
    }

    /// Damage of a cycle (Miner): 0 below the limit while the bolt is undamaged; once it is damaged, on the slope 2 × exponent − 1
    /// (Haibach).
    pub fn damage(&self, amplitude_pa: f64, mean_over_yield: f64, damaged: bool) -> f64 {
        let used = amplitude_pa / self.limit_pa(mean_over_yield);
        if used > 1.0 {
            used.powi(self.exponent()) / KNEE_CYCLES
        } else if damaged {
            used.max(0.0).powi(2 * self.exponent() - 1) / KNEE_CYCLES
        } else {
            0.0
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LAST: BoltEndurance = BoltEndurance {
        diameter_m: 10e-3,
        rolling: Rolling::AfterHeatTreatment,
    };

    /// The line meets the limit at 2e6 cycles, and so does the slope of a damaged bolt below.
    #[test]
    fn damage_is_even_across_the_limit() {
        let limit = LAST.limit_pa(0.6);
        let knee = 1.0 / KNEE_CYCLES;
        for amplitude in [limit * (1.0 - 1e-9), limit * (1.0 + 1e-9)] {
            assert!((LAST.damage(amplitude, 0.6, true) / knee - 1.0).abs() < 1e-6);
        }
        assert!(LAST.damage(0.99 * limit, 0.6, false) <= 0.0);
        assert!(LAST.cycles(0.99 * limit, 0.6).is_infinite());
    }

    /// A higher mean load never strengthens a thread rolled last, and does nothing to one that was heat treated after.
    #[test]
    fn mean_load_takes_what_rolling_gave() {
        assert!(LAST.limit_pa(0.9) < LAST.limit_pa(0.5));
        assert!((LAST.limit_pa(0.1) - LAST.limit_pa(0.3)).abs() < 1e-6);
        let before = BoltEndurance {
            rolling: Rolling::BeforeHeatTreatment,
            ..LAST
        };
        assert!((before.limit_pa(0.9) - before.limit_pa(0.4)).abs() < 1e-9);
        assert!((LAST.limit_pa(1.0) - before.limit_pa(1.0)).abs() < 1e-9);
    }
}
