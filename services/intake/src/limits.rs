//! Limits of what is taken and of what counts as a shock.

use crate::finding::{Refusal, error, settle};
use serde::{Deserialize, Serialize};

/// How flawed a log may be.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct IntakeLimits {
    /// Larger steps between rows are gaps.
    pub gap_s: f64,
    /// How long a channel's last good value stands in for blank or bad cells.
    pub hold_s: f64,
    /// A larger share of bad samples, or of rows in which a required channel is unknown, refuses the log.
    pub bad_share: f64,
    /// Most operating-point cells; beyond, cells double in width, the finest-cut channel first.
    pub cells: usize,
    /// Most shocks of one kind; a log with more is refused.
    pub shocks: usize,
}

impl Default for IntakeLimits {
    fn default() -> Self {
        Self {
            gap_s: 1.0,
            hold_s: 0.5,
            bad_share: 0.1,
            cells: 4096,
            shocks: 20_000,
        }
    }
}

/// Limits beyond which samples belong to a shock, SI. Defaults are common practice without a source
/// or assumed, as said beside each; the unit's own limits come first.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct ShockThresholds {
    /// Over-rev above this speed; without it none is looked for.
    pub over_rev_engine_speed_rad_s: Option<f64>,
    /// Oil-pressure dip below this gauge pressure (2 bar, common practice) ...
    pub oil_pressure_dip_pa: f64,
    /// ... while the engine turns faster than this (5000 rpm, common practice).
    pub oil_pressure_dip_above_engine_speed_rad_s: f64,
    /// Oil overheat above this (130 degC, common practice).
    pub oil_overheat_temp_k: f64,
    /// Knock burst above this level (1 = alarm, by definition of the channel).
    pub knock_level: f64,
    /// Impact above this vertical acceleration, up or down (5 g, assumed).
    pub impact_acceleration_m_s2: f64,
    /// The engine runs above this speed (400 rpm, assumed).
    pub running_engine_speed_rad_s: f64,
    /// Clutch engagements with less energy are noise (500 J, assumed).
    pub clutch_energy_j: f64,
    /// A vehicle slower than this is at rest (1.5 m/s, assumed).
    pub rest_speed_m_s: f64,
}

impl Default for ShockThresholds {
    fn default() -> Self {
        Self {
            over_rev_engine_speed_rad_s: None,
            oil_pressure_dip_pa: 2.0e5,
            oil_pressure_dip_above_engine_speed_rad_s: 523.6,
            oil_overheat_temp_k: 403.15,
            knock_level: 1.0,
            impact_acceleration_m_s2: 49.0,
            running_engine_speed_rad_s: 41.9,
            clutch_energy_j: 500.0,
            rest_speed_m_s: 1.5,
        }
    }
}

/// How to read and reduce logs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Settings {
    /// How flawed a log may be.
    pub limits: IntakeLimits,
    /// What counts as a shock.
    pub thresholds: ShockThresholds,
}

impl Settings {
    /// Refuses limits that make no sense.
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        let (limits, shocks) = (&self.limits, &self.thresholds);
        let positive = [
            ("limits.gap_s", limits.gap_s),
            ("limits.hold_s", limits.hold_s),
            (
                "thresholds.over_rev_engine_speed_rad_s",
                shocks.over_rev_engine_speed_rad_s.unwrap_or(1.0),
            ),
            ("thresholds.oil_pressure_dip_pa", shocks.oil_pressure_dip_pa),
            (
                "thresholds.oil_pressure_dip_above_engine_speed_rad_s",
                shocks.oil_pressure_dip_above_engine_speed_rad_s,
            ),
            ("thresholds.oil_overheat_temp_k", shocks.oil_overheat_temp_k),
            ("thresholds.knock_level", shocks.knock_level),
            (
                "thresholds.impact_acceleration_m_s2",
                shocks.impact_acceleration_m_s2,
            ),
            (
                "thresholds.running_engine_speed_rad_s",
                shocks.running_engine_speed_rad_s,
            ),
            ("thresholds.clutch_energy_j", shocks.clutch_energy_j),
            ("thresholds.rest_speed_m_s", shocks.rest_speed_m_s),
        ];
        let mut findings = Vec::new();
        for (field, value) in positive {
            if !(value.is_finite() && value > 0.0) {
                findings.push(error(
                    field,
                    value,
                    "a finite number above 0",
                    "correct the setting",
                ));
            }
        }
        if !(0.0..=1.0).contains(&limits.bad_share) {
            findings.push(error(
                "limits.bad_share",
                limits.bad_share,
                "0 to 1",
                "correct the setting",
            ));
        }
        if limits.cells < 64 {
            findings.push(error(
                "limits.cells",
                limits.cells,
                "at least 64",
                "raise the limit",
            ));
        }
        settle(findings)
    }
}
